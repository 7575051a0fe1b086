//! The proof of a file with text only: the further forms of the instructions. Lengths in mm, type and
//! lines in points.

use super::colours;
use super::ink::InkKind;
use super::intended::Intended;
use super::intended_words::{IntendedBook, IntendedWords};
use super::margin::{MARGIN_SLACK, TEXT_MARGIN};
use super::printed::{self, Mark, Printed};
use super::reading;
use super::sketch::Sketches;
use super::{Check, Measured, Proof};
use kurbo::Rect;

/// A side of a box may be off by this, mm: the rounding of a PDF's numbers.
const BOX_WITHIN: f64 = 0.01;

/// Type and lines may be smaller by this, points: the rounding of a PDF's numbers.
const POINTS_SLACK: f64 = 0.005;

const BLEED_REMEDY: &str = "Give every page the bleed the print shop asks for.";

/// What a file with text only should be.
#[derive(Debug, Clone, PartialEq)]
pub struct IntendedText {
    /// Width and height of the trimmed page, mm.
    pub page: [f64; 2],
    /// Running text is at least this large, points. Letters in pictures are excepted: they are told by
    /// the tags, which count them to a `Figure`.
    pub smallest_points: Option<f64>,
    /// Whether letters are painted in black or the other inks of a press, black ones in black only.
    pub black_only: bool,
    /// How far ink may run over the trim on each side, mm; `None` for pages that are not trimmed.
    pub bleed: Option<f64>,
    /// No line thinner than this, points.
    pub thinnest_points: Option<f64>,
    /// The text to be read, of a file with contents and steps.
    pub book: Option<IntendedBook>,
}

/// Proves the PDF in `bytes`, called `file` in what is reported, which holds text and no plates.
///
/// Reads nothing but the bytes; never fails: a file that cannot be read is a failed check.
pub fn prove_text(bytes: &[u8], file: &str, intended: &IntendedText) -> Proof {
    let mut proof = Proof {
        file: file.to_string(),
        checks: Vec::new(),
        measured: Measured::default(),
        sketches: Sketches::default(),
        texts: Vec::new(),
    };
    let pages = Intended {
        page: intended.page,
        outlines: Vec::new(),
        squares: Vec::new(),
        square_sets: 1,
        margin: TEXT_MARGIN,
        tolerance: BOX_WITHIN,
        layers: Some(Vec::new()),
        labels: Vec::new(),
        bookmarks: Vec::new(),
        words: IntendedWords {
            book: intended.book.clone(),
            ..IntendedWords::default()
        },
    };
    let fault = match reading::read(bytes) {
        Ok(reading) => {
            proof.examine(bytes, &reading, &pages);
            match printed::read(bytes) {
                Some(sheets) => {
                    proof.examine_text(bytes, &sheets, intended);
                    return proof;
                }
                None => reading::Unreadable::Damaged,
            }
        }
        Err(fault) => fault,
    };
    let check = Check::new("pdf-unreadable", file, false, fault.to_string());
    let remedy = "Build the design again; if it stays so, report it.";
    proof.checks.push(check.remedy(remedy));
    proof
}

/// How a least size is spoken of.
struct Words {
    code: &'static str,
    right: &'static str,
    wrong: &'static str,
    remedy: &'static str,
}

const TYPE: Words = Words {
    code: "type-size",
    right: "no letter of the running text is smaller than",
    wrong: "a letter of the running text has",
    remedy: "Set all running text at least so large.",
};

const LINES: Words = Words {
    code: "press-line-thin",
    right: "no line is thinner than",
    wrong: "a line is as thin as",
    remedy: "Draw it thicker: thinner lines break up in print.",
};

impl Proof {
    fn examine_text(&mut self, bytes: &[u8], sheets: &[Printed], intended: &IntendedText) {
        if let Some(least) = intended.smallest_points {
            let running = |mark: &Mark| mark.kind == InkKind::Glyph && !mark.in_picture;
            self.check_least(sheets, least, running, &TYPE);
        }
        if let Some(least) = intended.thinnest_points {
            self.check_least(sheets, least, |mark| mark.kind == InkKind::Line, &LINES);
        }
        if intended.black_only {
            self.check_black(bytes);
        }
        if let Some(bleed) = intended.bleed {
            for (index, sheet) in sheets.iter().enumerate() {
                self.check_bleed(sheet, index + 1, bleed);
                self.check_letters_inside(sheet, index + 1);
            }
        }
    }

    /// Whether all marks of one sort have `least` points; of each page the smallest is told.
    fn check_least(
        &mut self,
        sheets: &[Printed],
        least: f64,
        of_sort: impl Fn(&Mark) -> bool,
        words: &Words,
    ) {
        let mut smallest = f64::INFINITY;
        for (index, sheet) in sheets.iter().enumerate() {
            let marks = sheet.marks.iter().filter(|mark| of_sort(mark));
            let Some(mark) = marks.min_by(|a, b| a.points.total_cmp(&b.points)) else {
                continue;
            };
            smallest = smallest.min(mark.points);
            if mark.points < least - POINTS_SLACK {
                let message = format!(
                    "{} {:.2} points at {:.1} mm across, {:.1} mm down on the sheet; {least} points \
                     are needed",
                    words.wrong, mark.points, mark.bounds.x0, mark.bounds.y0
                );
                self.note(words.code, Some(index + 1), false, message, words.remedy);
                self.mark(mark.bounds - sheet.trim.origin().to_vec2());
            }
        }
        if smallest.is_finite() && smallest >= least - POINTS_SLACK {
            let message = format!("{} {smallest:.2} points", words.right);
            self.note(words.code, None, true, message, "");
        }
    }

    fn check_black(&mut self, bytes: &[u8]) {
        let faults = colours::letter_faults(bytes).unwrap_or_default();
        let remedy = "Paint black letters in black only.";
        for (index, fault) in faults.iter().enumerate() {
            if let Some(fault) = fault {
                let message = format!("letters are painted {fault}");
                self.note("not-black", Some(index + 1), false, message, remedy);
            }
        }
        if faults.iter().all(Option::is_none) {
            let message = "black letters are painted in black only".to_string();
            self.note("not-black", None, true, message, "");
        }
    }

    /// Whether the bleed is as wide as it should be on all sides.
    fn check_bleed(&mut self, sheet: &Printed, page: usize, wanted: f64) {
        let (trim, bleed) = (sheet.trim, sheet.bleed);
        let sides = [
            trim.x0 - bleed.x0,
            trim.y0 - bleed.y0,
            bleed.x1 - trim.x1,
            bleed.y1 - trim.y1,
        ];
        let right = sides.iter().all(|side| (side - wanted).abs() <= BOX_WITHIN);
        let [left, above, beside, below] = sides;
        let message = match right {
            true => format!("the bleed is {wanted} mm on all sides"),
            false => format!(
                "the bleed is {left:.2} mm on the left, {above:.2} mm above, {beside:.2} mm on the \
                 right and {below:.2} mm below, not {wanted} mm"
            ),
        };
        self.note("page-boxes", Some(page), right, message, BLEED_REMEDY);
    }

    /// Whether the letters stand clear of the trim.
    fn check_letters_inside(&mut self, sheet: &Printed, page: usize) {
        let trim = sheet.trim;
        let letters = sheet.marks.iter().filter(|m| m.kind == InkKind::Glyph);
        let nearest = letters
            .filter_map(|mark| Some((inside(mark.bounds, trim)?, mark)))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((distance, mark)) = nearest else {
            return;
        };
        let right = distance >= TEXT_MARGIN - MARGIN_SLACK;
        let message = match right {
            true => format!("no letter is nearer to the trim than {distance:.2} mm"),
            false => format!(
                "a letter at {:.1} mm across, {:.1} mm down is {distance:.2} mm from the trim; \
                 {TEXT_MARGIN} mm must stay free",
                mark.bounds.x0 - trim.x0,
                mark.bounds.y0 - trim.y0
            ),
        };
        let remedy = "Move it inward: trimming is not exact.";
        self.note("ink-margin", Some(page), right, message, remedy);
        self.mark(mark.bounds - trim.origin().to_vec2());
    }
}

/// How far `bounds` lies inside `trim`, mm, negative where it crosses; `None` for what lies outside.
fn inside(bounds: Rect, trim: Rect) -> Option<f64> {
    let across = (bounds.x0 - trim.x0).min(trim.x1 - bounds.x1);
    let distance = across.min(bounds.y0 - trim.y0).min(trim.y1 - bounds.y1);
    let beside = bounds.x1 < trim.x0 || bounds.x0 > trim.x1;
    let outside = beside || bounds.y1 < trim.y0 || bounds.y0 > trim.y1;
    (!outside).then_some(distance)
}
