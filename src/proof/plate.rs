//! What must not be on a plate: paint over an outline, an outline twice, a cut line of no piece, and
//! sheets that do not meet. Millimetres.

use super::hint::words_of;
use super::ink::DrawnLine;
use super::intended::{Intended, IntendedLine, IntendedOutline};
use super::joined::{JOIN_WITHIN, Misjoin, joined_deviation};
use super::outline::{Drawing, Drawn, Finding, looks_like};
use super::paint::hidden_at;
use super::ring::Ring;
use super::square::SQUARE_REACH;
use super::{Proof, page_words};
use kurbo::Rect;

/// Closed lines from this width on, mm, look as if they were to be cut: between the widest mark of
/// the house style (0.3) and its finest cut line (0.35).
const STRAY_FROM: f64 = 0.32;

/// A line of which no point lies in its window, looked at every so many mm, cannot be seen.
const LOOK_EVERY: f64 = 1.0;

impl Proof {
    /// Whether all of an outline that was found can be seen.
    pub(super) fn check_seen(&mut self, name: &str, finding: &Finding, drawn: &Drawn<'_>) {
        for drawing in finding.drawings() {
            let line = &drawn.sheets[drawing.sheet].lines[drawing.line];
            let ring = drawn.ring(drawing.sheet, drawing.line);
            let paint = &drawn.sheets[drawing.sheet].paint;
            let Some(at) = ring.and_then(|ring| hidden_at(line, ring, paint)) else {
                continue;
            };
            let page = drawing.sheet + 1;
            let message = format!(
                "{name} is painted over on page {page} from {:.1} mm across, {:.1} mm down",
                at.x, at.y
            );
            let remedy = "Paint nothing over a piece; what lies under it is painted before it.";
            self.note("piece-hidden", Some(page), false, message, remedy);
            self.mark(Rect::from_points(at, at));
        }
    }

    /// Whether the sheets of an outline, joined by their marks, give the outline; by how much it is
    /// then off, mm.
    pub(super) fn check_joins(
        &mut self,
        name: &str,
        outline: &IntendedOutline,
        drawings: &[Drawing],
        drawn: &Drawn<'_>,
    ) -> Option<f64> {
        let found = joined_deviation(outline, drawings, drawn);
        let mut pages: Vec<usize> = drawings.iter().map(|d| d.sheet + 1).collect();
        pages.dedup();
        let mut page = pages.first().copied();
        let passed = found.is_ok_and(|off| off <= JOIN_WITHIN);
        let message = match found {
            Ok(off) => {
                let pages = page_words(&pages);
                let off = if passed {
                    format!("{off:.6}")
                } else {
                    format!("{off:.2}")
                };
                let limit = if passed {
                    String::new()
                } else {
                    format!("; {JOIN_WITHIN} mm is allowed")
                };
                format!(
                    "joined by their marks, the sheets of {name} ({pages}) are out by {off} mm{limit}"
                )
            }
            Err(Misjoin::Alone { sheet }) => {
                page = Some(sheet + 1);
                format!(
                    "the sheet of {name} on page {} has no two join marks that meet another's",
                    sheet + 1
                )
            }
            Err(Misjoin::Open { sheets, apart }) => {
                page = Some(sheets[0] + 1);
                format!(
                    "the sheets of {name} do not meet: the halves of a join mark of {} stay {apart:.2} mm \
                     apart",
                    page_words(&sheets.map(|sheet| sheet + 1))
                )
            }
            Err(Misjoin::Gap { at }) => format!(
                "the sheets of {name}, joined by their marks, leave a gap {:.1} mm across, {:.1} mm down \
                 in the piece",
                at.x, at.y
            ),
        };
        let remedy = "Place a sheet's outlines and its join marks together.";
        self.note("tile-join", page, passed, message, remedy);
        let gap = match found {
            Err(Misjoin::Gap { at }) => vec![at],
            _ => Vec::new(),
        };
        self.draw(outline, gap);
        found.ok()
    }

    /// Lines on a plate that look like cut lines and stand for none.
    pub(super) fn check_unexplained(
        &mut self,
        sheet: usize,
        taken: &[usize],
        findings: &[Finding],
        drawn: &Drawn<'_>,
        intended: &Intended,
    ) {
        let page = sheet + 1;
        let mut sound = true;
        for (index, line) in drawn.sheets[sheet].lines.iter().enumerate() {
            let Some(ring) = drawn.ring(sheet, index) else {
                continue;
            };
            let cut = line.width >= STRAY_FROM && looks_like(line, IntendedLine::Cut);
            if !cut || taken.contains(&index) || is_square(line, intended) || !is_seen(line, ring) {
                continue;
            }
            if let Some((outline, finding)) = same_shape(ring, line, findings, intended) {
                if is_further_sheet(finding, sheet) {
                    continue;
                }
                sound = false;
                self.say_twice(outline, page);
                self.mark(line.bounds);
            } else {
                sound = false;
                // a missing outline is told already, and this may be what became of it
                if !findings.contains(&Finding::Missing) {
                    self.say_stray(line.bounds, page);
                }
            }
        }
        if sound {
            let message = "every cut line on the page belongs to a piece".to_string();
            self.note("stray-outline", Some(page), true, message, "");
        }
    }

    fn say_twice(&mut self, outline: &IntendedOutline, page: usize) {
        let message = format!(
            "the {} of {} in size {} is drawn once more on page {page}",
            words_of(outline.line),
            outline.title,
            outline.size
        );
        let remedy =
            "Draw every piece once in every size, so that no one cuts along the wrong one.";
        self.note("piece-twice", Some(page), false, message, remedy);
    }

    pub(super) fn say_mirrored(&mut self, name: &str, page: usize) {
        let message = format!("{name} is missing; it is drawn mirrored on page {page}");
        let remedy = "Draw every piece as it was computed, never mirrored.";
        self.note("piece-missing", Some(page), false, message, remedy);
    }

    fn say_stray(&mut self, bounds: Rect, page: usize) {
        let message = format!(
            "a line of {:.1} by {:.1} mm at {:.1} mm across, {:.1} mm down looks like a cut line and \
             belongs to no piece",
            bounds.width(),
            bounds.height(),
            bounds.x0,
            bounds.y0
        );
        let remedy = "Take it out, or draw it thinner than a cut line.";
        self.note("stray-outline", Some(page), false, message, remedy);
        self.mark(bounds);
    }
}

/// Whether any of a line can be seen.
fn is_seen(line: &DrawnLine, ring: &Ring) -> bool {
    let window = line.window;
    window.width() > 0.0
        && window.height() > 0.0
        && ring
            .fine_points(LOOK_EVERY)
            .into_iter()
            .any(|p| window.contains(p))
}

/// Whether a line has the size of a test square.
fn is_square(line: &DrawnLine, intended: &Intended) -> bool {
    let near = |length: f64, side: f64| (length - side).abs() <= SQUARE_REACH;
    let Rect { x0, y0, x1, y1 } = line.bounds;
    let sides = &intended.squares;
    let is_rectangle = line.path.elements().len() <= 6 && line.path.segments().all(is_line);
    is_rectangle && sides.iter().any(|s| near(x1 - x0, *s) && near(y1 - y0, *s))
}

fn is_line(segment: kurbo::PathSeg) -> bool {
    matches!(segment, kurbo::PathSeg::Line(_))
}

/// The intended outline, with what was found of it, whose shape a line has.
fn same_shape<'i>(
    ring: &Ring,
    line: &DrawnLine,
    findings: &'i [Finding],
    intended: &'i Intended,
) -> Option<(&'i IntendedOutline, &'i Finding)> {
    let pairs = intended.outlines.iter().zip(findings);
    pairs
        .filter(|(outline, _)| looks_like(line, outline.line))
        .find(|(outline, _)| {
            let own = Ring::new(&outline.path);
            own.is_some_and(|own| own.placed_on(ring, intended.tolerance).is_some())
        })
}

/// Whether `sheet` may be one more sheet of a piece spread over several: one that its outline does
/// not need, but crosses.
fn is_further_sheet(finding: &Finding, sheet: usize) -> bool {
    match finding {
        Finding::Tiled { drawings, .. } => drawings.iter().all(|d| d.sheet != sheet),
        _ => false,
    }
}
