//! Step 10: the finished PDF, read as a stranger would, against what was intended.
//!
//! It shares no code with `plates` and `booklet`: what it knows of the design is only
//! [`Intended`], and everything else it takes from the bytes of the file. [`reading`] reads the
//! pages, each a [`sheet`]; [`outline`] finds the pieces, [`square`] the test squares, [`margin`] the ink near the
//! edge; [`report`] writes down what was looked at.

pub mod check;
mod colours;
pub mod contrast;
mod corners;
mod dashes;
pub mod document;
mod effort;
pub mod figure;
mod guide;
mod hint;
pub mod ink;
pub mod intended;
pub mod intended_words;
pub mod joined;
pub mod joins;
mod layers;
pub mod letter;
mod look;
pub mod margin;
pub mod measured;
mod objects;
pub mod outline;
pub mod paint;
mod pictures;
mod plate;
mod printed;
pub mod reading;
mod recorder;
pub mod report;
pub mod ring;
pub mod sheet;
pub mod sketch;
pub mod square;
pub mod stapled;
pub mod text;
pub mod tiles;
pub mod viewing;
pub mod words;

#[cfg(test)]
mod tests;

pub use check::{Check, Shown, ShownPiece};
pub use intended::{
    Intended, IntendedBookmark, IntendedLayer, IntendedLine, IntendedOutline, LayerHolds,
};
pub use intended_words::{
    IntendedBook, IntendedCover, IntendedFigure, IntendedLabel, IntendedMark, IntendedPart,
    IntendedPlace, IntendedPlate, IntendedStep, IntendedTable, IntendedWords, IntendedWordsAt,
};
pub use measured::{Measured, MeasuredOutline, MeasuredSquare};
pub use report::{About, Acceptance, Report, SeamFact};
pub use stapled::{IntendedStapled, prove_stapled};
pub use text::{IntendedText, prove_text};

use crate::diagnostic::Diagnostics;
use hint::{hint, is_mirrored, words_of};
use kurbo::{Point, Rect};
use outline::{Drawn, Finding, find};
use reading::Reading;
use sheet::Sheet;
use sketch::Sketches;
use square::{Square, squares};

/// Points to the millimetre (ISO 32000-1, 8.3.2.3). Not that of `geometry`: a proof believes nobody.
const POINTS: f64 = 72.0 / 25.4;

/// What to do where the program is at fault.
const FAULT_OF_PRESSFOOT: &str = "This is a fault of pressfoot; please report it with the design.";

/// A page's side may differ from the intended one by this, mm: paper itself is cut to ±1.5 mm or
/// worse (ISO 216, value from memory); page sizes in whole points are up to 0.18 mm off: refused.
const PAGE_TOLERANCE: f64 = 0.05;

/// What the proof found in one PDF.
#[derive(Debug, Clone, PartialEq)]
pub struct Proof {
    /// Name of the file.
    pub file: String,
    /// All checks made, passed or not.
    pub checks: Vec<Check>,
    /// What was measured.
    pub measured: Measured,
    /// What was read, drawn small.
    pub sketches: Sketches,
    /// The letters of each page, in the order in which they are painted.
    pub texts: Vec<String>,
}

impl Proof {
    /// Whether nothing forbids the sale.
    pub fn passed(&self) -> bool {
        !self.checks.iter().any(Check::forbids_sale)
    }

    /// The failed checks as diagnostics.
    pub fn diagnostics(&self) -> Diagnostics {
        check::failed(&self.checks)
    }
}

/// Proves the PDF in `bytes`, called `file` in what is reported, against `intended`.
///
/// Reads nothing but the bytes; never fails: a file that cannot be read is a failed check.
pub fn prove(bytes: &[u8], file: &str, intended: &Intended) -> Proof {
    let mut proof = Proof {
        file: file.to_string(),
        checks: Vec::new(),
        measured: Measured::default(),
        sketches: Sketches::default(),
        texts: Vec::new(),
    };
    match reading::read(bytes) {
        Ok(reading) => proof.examine(bytes, &reading, intended),
        Err(fault) => {
            let check = Check::new("pdf-unreadable", file, false, fault.to_string());
            proof
                .checks
                .push(check.remedy("Build the design again; if it stays so, report it."));
        }
    }
    proof
}

impl Proof {
    fn examine(&mut self, bytes: &[u8], reading: &Reading, intended: &Intended) {
        let sheets = &reading.sheets;
        self.measured.pages = sheets.len();
        let letters = |sheet: &Sheet| sheet.letters.iter().map(|letter| &*letter.text).collect();
        self.texts = sheets.iter().map(letters).collect();
        let message = match sheets.len() {
            1 => "1 page was read".to_string(),
            many => format!("{many} pages were read"),
        };
        self.note("pdf-unreadable", None, true, message, "");
        reading.document.check(&self.file, &mut self.checks);
        if let Some(layers) = &intended.layers {
            let document = &reading.document;
            document.check_viewing(&self.file, layers, &mut self.checks);
        }

        let drawn = Drawn::new(sheets);
        let likely: Vec<bool> = sheets
            .iter()
            .map(|sheet| looks_like_plate(sheet, intended))
            .collect();
        let findings = find(&drawn, intended, &likely);
        for (outline, finding) in intended.outlines.iter().zip(&findings) {
            self.check_outline(outline, finding, &drawn, intended);
        }
        if intended.layers.is_some() {
            self.check_boxes(&reading.document.viewing);
            self.check_labels(&reading.document.viewing, &intended.labels);
            self.check_layers(bytes, &reading.document, &drawn, intended, &findings);
        }
        for (index, sheet) in sheets.iter().enumerate() {
            let taken: Vec<usize> = findings
                .iter()
                .flat_map(Finding::drawings)
                .filter(|d| d.sheet == index)
                .map(|d| d.line)
                .collect();
            let plate = likely[index] || !taken.is_empty();
            let tinted = taken.is_empty();
            self.check_page(sheet, index + 1, (plate, tinted), intended);
            self.check_contrast(sheet, index + 1);
            self.check_dashes(index, &findings, &drawn, intended);
            if plate {
                self.measured.plates.push(index + 1);
                self.check_squares((sheet, &drawn), index + 1, &taken, intended);
                self.check_unexplained(index, &taken, &findings, &drawn, intended);
            }
        }
        if intended.layers.is_some() {
            self.check_bookmarks(&reading.document.viewing, intended, &findings);
        }
        let plates = self.measured.plates.clone();
        let found = words::found_lines(intended, &findings, &drawn);
        self.check_words(reading, (&plates, &found), &intended.words);
        self.sketches = sketch::sketches(reading, &drawn, &findings, intended);
    }

    /// Marks a place on the page of the last check, for its picture.
    fn mark(&mut self, place: Rect) {
        if let Some(check) = self.checks.last_mut() {
            check.shown = Some(Shown::Place(place));
        }
    }

    /// Draws an outline for the last check, with points on it that matter.
    fn draw(&mut self, outline: &IntendedOutline, points: Vec<Point>) {
        if let Some(check) = self.checks.last_mut() {
            check.shown = Some(Shown::Pieces(vec![ShownPiece {
                title: format!("{}, {}", outline.title, outline.size),
                lines: vec![outline.path.clone()],
                edges: Vec::new(),
                points,
            }]));
        }
    }

    fn note(
        &mut self,
        code: &'static str,
        page: Option<usize>,
        passed: bool,
        message: String,
        remedy: &str,
    ) {
        let mut check = Check::new(code, &self.file, passed, message).remedy(remedy);
        check.page = page;
        self.checks.push(check);
    }

    fn check_outline(
        &mut self,
        outline: &IntendedOutline,
        finding: &Finding,
        drawn: &Drawn<'_>,
        intended: &Intended,
    ) {
        let name = format!(
            "the {} of {} in size {}",
            words_of(outline.line),
            outline.title,
            outline.size
        );
        let mut pages: Vec<usize> = finding.drawings().iter().map(|d| d.sheet + 1).collect();
        pages.dedup();
        let deviation = finding.deviation();
        let (mut overlap, mut joined) = (None, None);
        match (pages.first().copied(), deviation) {
            (Some(page), Some(off)) if off > intended.tolerance && is_mirrored(outline, drawn) => {
                self.say_mirrored(&name, page);
            }
            (Some(page), Some(off)) => {
                let where_ = page_words(&pages);
                let message = format!("{name} is on {where_}");
                self.note("piece-missing", Some(page), true, message, "");
                let right = off <= intended.tolerance;
                let limit = intended.tolerance;
                let message = if right {
                    format!("{name} is off by {off:.6} mm ({where_}), which is allowed")
                } else {
                    format!("{name} is off by {off:.3} mm on {where_}; {limit} mm is allowed")
                };
                let remedy = "Draw the outline as it was computed, at true scale.";
                self.note("outline-off", Some(page), right, message, remedy);
                if let Some(drawing) = finding.drawings().first() {
                    self.mark(drawn.sheets[drawing.sheet].lines[drawing.line].bounds);
                }
                self.check_seen(&name, finding, drawn);
                if let Finding::Tiled { drawings, coverage } = finding {
                    overlap = Some(coverage.overlap);
                    if coverage.gap.is_none() && drawings.len() > 1 {
                        joined = self.check_joins(&name, outline, drawings, drawn);
                    }
                    self.check_tiles(&name, page, &where_, coverage);
                    self.draw(outline, coverage.gap.into_iter().collect());
                }
            }
            _ => {
                let message = format!("{name} is missing{}", hint(outline, drawn));
                let remedy = "Every piece must be drawn once in every size, at true scale.";
                self.note("piece-missing", None, false, message, remedy);
                self.draw(outline, Vec::new());
            }
        }
        let worst = self.measured.worst_deviation.into_iter().chain(deviation);
        self.measured.worst_deviation = worst.reduce(f64::max);
        self.measured.outlines.push(MeasuredOutline {
            piece: outline.piece.clone(),
            size: outline.size.clone(),
            line: outline.line,
            deviation,
            pages,
            overlap,
            joined,
        });
    }

    fn check_tiles(&mut self, name: &str, page: usize, pages: &str, coverage: &tiles::Coverage) {
        let (passed, message) = match coverage.gap {
            Some(gap) => (
                false,
                format!(
                    "{name} is cut off: the point {:.1} mm across, {:.1} mm down in the piece is \
                     on none of {pages}",
                    gap.x, gap.y
                ),
            ),
            None if coverage.overlap < tiles::OVERLAP_FROM - tiles::OVERLAP_SLACK => (
                false,
                format!(
                    "the sheets of {name} ({pages}) overlap by only {:.1} mm; {} mm is needed",
                    coverage.overlap,
                    tiles::OVERLAP_FROM
                ),
            ),
            None => (
                true,
                format!("the sheets of {name} ({pages}) join without a gap"),
            ),
        };
        let remedy = "Spread the piece so that neighbouring sheets overlap.";
        self.note("tile-gap", Some(page), passed, message, remedy);
    }

    fn check_page(
        &mut self,
        sheet: &Sheet,
        page: usize,
        (plate, tinted): (bool, bool),
        intended: &Intended,
    ) {
        let (width, height) = (sheet.width, sheet.height);
        let [wanted_width, wanted_height] = intended.page;
        let right = (width - wanted_width).abs() <= PAGE_TOLERANCE
            && (height - wanted_height).abs() <= PAGE_TOLERANCE;
        let message = if right {
            format!("the page is {width:.2} by {height:.2} mm")
        } else {
            format!(
                "the page is {width:.2} by {height:.2} mm, not {wanted_width} by {wanted_height} mm"
            )
        };
        let remedy = "Give every page the size of the paper.";
        self.note("page-size", Some(page), right, message, remedy);

        let nearest = margin::nearest_ink(sheet, tinted);
        let blank = nearest.is_none();
        let state = if blank { "is blank" } else { "is not blank" };
        let remedy = "Leave the page out, or say on it why it is there.";
        self.note(
            "blank-page",
            Some(page),
            !blank,
            format!("the page {state}"),
            remedy,
        );

        let wanted = if plate {
            intended.margin
        } else {
            margin::TEXT_MARGIN
        };
        if let Some((distance, ink)) = nearest
            && (plate || !sheet.bleed)
        {
            let right = distance >= wanted - margin::MARGIN_SLACK;
            let (x, y) = (ink.bounds.x0, ink.bounds.y0);
            let message = if right {
                format!("no ink is nearer to the edge than {distance:.2} mm")
            } else {
                format!(
                    "{} at {x:.1} mm across, {y:.1} mm down is {distance:.2} mm from the edge; \
                     {wanted} mm must stay free",
                    ink.kind
                )
            };
            let remedy = "Move it inward: printers cannot print up to the edge.";
            self.note("ink-margin", Some(page), right, message, remedy);
            self.mark(ink.bounds);
        }
    }
}

/// Whether a page without outlines counts as a plate: it carries one test square exactly, or all
/// of them nearly. One rectangle of nearly that size may be anything.
fn looks_like_plate(sheet: &Sheet, intended: &Intended) -> bool {
    let found = squares(sheet, &intended.squares, &[]);
    let exact = |s: &Square| s.deviation() <= intended.tolerance;
    let any_exact = found.iter().flatten().any(exact);
    any_exact || (!found.is_empty() && found.iter().all(Option::is_some))
}

/// `page 3` or `pages 3, 4 and 5`.
fn page_words(pages: &[usize]) -> String {
    match pages {
        [] => "no page".to_string(),
        [page] => format!("page {page}"),
        [first @ .., last] => {
            let first: Vec<String> = first.iter().map(usize::to_string).collect();
            format!("pages {} and {last}", first.join(", "))
        }
    }
}
