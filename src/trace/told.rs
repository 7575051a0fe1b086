//! What is said to the designer of a picture that cannot be traced, or not wholly; and how far what was
//! traced is believed.

use super::light::Ink;
use super::picture::PictureFault;
use super::reference::{Kind, Reference};
use super::shapes::Shapes;
use super::{LONGEST_GAP, Toe};
use crate::diagnostic::Diagnostic;
use kurbo::Point;

/// A length that may be off by more than this share is told: half a shoe size of a person is 1/60 of a foot.
const MOST_UNCERTAIN: f64 = 1.0 / 70.0;

/// Less of the picture than this, as evenly lit paper, and lines cannot be told from shadows.
const LEAST_PAPER: f64 = 0.25;

/// Paper darker than this in places, of 1 (16 % of what a screen shows), hides lines.
const DARKEST_PAPER: f64 = 0.02;

/// Paper whose light varies more than this from pixel to pixel.
const MOST_NOISE: f64 = 0.15;

/// How true flatbed scanners are, as a share of a length, one standard deviation (common practice).
const SCANNER: f64 = 0.0015;

/// How true a card is, as a share of a length, one standard deviation: a quarter of the spread that
/// ISO/IEC 7810 leaves to the card's width when it is new, and its thickness of 0.76 mm seen from 30 cm.
const CARD: f64 = 0.0012;

/// How true printers are at their full size, as a share of a length, one standard deviation (common
/// practice: the test squares of plates are held to one part in a hundred at most).
const PRINTER: f64 = 0.002;

/// How far the middle of a pen line lies off what the hand drew, mm (common practice).
const HAND: f64 = 0.05;

/// A place of the picture in words.
fn place_in(place: Point, [width, height]: [f64; 2]) -> String {
    format!(
        "{:.0} % of the picture's width from the left and {:.0} % of its height from the top",
        (100.0 * place.x / width).clamp(0.0, 100.0),
        (100.0 * place.y / height).clamp(0.0, 100.0)
    )
}

/// The file cannot be decoded.
pub(super) fn unreadable(fault: &PictureFault) -> Diagnostic {
    let (message, remedy) = match fault {
        PictureFault::Unknown => (
            "the file is neither a PNG nor a JPEG picture".to_string(),
            "save the scan as PNG or JPEG",
        ),
        PictureFault::TooLarge(width, height) => (
            format!("the picture has {width} by {height} pixels, more than are read"),
            "scan it at 300 pixels to the inch: more does not make the line truer",
        ),
        PictureFault::Broken(why) => (
            format!("the picture cannot be read ({why})"),
            "save it again, or copy it again from the camera",
        ),
    };
    Diagnostic::error("trace-unreadable", None, message).remedy(remedy)
}

/// Light in which nothing can be traced.
pub(super) fn bad_light(ink: &Ink) -> Option<Diagnostic> {
    let message = if ink.darkest < DARKEST_PAPER {
        "the paper is so dark in places that a line cannot be seen on it".to_string()
    } else if ink.paper < LEAST_PAPER {
        format!(
            "only {:.0} % of the picture is evenly lit paper",
            100.0 * ink.paper
        )
    } else if ink.noise > MOST_NOISE {
        "the paper is so grainy that a line cannot be told from it".to_string()
    } else {
        return None;
    };
    let remedy = "lay the sheet flat in daylight without hard shadows, fill the picture with it, and \
                  photograph it again";
    Some(Diagnostic::error("trace-light", None, message).remedy(remedy))
}

/// The paper has lines of its own.
pub(super) fn ruled(lines: usize) -> Diagnostic {
    let message = format!(
        "the paper is ruled or squared: {lines} straight lines run across it, and cannot be told from what \
         was drawn"
    );
    let remedy = "trace on plain paper; a tracing that is there already shows through plain paper held \
                  against a window: draw it again on that";
    Diagnostic::error("trace-ruled", None, message).remedy(remedy)
}

/// Nothing closed was found.
pub(super) fn no_shape(shapes: &Shapes, size: [f64; 2]) -> Diagnostic {
    if let Some(place) = shapes.cut.or(shapes.cut_filled) {
        let message = format!(
            "the tracing is cut by the border of the picture, {}",
            place_in(place, size)
        );
        let remedy = "scan or photograph it again with white paper all round the line";
        return Diagnostic::error("trace-cut", None, message).remedy(remedy);
    }
    if shapes.lines {
        let message = "there are lines in the picture, but none that goes all round a shape";
        let remedy = "close the line with the pencil, drawn firmly, and scan it again";
        return Diagnostic::error("trace-open", None, message).remedy(remedy);
    }
    let message = "there is no closed line and no cut-out shape in the picture";
    let remedy = "trace round the foot with a dark pen or a soft pencil on white paper, or cut the foot \
                  out of dark paper";
    Diagnostic::error("trace-no-shape", None, message).remedy(remedy)
}

/// One shape is whole, another is not.
pub(super) fn also_cut(place: Point, size: [f64; 2]) -> Diagnostic {
    let message = format!(
        "something drawn runs off the picture and was left out, {}",
        place_in(place, size)
    );
    let told = Diagnostic::warning("trace-cut", None, message);
    told.remedy("if it is a tracing, scan or photograph it again with white paper all round it")
}

/// A gap of `long` mm in the line, at `place` in a picture of `size`, pixels.
pub(super) fn gap(place: Point, long: f64, size: [f64; 2]) -> Diagnostic {
    let place = place_in(place, size);
    if long > LONGEST_GAP {
        let message = format!("the line is broken for {long:.1} mm, {place}");
        let remedy = format!(
            "draw the missing part and scan it again; only gaps up to {LONGEST_GAP:.0} mm are bridged"
        );
        return Diagnostic::error("trace-open", None, message).remedy(remedy);
    }
    let message = format!("a gap of {long:.1} mm in the line was bridged, {place}");
    let told = Diagnostic::warning("trace-gap", None, message);
    told.remedy("look at the place in the picture that shows what was taken")
}

/// The line crosses itself.
pub(super) fn crosses(place: Point, size: [f64; 2]) -> Diagnostic {
    let message = format!("the line crosses itself, {}", place_in(place, size));
    let remedy = "draw the outline again with one single line on a new sheet";
    Diagnostic::error("tracing-crosses", None, message).remedy(remedy)
}

/// Nothing tells heel from toe.
pub(super) fn which_is_the_toe(both: [Point; 2], toe: Option<Toe>, size: [f64; 2]) -> Diagnostic {
    let [a, b] = both.map(|place| place_in(place, size));
    let message = match toe {
        None => format!(
            "both halves are equally broad, so that heel and toe cannot be told apart: one is {a}, the other {b}"
        ),
        Some(_) => format!(
            "the foot does not point the way that --toe says: one end is {a}, the other {b}"
        ),
    };
    let remedy = "say where the toe is in the picture: --toe up, down, left or right";
    Diagnostic::error("trace-heel", None, message).remedy(remedy)
}

/// The length is known to `accuracy` only, both mm; `None` if that is well enough.
pub(super) fn uncertain(accuracy: f64, length: f64) -> Option<Diagnostic> {
    if accuracy < MOST_UNCERTAIN * length {
        return None;
    }
    let message =
        format!("the length of {length:.1} mm is believed to be true only to {accuracy:.1} mm");
    let told = Diagnostic::warning("trace-uncertain", None, message);
    Some(told.remedy(
        "scan it, or photograph it from straight above with the card close beside the foot",
    ))
}

/// How far the ends of a shape may be off, mm, one standard deviation, from the line itself: the hand, and
/// a tenth of a pixel at each end, less for many places seen.
pub(super) fn line_uncertainty(per_pixel: f64, seen: usize) -> f64 {
    let pixel = 0.1 * per_pixel * 2.0_f64.sqrt();
    let few = (200.0 / seen.max(1) as f64).sqrt().max(1.0);
    HAND.hypot(pixel * few)
}

/// How far a length may be off, mm, one standard deviation, because of the size of the picture.
pub(super) fn scale_uncertainty(
    reference: &Reference,
    heel: Point,
    toe: Point,
    length: f64,
) -> f64 {
    match reference.kind {
        Kind::Dots { .. } => SCANNER * length,
        Kind::Drawing => 0.0,
        Kind::Sheet { .. } => {
            let seen = reference.projection.uncertainty(heel, toe);
            seen.hypot(PRINTER * length)
        }
        Kind::Card { .. } => {
            let seen = reference.projection.uncertainty(heel, toe);
            seen.hypot(CARD * length)
        }
    }
}
