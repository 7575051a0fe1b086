//! Whether words and marks of a plate stand where they belong beside their pieces. Millimetres.
//!
//! Where the pieces lie is taken from their outlines as they were found; nothing is known of the page.

use super::Page;
use crate::proof::intended_words::{IntendedMark, IntendedPlace, IntendedPlate, IntendedWordsAt};
use crate::proof::letter::{Letter, streamed};
use crate::proof::outline::{Drawn, Finding};
use crate::proof::paint::lightness;
use crate::proof::{Intended, IntendedLine, Proof};
use kurbo::{Point, Rect, Vec2};

/// A stroke may lie this far from its place, mm, on each side.
const MARK_WITHIN: f64 = 0.2;

/// What is lighter than this (of 1) is not tinted.
const WHITE_FROM: f32 = 0.97;

const REMEDY: &str = "Set words and marks where they come, in your own template too.";

/// A line of a piece as it was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundLine<'a> {
    /// Its page, from 1.
    pub page: usize,
    /// Key of the piece.
    pub piece: &'a str,
    /// Key of the size.
    pub size: &'a str,
    /// Which line.
    pub line: IntendedLine,
    /// Its box, also of what a clip hides.
    pub bounds: Rect,
}

/// Every line of a piece with the page it was found on.
pub fn found_lines<'i>(
    intended: &'i Intended,
    findings: &[Finding],
    drawn: &Drawn<'_>,
) -> Vec<FoundLine<'i>> {
    let pairs = intended.outlines.iter().zip(findings);
    let lines = pairs.flat_map(|(outline, finding)| {
        finding.drawings().iter().map(|drawing| FoundLine {
            page: drawing.sheet + 1,
            piece: &outline.piece,
            size: &outline.size,
            line: outline.line,
            bounds: drawn.sheets[drawing.sheet].lines[drawing.line].bounds,
        })
    });
    lines.collect()
}

impl Proof {
    /// Looks at the places on one plate. `found` are the lines of all pages.
    pub(super) fn check_places(
        &mut self,
        page: &Page<'_>,
        plate: &IntendedPlate,
        found: &[FoundLine<'_>],
    ) {
        let cuts: Vec<FoundLine<'_>> = found
            .iter()
            .filter(|f| f.page == page.number && f.line == IntendedLine::Cut)
            .copied()
            .collect();
        let by = moved(plate, &cuts);
        let by = |of: usize| by.get(of).copied().flatten();
        let lost_words = self.lost_words(page, plate, by);
        if let Some((words, at)) = lost_words {
            let message = format!(
                "“{}” of {} does not stand {:.1} mm across, {:.1} mm down, where it belongs",
                words.words, words.what, at.x, at.y
            );
            self.note("label-place", Some(page.number), false, message, REMEDY);
            self.mark(Rect::from_center_size(at, (10.0, 5.0)));
        }
        let lost_mark = lost_mark(page, plate, by);
        if let Some((mark, at, how)) = lost_mark {
            let message = format!(
                "{} {how} {:.1} mm across, {:.1} mm down",
                mark.what, at.x0, at.y0
            );
            self.note("label-place", Some(page.number), false, message, REMEDY);
            self.mark(at);
        }
        if lost_words.is_none() && lost_mark.is_none() {
            let message = "words and marks stand beside their pieces".to_string();
            self.note("label-place", Some(page.number), true, message, "");
        }
    }

    /// The first words that do not stand where they belong. Those of a label of which it is told that it
    /// runs into lines or other words are let pass, and words that are nowhere were told before.
    fn lost_words<'p>(
        &self,
        page: &Page<'_>,
        plate: &'p IntendedPlate,
        by: impl Fn(usize) -> Option<Vec2>,
    ) -> Option<(&'p IntendedWordsAt, Point)> {
        let is_told = |code: &str| matches!(code, "text-over-line" | "text-over-text" | "text-cut");
        let told = self.checks.iter().filter(|check| {
            !check.passed && check.page == Some(page.number) && is_told(check.code)
        });
        let told: Vec<String> = told.map(|check| streamed(&check.message)).collect();
        let stream = streamed(&page.text());
        let is_of_told = |words: &IntendedWordsAt| {
            let of_label =
                |other: &&IntendedWordsAt| (other.of, &other.what) == (words.of, &words.what);
            let mut label = plate.words_at.iter().filter(of_label);
            label.any(|line| {
                let line = streamed(&line.words);
                told.iter().any(|told| told.contains(&line))
            })
        };
        plate.words_at.iter().find_map(|words| {
            let at = words.at + by(words.of)?;
            let lost = stream.contains(&streamed(&words.words)) && !stands(page, words, at);
            (lost && !is_of_told(words)).then_some((words, at))
        })
    }
}

/// The first stroke that is not in its place, or tinted otherwise than it should be, and how it is wrong.
fn lost_mark<'p>(
    page: &Page<'_>,
    plate: &'p IntendedPlate,
    by: impl Fn(usize) -> Option<Vec2>,
) -> Option<(&'p IntendedMark, Rect, &'static str)> {
    let paint = &page.sheet.paint;
    let boxes = |stroked: bool| {
        let of_kind = paint.iter().filter(move |p| p.stroke.is_some() == stroked);
        of_kind.map(|paint| (paint.path.control_box(), paint.colour))
    };
    let strokes: Vec<Rect> = boxes(true).map(|(bounds, _)| bounds).collect();
    let is_tinted = |at: Rect| {
        let last = boxes(false).rfind(|(bounds, _)| is_near(*bounds, at));
        last.and_then(|(_, colour)| colour)
            .is_some_and(|colour| lightness(colour) < WHITE_FROM)
    };
    plate.marks.iter().find_map(|mark| {
        let at = mark.bounds + by(mark.of)?;
        let how = match mark.tinted {
            _ if !strokes.iter().any(|stroke| is_near(*stroke, at)) => "is missing",
            Some(true) if !is_tinted(at) => "is not tinted, and this sheet is it:",
            Some(false) if is_tinted(at) => "is tinted for another sheet:",
            _ => return None,
        };
        Some((mark, at, how))
    })
}

/// How the plate lies on the page, as each of its pieces tells. All of them lie in one way: of pieces with
/// equal boxes the one is meant that lies as most others do.
fn moved(plate: &IntendedPlate, cuts: &[FoundLine<'_>]) -> Vec<Option<Vec2>> {
    let ways: Vec<Vec<Vec2>> = plate.places.iter().map(|place| ways(place, cuts)).collect();
    let agree = |way: &Vec2| {
        let near = |all: &&Vec<Vec2>| all.iter().any(|other| is_same(*other, *way));
        ways.iter().filter(near).count()
    };
    let most = ways.iter().flatten().map(agree).max().unwrap_or(0);
    let mut best = ways.iter().flatten().filter(|way| agree(way) == most);
    let Some(common) = best.next().copied() else {
        return vec![None; ways.len()];
    };
    let is_clear = best.all(|other| is_same(*other, common));
    let own = |ways: &Vec<Vec2>| {
        let mut ways = ways.iter().copied();
        match ways.clone().count() {
            1 => ways.next(),
            _ if is_clear => Some(ways.find(|way| is_same(*way, common)).unwrap_or(common)),
            _ => None,
        }
    };
    ways.iter().map(own).collect()
}

/// All ways in which the plate may lie, as one of its pieces tells.
fn ways(place: &IntendedPlace, cuts: &[FoundLine<'_>]) -> Vec<Vec2> {
    let large = |bounds: &Rect| {
        let (wide, high) = (place.cut.width(), place.cut.height());
        (bounds.width() - wide).abs() <= MARK_WITHIN
            && (bounds.height() - high).abs() <= MARK_WITHIN
    };
    let by = |bounds: Rect| bounds.origin() - place.cut.origin();
    if place.sizes.len() == 1 {
        let mut all: Vec<Vec2> = Vec::new();
        for way in cuts.iter().map(|cut| cut.bounds).filter(large).map(by) {
            if !all.iter().any(|known| is_same(*known, way)) {
                all.push(way);
            }
        }
        return all;
    }
    let of_piece = |cut: &&FoundLine<'_>| {
        cut.piece == place.piece && place.sizes.iter().any(|size| size == cut.size)
    };
    let own = cuts.iter().filter(of_piece).map(|cut| cut.bounds);
    let whole = own.reduce(|all, one| all.union(one));
    whole.filter(large).map(by).into_iter().collect()
}

fn is_same(a: Vec2, b: Vec2) -> bool {
    (a - b).hypot() <= MARK_WITHIN
}

fn is_near(a: Rect, b: Rect) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= MARK_WITHIN;
    near(a.x0, b.x0) && near(a.y0, b.y0) && near(a.x1, b.x1) && near(a.y1, b.y1)
}

/// Whether the words stand at `at`.
fn stands(page: &Page<'_>, wanted: &IntendedWordsAt, at: Point) -> bool {
    let words = streamed(&wanted.words);
    let letters = &page.sheet.letters;
    let reach = |letter: &Letter| match wanted.centred {
        // half its own length away at most
        true => wanted.within + wanted.words.chars().count() as f64 * letter.em(),
        false => wanted.within,
    };
    let starts = letters.iter().enumerate().filter(|(_, letter)| {
        let text = streamed(&letter.text);
        !text.is_empty()
            && words.starts_with(&text)
            && letter.origin().distance(at) <= reach(letter)
    });
    words.is_empty()
        || starts.map(|(index, _)| &letters[index..]).any(|rest| {
            let Some(count) = spelled(rest, &words) else {
                return false;
            };
            let (first, last) = (&rest[0], &rest[count - 1]);
            let start = first.origin();
            let place = match first.along() {
                Some(along) if wanted.centred => start + along * (last.span(start, along).1 / 2.0),
                _ => start,
            };
            place.distance(at) <= wanted.within
        })
}

/// How many letters from the first on spell `words`.
fn spelled(letters: &[Letter], words: &str) -> Option<usize> {
    let mut rest = words;
    for (index, letter) in letters.iter().enumerate() {
        rest = rest.strip_prefix(streamed(&letter.text).as_str())?;
        if rest.is_empty() {
            return Some(index + 1);
        }
    }
    None
}
