//! The text before the plates: numbers of pages, steps and figures. Millimetres; type in points.

use super::Page;
use crate::proof::Proof;
use crate::proof::figure::PrintedFigure;
use crate::proof::intended_words::{IntendedBook, IntendedFigure, IntendedStep};
use crate::proof::letter::{Run, streamed};
use kurbo::Rect;
use std::collections::BTreeSet;

/// Numbers of pages stand in the lowest line of type; so much higher, mm, is another line.
const LOWEST_LINE: f64 = 1.5;

/// The numbers of steps are the largest numbers of the text; they differ in size by no more than this.
const SAME_SIZE: f64 = 0.02;

/// A step's number and its head begin within this of each other, mm.
const HEAD_BESIDE: f64 = 9.0;

/// A figure of which less than this can be seen in either direction, mm, is not there.
const FIGURE_FROM: f64 = 3.0;

/// The same of pieces that are shown together, mm: some are small beside the others.
const PIECE_FROM: f64 = 0.5;

/// Drawings have a little white round them, so that the shape of their ink is off by up to this share.
const SHAPE_WITHIN: f64 = 0.25;

/// Words smaller than this, points, cannot be read: the smallest type of the trade, for the small print
/// of notices, is the diamond of 4.5 points (value from memory).
const TYPE_FROM: f64 = 4.5;

const FOLIO_REMEDY: &str =
    "Print the number that contents and print window use: pages are counted from the first.";

const STEP_REMEDY: &str = "Print each step with its own number, in your own template too.";

const FIGURE_REMEDY: &str = "Set the figures that a chapter hands over, in your own template too.";

impl Proof {
    /// Whether each page of text carries its own number. The first and the last may have none: covers.
    pub(super) fn check_folios(&mut self, text: &[&Page<'_>], count: usize) {
        let mut sound = true;
        for page in text {
            let cover = page.number == 1 || page.number == count;
            let Some(printed) = folio(page).filter(|_| !cover) else {
                continue;
            };
            let message = match printed {
                Some(number) if number == page.number => continue,
                Some(number) => format!("page {} is numbered {number}", page.number),
                None => format!("page {} has no number at its foot", page.number),
            };
            sound = false;
            self.note(
                "page-number",
                Some(page.number),
                false,
                message,
                FOLIO_REMEDY,
            );
        }
        if sound && !text.is_empty() {
            let message = "every page of text has its own number".to_string();
            self.note("page-number", None, true, message, "");
        }
    }

    /// Whether the steps are numbered in order, each before its own head and words.
    pub(super) fn check_steps(&mut self, text: &[&Page<'_>], book: &IntendedBook) {
        if book.steps.is_empty() {
            return;
        }
        let numerals = numerals(text, book);
        let found: Vec<usize> = numerals.iter().map(|n| n.value).collect();
        let wanted: Vec<usize> = (1..=book.steps.len()).collect();
        if found != wanted {
            let first = wanted.iter().enumerate();
            let off = first.clone().find(|(i, n)| found.get(*i) != Some(n));
            let number = off.map_or(wanted.len() + 1, |(_, number)| *number);
            let page = numerals.get(number - 1).or(numerals.last());
            let message = match found.get(number - 1) {
                Some(other) => {
                    format!("where step {number} should be numbered, {other} is printed")
                }
                None => format!("step {number} has no number"),
            };
            let page = page.map(|n| n.page.number);
            self.note("step-numbers", page, false, message, STEP_REMEDY);
            return;
        }
        let mut sound = true;
        for (numeral, step) in numerals.iter().zip(&book.steps) {
            sound &= self.check_step(numeral, step);
        }
        if sound {
            let message = format!("{} steps are numbered in order", wanted.len());
            self.note("step-numbers", None, true, message, "");
        }
    }

    fn check_step(&mut self, numeral: &Numeral<'_>, step: &IntendedStep) -> bool {
        let (number, page) = (numeral.value, numeral.page);
        if let Some(title) = &step.title
            && !is_headed(page, numeral.run, title)
        {
            let message = format!("step {number} is not headed “{title}”");
            let on = Some(page.number);
            self.note("step-numbers", on, false, message, STEP_REMEDY);
            self.mark(numeral.run.bounds);
            return false;
        }
        let stream = streamed(&page.text());
        let missing = |phrase: &&String| !stream.contains(&streamed(phrase));
        if let Some(phrase) = step.phrases.iter().find(missing) {
            let message = format!("words of step {number} are missing: “{phrase}”");
            let remedy = "Set all words of a step on its page, in your own template too.";
            self.note("text-cut", Some(page.number), false, message, remedy);
            self.mark(numeral.run.bounds);
        }
        true
    }

    /// Whether the letters of the text can be read at all; those in figures are the drawings' own.
    pub(super) fn check_text_type(&mut self, text: &[&Page<'_>], figures: &[PrintedFigure]) {
        let drawn: BTreeSet<(usize, i32)> = figures
            .iter()
            .flat_map(|figure| figure.content.iter().copied())
            .collect();
        for page in text {
            let letters = &page.sheet.letters;
            let is_drawn = |run: &Run| {
                let content = letters.get(run.first).and_then(|letter| letter.content);
                content.is_some_and(|content| drawn.contains(&(page.number, content)))
            };
            let words = page
                .runs
                .iter()
                .filter(|run| !streamed(&run.text).is_empty());
            let words = words.filter(|run| !is_drawn(run));
            let Some(run) = words.min_by(|a, b| a.points.total_cmp(&b.points)) else {
                continue;
            };
            if run.points < TYPE_FROM {
                let message = format!(
                    "“{}” has {:.1} points; no one reads less than {TYPE_FROM}",
                    run.text, run.points
                );
                let remedy = "Set all words so large that they can be read.";
                self.note("type-size", Some(page.number), false, message, remedy);
                self.mark(run.bounds);
            }
        }
    }

    /// Whether every figure of the text is there, with its caption, and what else is `shown`.
    pub(super) fn check_figures(
        &mut self,
        pages: &[Page<'_>],
        printed: &[PrintedFigure],
        (book, shown): (&IntendedBook, &[IntendedFigure]),
    ) {
        let mut free: Vec<(usize, &PrintedFigure)> = printed.iter().enumerate().collect();
        let mut sound = true;
        let (mut last, of_text) = (0, book.figures.len());
        for (number, figure) in book.figures.iter().chain(shown).enumerate() {
            let alt = plain(&figure.alt);
            let same = || {
                let all = free.iter().enumerate();
                all.filter(|(_, (_, one))| plain(&one.alt) == alt)
            };
            // of figures that show the same the next one is meant
            let next = same().find(|(_, (at, _))| *at >= last);
            let found = next.or_else(|| same().next()).map(|(index, _)| index);
            let in_text = number < of_text;
            let least = if in_text { FIGURE_FROM } else { PIECE_FROM };
            let message = match found.map(|index| free.remove(index)) {
                None => Some("is not in the booklet".to_string()),
                Some((at, _)) if in_text && at < last => {
                    Some("stands before that of an earlier step".to_string())
                }
                Some((at, printed)) => {
                    last = if in_text { at } else { last };
                    wrong_figure(pages, printed, figure, least)
                }
            };
            if let Some(message) = message {
                sound = false;
                let message = format!("the figure “{}” {message}", figure.alt);
                self.note("figure-missing", None, false, message, FIGURE_REMEDY);
            }
        }
        if sound && !book.figures.is_empty() {
            let message = format!("all {} figures of the text are there", book.figures.len());
            self.note("figure-missing", None, true, message, "");
        }
    }
}

/// The number in the lowest line of a page: `Some(None)` if it has none, `None` if it has no words.
fn folio(page: &Page<'_>) -> Option<Option<usize>> {
    let upright = || page.runs.iter().filter(|run| run.upright);
    let lowest = upright().map(|run| run.start.y).reduce(f64::max)?;
    let foot = upright().filter(|run| run.start.y >= lowest - LOWEST_LINE);
    let numbers: Vec<usize> = foot.filter_map(Run::number).collect();
    let own = numbers.iter().find(|number| **number == page.number);
    Some(own.or(numbers.first()).copied())
}

/// A step's number as printed.
struct Numeral<'a> {
    value: usize,
    run: &'a Run,
    page: &'a Page<'a>,
}

/// The numbers of the steps, in the order of reading: the largest numbers that stand by themselves.
fn numerals<'a>(text: &[&'a Page<'a>], book: &IntendedBook) -> Vec<Numeral<'a>> {
    let heads: Vec<String> = book.chapters.iter().map(|title| streamed(title)).collect();
    let mut all: Vec<Numeral<'a>> = Vec::new();
    // the first page is the cover
    for page in text.iter().filter(|page| page.number > 1) {
        let numbers = page.runs.iter().filter(|run| run.upright);
        let numbers = numbers.filter(|run| !heads.contains(&streamed(&run.text)));
        let numbers = numbers.filter_map(|run| {
            let value = run.number()?;
            Some(Numeral { value, run, page })
        });
        let mut numbers: Vec<Numeral<'a>> = numbers.collect();
        numbers.sort_by(|a, b| a.run.start.y.total_cmp(&b.run.start.y));
        all.extend(numbers);
    }
    let largest = all.iter().map(|n| n.run.points).fold(0.0, f64::max);
    all.retain(|n| n.run.points >= largest * (1.0 - SAME_SIZE));
    all
}

/// Whether the head beside or below a number begins with the words of `title`, or all of it.
fn is_headed(page: &Page<'_>, numeral: &Run, title: &str) -> bool {
    let title = streamed(title);
    let beside = |run: &&Run| {
        run.bounds.x0 > numeral.bounds.x0
            && (run.bounds.y0 - numeral.bounds.y0).abs() <= HEAD_BESIDE
            && run.first != numeral.first
    };
    let mut runs = page.runs.iter().filter(beside);
    title.is_empty()
        || runs.any(|run| {
            let words = streamed(&run.text);
            !words.is_empty() && title.starts_with(&words)
        })
}

/// What is wrong with a figure that the tags tell.
fn wrong_figure(
    pages: &[Page<'_>],
    printed: &PrintedFigure,
    figure: &IntendedFigure,
    least: f64,
) -> Option<String> {
    let Some((number, _)) = printed.content.first().copied() else {
        return Some("shows nothing".to_string());
    };
    let page = pages.get(number.checked_sub(1)?)?;
    let extents = printed.content.iter().filter(|(on, _)| *on == number);
    let extents = extents.filter_map(|(_, content)| page.sheet.extents.get(content).copied());
    let shown = extents
        .reduce(|all, one| all.union(one))
        .unwrap_or(Rect::ZERO);
    if shown.width() < least || shown.height() < least {
        return Some(format!("cannot be seen on page {number}"));
    }
    let is_shaped = |[width, height]: [f64; 2]| {
        let off = shown.width() * height / (shown.height() * width);
        off.max(1.0 / off) <= 1.0 + SHAPE_WITHIN
    };
    if !figure.shape.is_none_or(is_shaped) {
        return Some(format!("is another drawing on page {number}"));
    }
    let stream = streamed(&page.text());
    let missing = |phrase: &&String| !stream.contains(&streamed(phrase));
    let phrase = figure.phrases.iter().find(missing)?;
    Some(format!("has no caption on page {number}: “{phrase}”"))
}

/// Words with single spaces.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
