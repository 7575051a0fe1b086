//! Whether labels and bookmarks guide a buyer to the right pages, and the boxes of the pages are sound.

use super::intended::{Intended, IntendedBookmark, IntendedOutline};
use super::outline::Finding;
use super::page_words;
use super::ring::Ring;
use super::viewing::{Bookmark, Viewing};
use super::{Check, Proof};

const BOXES_REMEDY: &str = "This is a fault of pressfoot; please report it with the design.";

const LABELS_REMEDY: &str = "Label the pages of plates with the numbers of the plates.";

const BOOKMARKS_REMEDY: &str = "Give every size and every piece a bookmark to its page.";

impl Proof {
    /// Checks bookmarks of the pages. Of a piece that was told to be missing or drawn twice no one can
    /// say where it is.
    pub(super) fn check_bookmarks(
        &mut self,
        viewing: &Viewing,
        intended: &Intended,
        findings: &[Finding],
    ) {
        if self.has_lost_pieces() {
            return;
        }
        for bookmark in &intended.bookmarks {
            self.check_bookmark(bookmark, viewing, intended, findings);
        }
    }

    /// Checks that the boxes of each page lie in each other.
    pub(super) fn check_boxes(&mut self, viewing: &Viewing) {
        let mut sound = true;
        for (index, fault) in viewing.box_faults.iter().enumerate() {
            if let Some(fault) = fault {
                sound = false;
                let message = format!("the boxes of the page are wrong: {fault}");
                self.note("page-boxes", Some(index + 1), false, message, BOXES_REMEDY);
            }
        }
        if sound {
            let message = "every page has its TrimBox in its BleedBox in its MediaBox";
            self.note("page-boxes", None, true, message.to_string(), "");
        }
    }

    /// Whether a piece was told to be missing, drawn twice or drawn badly.
    pub(super) fn has_lost_pieces(&self) -> bool {
        let lost = |check: &Check| {
            !check.passed && matches!(check.code, "piece-missing" | "piece-twice" | "outline-off")
        };
        self.checks.iter().any(lost)
    }

    pub(super) fn check_labels(&mut self, viewing: &Viewing, last: &[String]) {
        let count = viewing.labels.len();
        if last.len() > count {
            let message = format!("{} pages should have plates; there are {count}", last.len());
            self.note("page-labels", None, false, message, LABELS_REMEDY);
            return;
        }
        let first = (1..=count - last.len()).map(|number| number.to_string());
        let wanted = first.chain(last.iter().cloned());
        let mut pairs = viewing.labels.iter().zip(wanted).enumerate();
        match pairs.find(|(_, (found, wanted))| *found != wanted) {
            None => {
                let message = "viewers show the right label for every page".to_string();
                self.note("page-labels", None, true, message, "");
            }
            Some((index, (found, wanted))) => {
                let message = format!("viewers call the page “{found}”, not “{wanted}”");
                let page = Some(index + 1);
                self.note("page-labels", page, false, message, LABELS_REMEDY);
            }
        }
    }

    fn check_bookmark(
        &mut self,
        wanted: &IntendedBookmark,
        viewing: &Viewing,
        intended: &Intended,
        findings: &[Finding],
    ) {
        let name = wanted.titles.join(" › ");
        let pages = pages_of(wanted, intended, findings);
        let all = viewing.bookmarks.iter();
        let there: Vec<&Bookmark> = all.filter(|b| b.titles.ends_with(&wanted.titles)).collect();
        let leads = |b: &&&Bookmark| b.page.is_some_and(|page| pages.contains(&page));
        let right = there.iter().find(leads);
        let to = |b: &Bookmark| page_words(&b.page.map(|page| vec![page]).unwrap_or_default());
        let message = match (right, there.first()) {
            (Some(right), _) => format!("the bookmark “{name}” leads to {}", to(right)),
            (None, Some(first)) => format!(
                "the bookmark “{name}” leads to {}, not to {}",
                to(first),
                page_words(&pages)
            ),
            (None, None) => format!("there is no bookmark “{name}”"),
        };
        let right = right.is_some();
        self.note("bookmarks", None, right, message, BOOKMARKS_REMEDY);
    }
}

/// The pages to which a bookmark may lead: those that show the piece; of a size the first one that shows
/// a piece of it. Pieces of one shape cannot be told from each other by their lines: each may
/// be on the pages of all of them.
fn pages_of(wanted: &IntendedBookmark, intended: &Intended, findings: &[Finding]) -> Vec<usize> {
    let pages = |outline: &IntendedOutline| -> Vec<usize> {
        let alike = intended.outlines.iter().zip(findings);
        alike
            .filter(|(other, _)| same_shape(outline, other, intended.tolerance))
            .flat_map(|(_, finding)| finding.drawings())
            .map(|drawing| drawing.sheet + 1)
            .collect()
    };
    let outlines = intended.outlines.iter().zip(findings);
    let of_size = outlines.filter(|(outline, _)| outline.size == wanted.size);
    let mut found: Vec<usize> = match &wanted.piece {
        Some(piece) => of_size
            .filter(|(outline, _)| outline.piece == *piece)
            .flat_map(|(outline, _)| pages(outline))
            .collect(),
        None => {
            let own = of_size.clone().flat_map(|(_, finding)| finding.drawings());
            let own = own.map(|drawing| drawing.sheet + 1).min();
            let mut alike: Vec<usize> = of_size
                .clone()
                .flat_map(|(outline, _)| pages(outline))
                .collect();
            alike.sort_unstable();
            // a piece of another size's shape may have been found where the other one is
            let sure = of_size.filter(|(outline, _)| {
                let mut others = intended.outlines.iter().filter(|o| o.size != outline.size);
                !others.any(|other| same_shape(outline, other, intended.tolerance))
            });
            let sure = sure.flat_map(|(_, finding)| finding.drawings());
            let sure = sure.map(|drawing| drawing.sheet + 1).min();
            // of a size that is all like another one each of their pages may be the first
            if sure.is_some() {
                alike.truncate(1);
            }
            own.into_iter().chain(alike).chain(sure).collect()
        }
    };
    found.sort_unstable();
    found.dedup();
    found
}

/// Whether two outlines are of one kind and congruent, each point to `tolerance` mm.
pub(super) fn same_shape(one: &IntendedOutline, other: &IntendedOutline, tolerance: f64) -> bool {
    if std::ptr::eq(one, other) {
        return true;
    }
    if one.line != other.line {
        return false;
    }
    let (Some(a), Some(b)) = (Ring::new(&one.path), Ring::new(&other.path)) else {
        return false;
    };
    let within = 2.0 * tolerance;
    let sides = |ring: &Ring| {
        let (width, height) = (ring.bounds().width(), ring.bounds().height());
        [width.min(height), width.max(height)]
    };
    let pairs = sides(&a).into_iter().zip(sides(&b));
    let mut apart = pairs.map(|(x, y)| (x - y).abs());
    apart.all(|apart| apart <= within) && a.placed_on(&b, within).is_some()
}
