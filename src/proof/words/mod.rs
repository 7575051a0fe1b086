//! What is to be read on the pages of a finished PDF: its letters and figures, and whether they can be
//! read, stand where they should, and say what was meant. Millimetres; type in points.
//!
//! The letters come from the same reading of the pages as their lines; nothing is read twice.

mod book;
mod contents;
mod legible;
mod over;
mod parts;
mod placed;
mod plate;
mod table;

pub use placed::{FoundLine, found_lines};

use super::Proof;
use super::intended_words::IntendedWords;
use super::letter::{Run, runs};
use super::reading::Reading;
use super::sheet::Sheet;
use std::collections::BTreeSet;

/// A page with its words.
struct Page<'a> {
    /// From 1.
    number: usize,
    sheet: &'a Sheet,
    runs: Vec<Run>,
}

impl Page<'_> {
    /// All its words, in the order of painting.
    fn text(&self) -> String {
        self.sheet.letters.iter().map(|l| &*l.text).collect()
    }

    /// The run that a letter belongs to.
    fn run_at(&self, letter: usize) -> Option<&Run> {
        let after = self.runs.partition_point(|run| run.first <= letter);
        let run = self.runs.get(after.checked_sub(1)?)?;
        (letter < run.end).then_some(run)
    }

    /// What that run reads.
    fn words_at(&self, letter: usize) -> String {
        let run = self.run_at(letter);
        run.map_or_else(String::new, |run| run.text.clone())
    }
}

impl Proof {
    /// Looks at the words on all pages; `plates` are the numbers of the true-scale ones, `found` the lines
    /// of pieces on them.
    pub(super) fn check_words(
        &mut self,
        reading: &Reading,
        (plates, found): (&[usize], &[FoundLine<'_>]),
        intended: &IntendedWords,
    ) {
        let sheets = reading.sheets.iter().enumerate();
        let pages: Vec<Page<'_>> = sheets
            .map(|(index, sheet)| Page {
                number: index + 1,
                sheet,
                runs: runs(&sheet.letters),
            })
            .collect();
        // a page of text may show the squares at true scale, too
        let count = intended.plates.len();
        let plates: BTreeSet<usize> = match pages.len().checked_sub(count) {
            Some(first) if count > 0 => (first + 1..=pages.len()).collect(),
            _ => plates.iter().copied().collect(),
        };
        self.check_legible(&pages, &plates, found);
        for page in pages.iter().filter(|page| plates.contains(&page.number)) {
            self.check_plate_type(page);
        }
        // without all plates no one can say which is which
        let all_plates = !self.has_lost_pieces();
        if all_plates {
            self.check_plate_words(&pages, intended, found);
        }
        let text: Vec<&Page<'_>> = pages
            .iter()
            .filter(|page| !plates.contains(&page.number))
            .collect();
        if intended.book.is_some() || !intended.plates.is_empty() {
            self.check_folios(&text, pages.len());
            self.check_text_type(&text, &reading.figures);
        }
        if let Some(book) = &intended.book {
            let judged = if all_plates {
                pages.len()
            } else {
                pages.len().saturating_sub(count)
            };
            // what else a lost chapter takes along need not be told
            let Some(shown) = self.check_parts(&text, (book, all_plates)) else {
                return;
            };
            self.check_contents((&pages, judged), &plates, book);
            self.check_steps(&text, book);
            self.check_figures(&pages, &reading.figures, (book, &shown));
        }
    }
}
