//! Whether the contents list the chapters and send the reader to their pages. A line of the contents is
//! found by its link: the number at its left is what is printed, the target of the link where it leads.

use super::Page;
use crate::proof::Proof;
use crate::proof::intended_words::IntendedBook;
use crate::proof::letter::{Run, streamed};
use std::collections::BTreeSet;

/// Heads of chapters are set at least this large, points; running text is smaller.
const HEAD_FROM: f64 = 14.0;

/// Contents run over so many pages at most.
const MOST_PAGES: usize = 4;

/// A number and its words may stand off each other's baseline by this, mm.
const ON_LINE: f64 = 1.0;

const REMEDY: &str = "Make the contents from the pages of the chapters, in your own template too.";

/// A line of the contents.
struct Entry {
    page: usize,
    title: String,
    number: usize,
    target: usize,
}

impl Proof {
    /// Looks at the contents of a booklet; lines that lead behind the page `judged` are let pass.
    pub(super) fn check_contents(
        &mut self,
        (pages, judged): (&[Page<'_>], usize),
        plates: &BTreeSet<usize>,
        book: &IntendedBook,
    ) {
        let entries = entries(pages, &book.contents);
        let mut sound = true;
        for entry in entries.iter().filter(|entry| entry.target <= judged) {
            let Some(message) = fault(entry, pages, plates) else {
                continue;
            };
            sound = false;
            self.note("contents-page", Some(entry.page), false, message, REMEDY);
        }
        let listed = |title: &String| {
            let title = streamed(title);
            // a long title goes on in a line with a link of its own
            let begins = |e: &Entry| !e.title.is_empty() && title.starts_with(&e.title);
            title.is_empty() || entries.iter().any(begins)
        };
        if let Some(title) = book.chapters.iter().find(|title| !listed(title)) {
            sound = false;
            let message = format!("the contents do not list “{title}”");
            self.note("contents-page", None, false, message, REMEDY);
        }
        if sound {
            let message = format!("{} lines of the contents lead right", entries.len());
            self.note("contents-page", None, true, message, "");
        }
    }
}

/// What is wrong with a line of the contents.
fn fault(entry: &Entry, pages: &[Page<'_>], plates: &BTreeSet<usize>) -> Option<String> {
    let Entry { number, target, .. } = *entry;
    if number != target {
        return Some(format!(
            "the contents say page {number} where the link leads to page {target}"
        ));
    }
    if plates.contains(&target) {
        let is_first = plates.first() == Some(&target);
        let message =
            format!("the contents lead to page {target} for the plates, which begin elsewhere");
        return (!is_first).then_some(message);
    }
    let page = pages.get(target.checked_sub(1)?)?;
    let heads = page.runs.iter().filter(|run| run.points >= HEAD_FROM);
    let heads: String = heads.map(|run| streamed(&run.text)).collect();
    (!heads.contains(&entry.title))
        .then(|| format!("the contents send the reader to page {target}, which is not headed so"))
}

/// The lines of the contents, from the page that is headed so.
fn entries(pages: &[Page<'_>], head: &str) -> Vec<Entry> {
    let head = streamed(head);
    let is_head = |run: &Run| run.points >= HEAD_FROM && streamed(&run.text) == head;
    let first = pages.iter().position(|page| page.runs.iter().any(is_head));
    let Some(first) = first else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for page in pages[first..].iter().take(MOST_PAGES) {
        let found: Vec<Entry> = page_entries(page);
        if found.is_empty() {
            break;
        }
        all.extend(found);
    }
    all
}

fn page_entries(page: &Page<'_>) -> Vec<Entry> {
    let links = page.sheet.links.iter();
    links
        .filter_map(|link| {
            let on_line = |run: &&Run| {
                let y = run.start.y;
                y >= link.bounds.y0 - ON_LINE && y <= link.bounds.y1 + ON_LINE
            };
            let before = |run: &&Run| run.bounds.x1 <= link.bounds.x0 + ON_LINE;
            let runs = page.runs.iter().filter(on_line).filter(before);
            let last = runs.max_by(|a, b| a.bounds.x1.total_cmp(&b.bounds.x1))?;
            let inside = page.sheet.letters.iter();
            let inside = inside.filter(|l| link.bounds.contains(l.bounds.center()));
            Some(Entry {
                page: page.number,
                title: streamed(&inside.map(|l| &*l.text).collect::<String>()),
                number: last.number()?,
                target: link.page,
            })
        })
        .collect()
}
