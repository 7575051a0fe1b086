//! A booklet laid out two-up for stapling, against the pages it was laid out from: every half of every
//! side holds the page that folding puts there, moved and never scaled. Lengths in mm.
//!
//! The order of a saddle stitch is computed here once more, from the folding itself.

use super::FAULT_OF_PRESSFOOT;
use super::check::Check;
use super::ink::Ink;
use super::intended_words::{IntendedBook, IntendedWords};
use super::margin::MARGIN_SLACK;
use super::printed::{self, Printed};
use super::reading::{self, Reading};
use super::sheet::Sheet;
use super::sketch::{self, Sketches};
use super::{Measured, Proof};
use kurbo::{Rect, Vec2};

/// What a stapled booklet should be.
#[derive(Debug, Clone, PartialEq)]
pub struct IntendedStapled {
    /// Width and height of what is left of the sheet when it is trimmed, mm.
    pub trimmed: [f64; 2],
    /// By how much more than the one around it each sheet's pages are moved towards the fold, mm.
    pub creep: f64,
    /// The text to be read on the single pages.
    pub book: Option<IntendedBook>,
}

/// A box may be off by this, mm.
const WITHIN: f64 = 0.01;

/// What home printers leave unprinted on each side, mm (common practice: up to 6.7).
const PAPER_MARGIN: f64 = 7.0;

/// A mark for folding is no wider than this, mm.
const FOLD_MARK: f64 = 0.5;

/// Proves the sheets in `bytes` against the single pages in `pages`.
pub fn prove_stapled(bytes: &[u8], pages: &[u8], file: &str, intended: &IntendedStapled) -> Proof {
    let mut proof = Proof {
        file: file.to_string(),
        checks: Vec::new(),
        measured: Measured::default(),
        sketches: Sketches::default(),
        texts: Vec::new(),
    };
    match (reading::read(bytes), reading::read(pages)) {
        (Ok(sheets), Ok(pages)) => {
            proof.examine_stapled(&sheets, &pages, intended);
            let words = IntendedWords {
                book: intended.book.clone(),
                ..IntendedWords::default()
            };
            proof.check_words(&pages, (&[], &[]), &words);
            for (side, printed) in printed::read(bytes).unwrap_or_default().iter().enumerate() {
                proof.check_edges(printed, side);
            }
        }
        (Err(fault), _) | (_, Err(fault)) => {
            let check = Check::new("pdf-unreadable", file, false, fault.to_string());
            proof
                .checks
                .push(check.remedy("Build the design again; if it stays so, report it."));
        }
    }
    proof
}

/// Pages of each side, left and right, from 0, found by folding: a stack of `sheets` folded in the
/// middle has, from its front to its back, the right half of each front and the left half of each back
/// on the way in, and the others on the way out.
pub fn folded(sheets: usize) -> Vec<[usize; 2]> {
    let mut sides = vec![[0; 2]; 2 * sheets];
    let mut next = 0;
    let mut put = |side: usize, half: usize| {
        sides[side][half] = next;
        next += 1;
    };
    for sheet in 0..sheets {
        put(2 * sheet, 1);
        put(2 * sheet + 1, 0);
    }
    for sheet in (0..sheets).rev() {
        put(2 * sheet + 1, 1);
        put(2 * sheet, 0);
    }
    sides
}

impl Proof {
    fn examine_stapled(&mut self, sheets: &Reading, pages: &Reading, intended: &IntendedStapled) {
        self.measured.pages = sheets.sheets.len();
        let sides = folded(sheets.sheets.len() / 2);
        self.sketches = sketch::pages(sheets, |side| match sides.get(side) {
            Some([left, right]) => format!("pages {} and {}", left + 1, right + 1),
            None => String::new(),
        });
        let document = &sheets.document;
        document.check(&self.file, &mut self.checks);
        document.check_viewing(&self.file, &[], &mut self.checks);
        self.check_boxes(&document.viewing);
        let right =
            sheets.sheets.len() * 2 == pages.sheets.len() && sheets.sheets.len().is_multiple_of(2);
        let message = format!(
            "{} sides hold {} pages",
            sheets.sheets.len(),
            pages.sheets.len()
        );
        self.note("stapled-order", None, right, message, FAULT_OF_PRESSFOOT);
        if !right {
            return;
        }
        for (side, halves) in folded(sheets.sheets.len() / 2).into_iter().enumerate() {
            self.check_side(side, halves, (sheets, pages), intended);
        }
    }

    /// Whether a side has the size it should have when it is trimmed; gives the width.
    fn check_trimmed(&mut self, side: usize, drawn: &Sheet, intended: &IntendedStapled) -> f64 {
        let [width, height] = intended.trimmed;
        let right =
            (drawn.width - width).abs() <= WITHIN && (drawn.height - height).abs() <= WITHIN;
        let message = format!(
            "trimmed, the sheet is {:.2} by {:.2} mm, as is meant: {width} by {height} mm",
            drawn.width, drawn.height
        );
        let message = match right {
            true => message,
            false => message.replace("as is meant:", "not"),
        };
        self.note(
            "page-size",
            Some(side + 1),
            right,
            message,
            FAULT_OF_PRESSFOOT,
        );
        width
    }

    fn check_side(
        &mut self,
        side: usize,
        halves: [usize; 2],
        (sheets, pages): (&Reading, &Reading),
        intended: &IntendedStapled,
    ) {
        let drawn = &sheets.sheets[side];
        let width = self.check_trimmed(side, drawn, intended);
        let creep = intended.creep * (side / 2) as f64;
        let moves = [creep, width / 2.0 - creep].map(|x| Vec2::new(x, 0.0));
        let ink = |half: usize, page: usize| -> Vec<Ink> {
            let moved = |i: &Ink| Ink {
                bounds: i.bounds + moves[half],
                ..*i
            };
            pages.sheets[page].ink.iter().map(moved).collect()
        };
        let wanted: Vec<Ink> = (0..2).flat_map(|half| ink(half, halves[half])).collect();
        if same(&drawn.ink, &wanted) {
            let moved = first_at(&drawn.ink).zip(first_at(&pages.sheets[halves[0]].ink));
            let moved = moved.map_or(String::new(), |(on_sheet, on_page)| {
                let creep = ((on_sheet - on_page) * 1000.0).round() / 1000.0;
                format!(", moved towards the fold by {:.3} mm", creep + 0.0)
            });
            let message = format!(
                "pages {} and {} are on side {}{moved}",
                halves[0] + 1,
                halves[1] + 1,
                side + 1
            );
            self.note("stapled-order", Some(side + 1), true, message, "");
            return;
        }
        let all = 0..pages.sheets.len();
        let other = all.clone().flat_map(|a| all.clone().map(move |b| [a, b]));
        let found = other.into_iter().find(|[a, b]| {
            let both: Vec<Ink> = [ink(0, *a), ink(1, *b)].concat();
            same(&drawn.ink, &both)
        });
        let (code, message) = match found {
            Some([a, b]) => (
                "stapled-order",
                format!(
                    "side {} holds pages {} and {}; folded, it should hold {} and {}",
                    side + 1,
                    a + 1,
                    b + 1,
                    halves[0] + 1,
                    halves[1] + 1
                ),
            ),
            None => (
                "stapled-page",
                format!(
                    "what is on side {} differs from pages {} and {}, or lies elsewhere",
                    side + 1,
                    halves[0] + 1,
                    halves[1] + 1
                ),
            ),
        };
        self.note(code, Some(side + 1), false, message, FAULT_OF_PRESSFOOT);
    }
}

impl Proof {
    /// Whether a side prints at home, and shows at both ends where it is folded.
    fn check_edges(&mut self, sheet: &Printed, side: usize) {
        let [width, height] = sheet.size;
        let distance = |area: Rect| {
            let across = area.x0.min(width - area.x1);
            across.min(area.y0).min(height - area.y1)
        };
        let nearest = sheet.marks.iter().map(|mark| distance(mark.bounds));
        if let Some(nearest) = nearest.min_by(f64::total_cmp) {
            let right = nearest >= PAPER_MARGIN - MARGIN_SLACK;
            let message = match right {
                true => format!("no ink is nearer to the edge of the paper than {nearest:.2} mm"),
                false => format!(
                    "ink is {nearest:.2} mm from the edge of the paper; {PAPER_MARGIN} mm must stay free"
                ),
            };
            self.note(
                "ink-margin",
                Some(side + 1),
                right,
                message,
                FAULT_OF_PRESSFOOT,
            );
        }
        let fold = sheet.trim.center().x;
        let on_fold = |end: fn(Rect, Rect) -> bool| {
            sheet.marks.iter().any(|mark| {
                let middle = mark.bounds.center().x;
                let narrow = mark.bounds.width() <= FOLD_MARK;
                narrow && (middle - fold).abs() <= WITHIN && end(mark.bounds, sheet.trim)
            })
        };
        let above = on_fold(|mark, trim| mark.y1 <= trim.y0);
        let below = on_fold(|mark, trim| mark.y0 >= trim.y1);
        let message = match (above, below) {
            (true, true) => "marks outside the trim show the fold",
            _ => "no marks above and below the trim show the fold",
        };
        let right = above && below;
        self.note(
            "fold-mark",
            Some(side + 1),
            right,
            message.to_string(),
            FAULT_OF_PRESSFOOT,
        );
    }
}

/// Left edge of what is painted first.
fn first_at(ink: &[Ink]) -> Option<f64> {
    ink.first().map(|ink| ink.bounds.x0)
}

/// Whether the same things are painted in the same order at the same places.
fn same(a: &[Ink], b: &[Ink]) -> bool {
    let near = |x: f64, y: f64| (x - y).abs() <= WITHIN;
    let alike = |(a, b): (&Ink, &Ink)| {
        let (p, q) = (a.bounds, b.bounds);
        a.kind == b.kind
            && near(p.x0, q.x0)
            && near(p.y0, q.y0)
            && near(p.x1, q.x1)
            && near(p.y1, q.y1)
    };
    a.len() == b.len() && a.iter().zip(b).all(alike)
}
