//! How large the picture is: the resolution of a scan, or something of known size in a photograph.

use super::Wish;
use super::card::{self, CARD, CardFault};
use super::light::Ink;
use super::picture::Picture;
use super::projection::Projection;
use super::shapes::Apart;
use super::sheet::{self, SheetFault};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::units::INCH;
use kurbo::Point;

/// A photograph may be tilted so far against the paper, degrees: beyond it one end of the foot is seen much
/// smaller than the other, and what is thick hides what lies behind it.
const TILT: f64 = 30.0;

/// The tilt is known so well, degrees.
const TILT_KNOWN: f64 = 1.0;

/// A scan in which the sheet or the card is seen larger or smaller than this share, or tilted by more degrees,
/// is none: printers and cards are truer.
const NO_SCAN: f64 = 0.04;
const NO_SCAN_TILT: f64 = 6.0;

/// Resolutions that differ by less than this share are one: programs round them.
const RESOLUTIONS_AGREE: f64 = 0.01;

/// Fewer pixels to the mm than this do not show the middle of a pencil line.
pub const FEWEST_PER_MM: f64 = 3.0;

/// What tells the size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// Pixels to the inch, as the command says or as the file says.
    Dots {
        /// Across and down.
        per_inch: [f64; 2],
        /// Whether the file says so.
        from_file: bool,
    },
    /// A card of the size ID-1, and its tilt in degrees.
    Card {
        /// How far the camera was tilted.
        tilt: f64,
    },
    /// The printed tracing sheet, and its tilt in degrees.
    Sheet {
        /// How far the camera was tilted.
        tilt: f64,
    },
    /// A drawing in true size.
    Drawing,
}

/// The size of the picture.
#[derive(Debug, Clone)]
pub struct Reference {
    /// What tells it.
    pub kind: Kind,
    /// From pixels to mm.
    pub projection: Projection,
    /// Where nothing is a tracing: on the card, or beside the field of the sheet.
    pub apart: Apart,
    /// From pixels to the axes of the tracing sheet, if the foot was drawn on one.
    pub sheet: Option<Projection>,
}

/// Finds what tells the size of the picture. `None` if there is nothing, or if it is not good enough; then
/// `diagnostics` says why.
pub fn find(
    picture: &Picture,
    ink: &Ink,
    level: f32,
    wish: &Wish,
    diagnostics: &mut Diagnostics,
) -> Option<Reference> {
    let averaged = picture.averaged as f64;
    let said = wish.dots_per_inch.map(|dots| [dots / averaged; 2]);
    if let (Some(said), Some(file)) = (wish.dots_per_inch, picture.resolution) {
        let told = says_otherwise(said, file.map(|r| r * averaged));
        told.into_iter().for_each(|told| diagnostics.push(told));
    }
    let scanned = said.or(picture.resolution).filter(|_| !wish.card);
    let pixel = scanned.map_or([1.0; 2], |per_inch| per_inch.map(|r| INCH / r));
    let seen = in_picture(ink, level, picture.focal, pixel, wish);
    // a scan knows its size by itself, however its sheet was printed
    let mut field = Apart::Nowhere;
    let seen = seen.map_err(|unseen| match unseen {
        Unseen::Stretched(per_mm, corners) => {
            if let Some(per_inch) = scanned {
                diagnostics.push(stretched_in_a_scan(per_mm, per_inch));
                field = Apart::Outside(corners);
            }
            Box::new(stretched(per_mm, averaged))
        }
        Unseen::Otherwise(why) => why,
    });
    let reference = match (scanned, seen) {
        (Some(per_inch), seen) => {
            let seen = seen.ok();
            // a scanner is truer than a printer, but what a file says may be a habit of a program
            let believed = seen.as_ref().filter(|_| said.is_none());
            let believed = believed.filter(|seen| differs(per_inch, seen, picture));
            match believed {
                Some(seen) => {
                    diagnostics.push(not_believed(per_inch, averaged, seen, picture));
                    seen.clone()
                }
                None => Reference {
                    kind: Kind::Dots {
                        per_inch: per_inch.map(|r| r * averaged),
                        from_file: said.is_none(),
                    },
                    projection: Projection::Scan(per_inch.map(|r| INCH / r)),
                    apart: seen.as_ref().map_or(field, |seen| seen.apart),
                    sheet: seen.and_then(|seen| seen.sheet),
                },
            }
        }
        (None, Ok(seen)) => seen,
        (None, Err(why)) => {
            diagnostics.push(*why);
            return None;
        }
    };
    let good = is_straight_enough(reference.projection.tilt(), diagnostics)
        && is_fine_enough(picture, &reference, diagnostics);
    good.then_some(reference)
}

/// Why nothing in the picture tells its size.
enum Unseen {
    /// The tracing sheet is stretched: pixels to a millimetre of it across and down, and its field.
    Stretched([f64; 2], [Point; 4]),
    /// As it is said.
    Otherwise(Box<Diagnostic>),
}

/// The tracing sheet or the card in the picture, whose pixels are so wide and high.
///
/// # Errors
/// Why there is none.
fn in_picture(
    ink: &Ink,
    level: f32,
    focal: Option<f64>,
    pixel: [f64; 2],
    wish: &Wish,
) -> Result<Reference, Unseen> {
    let mut part = None;
    if !wish.card {
        match sheet::find(ink, level, focal, pixel) {
            Ok(Some(sheet)) => {
                let projection = Projection::Photo(Box::new(sheet.photo));
                return Ok(Reference {
                    kind: Kind::Sheet {
                        tilt: projection.tilt(),
                    },
                    sheet: Some(projection.clone()),
                    projection,
                    apart: Apart::Outside(sheet.field),
                });
            }
            Ok(None) => {}
            Err(SheetFault::Part(seen)) => part = Some(part_of_a_sheet(seen)),
            Err(SheetFault::Stretched { per_mm, field }) => {
                return Err(Unseen::Stretched(per_mm, field));
            }
        }
    }
    match card::find(ink, level, focal) {
        Ok(card) => {
            let projection = Projection::Photo(Box::new(card.photo));
            Ok(Reference {
                kind: Kind::Card {
                    tilt: projection.tilt(),
                },
                projection,
                apart: Apart::Card(card.corners),
                sheet: None,
            })
        }
        Err(fault) => {
            let why = part.unwrap_or_else(|| no_card(fault));
            Err(Unseen::Otherwise(Box::new(why)))
        }
    }
}

/// Whether the picture cannot be a scan of this resolution, because of what is seen in it.
fn differs(per_inch: [f64; 2], seen: &Reference, picture: &Picture) -> bool {
    let [width, height] = picture.size().map(|s| 0.5 * s as f64);
    let coarsest = seen.projection.coarsest(Point::new(width, height));
    let times = coarsest / (INCH / per_inch[0].min(per_inch[1]));
    (times - 1.0).abs() > NO_SCAN || seen.projection.tilt() > NO_SCAN_TILT
}

fn not_believed(
    per_inch: [f64; 2],
    averaged: f64,
    seen: &Reference,
    picture: &Picture,
) -> Diagnostic {
    let [width, height] = picture.size().map(|s| 0.5 * s as f64);
    let coarsest = seen.projection.coarsest(Point::new(width, height));
    let (said, found) = (per_inch[0] * averaged, INCH / coarsest * averaged);
    let what = match seen.kind {
        Kind::Sheet { .. } => "the tracing sheet",
        _ => "the card",
    };
    let message = format!(
        "the file says that it has {said:.0} pixels to the inch, but by {what} in it they are {found:.0} in the \
         middle, which was believed"
    );
    let told = Diagnostic::warning("trace-resolution", None, message);
    told.remedy("if it is a scan, say its resolution with --dpi")
}

/// What the designer says of the resolution against what the file says of itself.
fn says_otherwise(said: f64, file: [f64; 2]) -> Option<Diagnostic> {
    let [across, down] = file;
    let mean = (across * down).sqrt();
    let times = mean / said;
    if file
        .iter()
        .all(|r| (r / said - 1.0).abs() < RESOLUTIONS_AGREE)
    {
        return None;
    }
    let file = match (across / down - 1.0).abs() < RESOLUTIONS_AGREE {
        true => format!("{across:.0}"),
        false => format!("{across:.0} across and {down:.0} down"),
    };
    let message = format!(
        "--dpi says {said:.0} pixels to the inch, the file says {file}: what was said is believed, which makes \
         everything {times:.2} times as large as the file has it"
    );
    let told = Diagnostic::warning("trace-resolution", None, message);
    Some(told.remedy(
        "if the picture comes from the scanner as it is, leave --dpi out; say it only where a program has \
         written a wrong figure into the file",
    ))
}

/// How much a length across and one down the sheet differ.
fn by_how_much([across, down]: [f64; 2]) -> String {
    let (times, way) = match down > across {
        true => (down / across, "down"),
        false => (across / down, "across"),
    };
    format!("{:.1} % longer {way}", 100.0 * (times - 1.0))
}

fn stretched(per_mm: [f64; 2], averaged: f64) -> Diagnostic {
    let [across, down] = per_mm.map(|pixels| 100.0 * pixels * averaged);
    let message = format!(
        "the tracing sheet is stretched: 100 mm of it are {across:.0} pixels across and {down:.0} down, {}",
        by_how_much(per_mm)
    );
    let told = Diagnostic::error("trace-stretched", None, message);
    told.remedy(
        "measure the printed sheet with a rule: the rings must be 180 mm apart across and 240 mm down. If they \
         are not, print it again at 100 % (‘actual size’, not ‘fit to page’); if they are, take the picture as \
         scanner or camera made it, before any program changed its shape",
    )
}

fn stretched_in_a_scan(per_mm: [f64; 2], per_inch: [f64; 2]) -> Diagnostic {
    let share = [0, 1].map(|i| per_mm[i] * INCH / per_inch[i]);
    let [across, down] = [180.0 * share[0], 240.0 * share[1]];
    let message = format!(
        "the tracing sheet is stretched: the rings are {across:.1} mm apart across (180 mm were meant) and \
         {down:.1} mm down (240 mm), {}; the size is taken from the resolution of the scan alone",
        by_how_much(share)
    );
    let told = Diagnostic::warning("trace-stretched", None, message);
    told.remedy(
        "measure the rings on the printed sheet with a rule: if they are as far apart as here, the scan is right \
         and the print was not made at 100 %; if they are as they were meant, the scan is wrong: make it again",
    )
}

fn is_straight_enough(tilt: f64, diagnostics: &mut Diagnostics) -> bool {
    if tilt <= TILT + TILT_KNOWN {
        return true;
    }
    let message = format!("the camera was tilted by {tilt:.0}° against the paper");
    let told = Diagnostic::error("trace-tilt", None, message);
    diagnostics.push(told.remedy(format!(
        "photograph it again from straight above; up to {TILT:.0}° can be straightened"
    )));
    false
}

fn part_of_a_sheet(seen: usize) -> Diagnostic {
    let message = format!("only {seen} of the four targets of the tracing sheet can be read");
    let told = Diagnostic::error("trace-sheet", None, message);
    told.remedy(
        "photograph the whole sheet, flat and sharp, with nothing lying on the rings in its corners",
    )
}

fn no_card(fault: CardFault) -> Diagnostic {
    let [width, height] = CARD;
    match fault {
        CardFault::None => Diagnostic::error(
            "trace-no-scale",
            None,
            "nothing in the picture tells how large it is: the file names no resolution of a scan, and \
             neither a tracing sheet nor a card was found",
        )
        .remedy(format!(
            "scan it and say --dpi 300 (what the scanner was set to), or draw on the page that \
             ‘pressfoot sheet tracing’ makes, or lay a plain dark card of {width:.1} by {height:.2} mm (a \
             bank card's size) flat beside the tracing, whole in the picture"
        )),
        CardFault::CutOff => Diagnostic::error(
            "trace-card-cut",
            None,
            "something like a card lies across the border of the picture, and no whole one was found",
        )
        .remedy("photograph it again with the whole card and the whole tracing in the picture"),
    }
}

fn is_fine_enough(picture: &Picture, reference: &Reference, diagnostics: &mut Diagnostics) -> bool {
    let [width, height] = picture.size().map(|s| s as f64);
    let per_pixel = reference
        .projection
        .coarsest(Point::new(0.5 * width, 0.5 * height));
    let per_mm = 1.0 / per_pixel;
    if per_mm >= FEWEST_PER_MM {
        return true;
    }
    let message = format!(
        "the picture has {per_mm:.1} pixels to the millimetre; at least {FEWEST_PER_MM:.0} are needed \
         to find the middle of a line"
    );
    let remedy = "scan at 150 to 300 pixels to the inch, or photograph from nearer and send the \
                  picture at its full size";
    diagnostics.push(Diagnostic::error("trace-coarse", None, message).remedy(remedy));
    false
}
