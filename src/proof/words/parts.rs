//! The chapters of a booklet: each once and in order, with what it must say below its head. Millimetres;
//! type in points.

use super::Page;
use crate::proof::Proof;
use crate::proof::intended_words::{
    IntendedBook, IntendedCover, IntendedFigure, IntendedPart, IntendedTable,
};
use crate::proof::letter::{Run, streamed};

/// Heads of chapters are set at least this large, points; running text is smaller.
const HEAD_FROM: f64 = 14.0;

/// Lines of one head, and all that is set as large as the title, differ in size by no more than this.
const SAME_SIZE: f64 = 0.03;

const PART_REMEDY: &str =
    "Set each chapter once, in the order of the house’s booklet.typ, in your own template too.";

const WORDS_REMEDY: &str = "Print what is handed over as it comes, in your own template too.";

/// A head as printed.
struct Head {
    /// Index of its chapter among those intended.
    part: usize,
    /// Index of its page.
    page: usize,
    /// Its first letter on the page, and the one after its last.
    letters: (usize, usize),
    points: f64,
}

impl Proof {
    /// Looks at the chapters on the pages of text. What their figures must show; `None` if a chapter is
    /// lost, twice there or out of its order.
    pub(super) fn check_parts(
        &mut self,
        text: &[&Page<'_>],
        (book, all_plates): (&IntendedBook, bool),
    ) -> Option<Vec<IntendedFigure>> {
        let heads = heads(text, &book.parts);
        if !self.check_order(text, &heads, &book.parts) {
            return None;
        }
        let mut sound = true;
        let mut figures = Vec::new();
        for (number, head) in heads.iter().enumerate() {
            let part = &book.parts[head.part];
            let body = Body::between(text, head, heads.get(number + 1));
            let more = Some(&book.to_print).filter(|more| all_plates && more.title == part.title);
            let all = || std::iter::once(part).chain(more);
            let mut words = all().flat_map(|part| &part.words);
            if let Some(words) = words.find(|words| !body.says(words)) {
                sound = false;
                let message = format!("the chapter “{}” does not say “{words}”", part.title);
                let page = Some(text[head.page].number);
                self.note("words-missing", page, false, message, WORDS_REMEDY);
            }
            if let Some(row) = all().find_map(|part| wrong_row(part, &body)) {
                sound = false;
                let message = format!(
                    "a table of the chapter “{}” has not the row “{row}”",
                    part.title
                );
                let page = Some(text[head.page].number);
                self.note("words-missing", page, false, message, WORDS_REMEDY);
            }
            figures.extend(part.figures.iter().map(|alt| shows(alt)));
        }
        // without a cover, which is told by who reads the text, a chapter begins on the first page
        let has_cover = heads.first().is_some_and(|head| head.page > 0);
        let cover = text
            .first()
            .filter(|page| page.number == 1 && has_cover)
            .zip(book.cover.as_ref());
        if let Some((page, cover)) = cover {
            sound &= self.check_cover(page, cover);
            figures.extend(cover.picture.iter().map(|alt| shows(alt)));
        }
        if sound && !book.parts.is_empty() {
            let count = book.parts.len();
            let message = format!("{count} chapters stand in their order, with what they must say");
            for code in ["chapter-missing", "words-missing"] {
                self.note(code, None, true, message.clone(), "");
            }
        }
        Some(figures)
    }

    fn check_order(&mut self, text: &[&Page<'_>], heads: &[Head], parts: &[IntendedPart]) -> bool {
        let title = |index: usize| &parts[index].title;
        let count = |index: usize| heads.iter().filter(|head| head.part == index).count();
        let demanded = (0..parts.len()).filter(|index| parts[*index].demanded);
        let missing = demanded.into_iter().find(|index| count(*index) == 0);
        let twice = heads.iter().find(|head| count(head.part) > 1);
        let turned = heads.windows(2).find(|pair| pair[0].part > pair[1].part);
        let page = |head: &Head| Some(text[head.page].number);
        let (page, message) = match (missing, twice, turned) {
            (Some(index), ..) => (
                None,
                format!("the chapter “{}” is not in the booklet", title(index)),
            ),
            (_, Some(head), _) => {
                let message = format!(
                    "the chapter “{}” stands in the booklet twice",
                    title(head.part)
                );
                (page(head), message)
            }
            (.., Some([first, second])) => {
                let (before, after) = (title(first.part), title(second.part));
                let message =
                    format!("the chapter “{after}” comes after “{before}”, not before it");
                (page(second), message)
            }
            _ => return true,
        };
        self.note("chapter-missing", page, false, message, PART_REMEDY);
        false
    }

    fn check_cover(&mut self, page: &Page<'_>, cover: &IntendedCover) -> bool {
        let stream = streamed(&page.text());
        let title = streamed(&cover.title);
        // a first page without its title is no cover, which is told by who reads the text
        if !stream.contains(&title) {
            return true;
        }
        let largest = page.runs.iter().map(|run| run.points).fold(0.0, f64::max);
        let large = page
            .runs
            .iter()
            .filter(|run| run.points >= largest * (1.0 - SAME_SIZE));
        let printed: Vec<&str> = large.map(|run| run.text.as_str()).collect();
        let missing = cover
            .words
            .iter()
            .find(|words| !stream.contains(&streamed(words)));
        let message = match missing {
            _ if streamed(&printed.concat()) != title => {
                format!(
                    "the cover is titled “{}”, not “{}”",
                    printed.join(" "),
                    cover.title
                )
            }
            Some(words) => format!("the cover does not say “{words}”"),
            None => return true,
        };
        self.note(
            "words-missing",
            Some(page.number),
            false,
            message,
            WORDS_REMEDY,
        );
        false
    }
}

/// A row that the tables of a chapter have not, in any way in which they may be set.
fn wrong_row(part: &IntendedPart, body: &Body) -> Option<String> {
    let missing = |ways: &Vec<IntendedTable>| {
        let rows = ways
            .iter()
            .map(|table| table.missing(|words| body.says(words)));
        let rows: Option<Vec<String>> = rows.collect();
        rows.and_then(|rows| rows.into_iter().next())
    };
    part.tables.iter().find_map(missing)
}

fn shows(alt: &str) -> IntendedFigure {
    IntendedFigure {
        alt: alt.to_string(),
        ..IntendedFigure::default()
    }
}

/// The heads of all chapters, in the order of reading. Of all that reads like a head the largest is it.
fn heads(text: &[&Page<'_>], parts: &[IntendedPart]) -> Vec<Head> {
    let mut all: Vec<Head> = Vec::new();
    let titles: Vec<String> = parts.iter().map(|part| streamed(&part.title)).collect();
    for (part, title) in titles.iter().enumerate() {
        // chapters of one title are told apart by their order
        let before = titles[..part]
            .iter()
            .filter(|other| *other == title)
            .count();
        let found = text.iter().enumerate().flat_map(|(page, on)| {
            heads_on(on, title).map(move |(letters, points)| Head {
                part,
                page,
                letters,
                points,
            })
        });
        let found: Vec<Head> = found.collect();
        let largest = found.iter().map(|head| head.points).fold(0.0, f64::max);
        let found = found
            .into_iter()
            .filter(|head| head.points >= largest * (1.0 - SAME_SIZE));
        match titles.iter().filter(|other| *other == title).count() {
            1 => all.extend(found),
            _ => all.extend(found.skip(before).take(1)),
        }
    }
    all.sort_by_key(|head| (head.page, head.letters));
    all
}

/// Where a page has `title` in large letters, and how large they are. Lines of the contents are links.
fn heads_on<'p>(
    page: &'p Page<'_>,
    title: &'p str,
) -> impl Iterator<Item = ((usize, usize), f64)> + 'p {
    let is_large = |run: &&Run| run.points >= HEAD_FROM;
    let is_link = |run: &Run| {
        let mut links = page.sheet.links.iter();
        links.any(|link| link.bounds.contains(run.bounds.center()))
    };
    let large: Vec<&Run> = page
        .runs
        .iter()
        .filter(is_large)
        .filter(|run| !is_link(run))
        .collect();
    (0..large.len()).filter_map(move |first| {
        let points = large[first].points;
        let mut read = String::new();
        for run in &large[first..] {
            read.push_str(&streamed(&run.text));
            if read == *title && !title.is_empty() {
                return Some(((large[first].first, run.end), points));
            }
            if !title.starts_with(&read) {
                return None;
            }
        }
        None
    })
}

/// What stands below a head, page by page.
struct Body {
    pages: Vec<String>,
}

impl Body {
    fn between(text: &[&Page<'_>], head: &Head, next: Option<&Head>) -> Self {
        let last = next.map_or(text.len().saturating_sub(1), |next| next.page);
        let of_page = |index: usize| {
            let letters = &text[index].sheet.letters;
            let from = if index == head.page {
                head.letters.1
            } else {
                0
            };
            let to = next
                .filter(|next| next.page == index)
                .map_or(letters.len(), |next| next.letters.0);
            let letters = letters.get(from..to.max(from)).unwrap_or_default();
            streamed(
                &letters
                    .iter()
                    .map(|letter| &*letter.text)
                    .collect::<String>(),
            )
        };
        Self {
            pages: (head.page..=last).map(of_page).collect(),
        }
    }

    /// Whether the words stand there, also where a page ends within them.
    fn says(&self, words: &str) -> bool {
        let words = streamed(words);
        let ends: Vec<usize> = words.char_indices().skip(1).map(|(at, _)| at).collect();
        self.pages.iter().any(|page| page.contains(&words))
            || self.pages.windows(2).any(|pair| {
                let mut ends = ends.iter().map(|at| words.split_at(*at));
                ends.any(|(before, after)| pair[1].starts_with(after) && pair[0].contains(before))
            })
    }
}
