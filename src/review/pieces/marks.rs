//! Buttons, buttonholes and holes against the cloth round them.

use super::shape::distance_to;
use super::{One, Said};
use crate::design::{Trim, TrimKind};
use crate::diagnostic::Level;
use crate::piece::{MarkKind, Piece};
use kurbo::Point;

/// A buttonhole is longer than its button is wide by at least this, mm: what the button's thickness
/// takes (common practice: its thickness; 1 mm is the thinnest).
const SLACK: f64 = 1.0;

/// Cloth that is left between a hole and the edge: at least this, mm, and this share of the hole
/// (common practice).
const LEFT: f64 = 1.5;
const LEFT_SHARE: f64 = 0.5;

fn bought<'a>(one: &One<'a>) -> impl Iterator<Item = &'a Trim> + use<'a> {
    one.design
        .trims
        .iter()
        .filter(|trim| trim.kind == TrimKind::Button)
}

/// A button is no wider than the strap or the piece it sits on.
pub(super) fn buttons(one: &One, said: &mut Said) {
    buttons_on_strap(one, said);
    for (piece, spec) in one.pieces() {
        for (number, mark) in piece.marks.iter().enumerate() {
            let MarkKind::Button { at, diameter } = mark.kind else {
                continue;
            };
            let room = room(piece, at);
            if 0.5 * diameter <= room + 0.05 {
                continue;
            }
            let message = format!(
                "A button of {diameter:.1} mm on {} hangs over its edge, {room:.1} mm from its \
                 middle{}",
                piece.title,
                one.inside()
            );
            let remedy = "Take a smaller button, or move it inwards.";
            let place = spec.place_of_mark(number);
            let what = format!("{} {number}", piece.key);
            said.tell(
                Level::Warning,
                "button-too-wide",
                &what,
                (place, message, remedy),
            );
        }
    }
}

fn buttons_on_strap(one: &One, said: &mut Said) {
    let shoe = one.design.shoe.as_ref();
    let Some(look) = shoe.map(|shoe| &shoe.look).filter(|look| look.button) else {
        return;
    };
    let Some(strap) = look.strap.as_ref().and_then(|f| one.length(f)) else {
        return;
    };
    for trim in bought(one) {
        let Some(width) = trim.width.filter(|width| *width > strap + 0.05) else {
            continue;
        };
        let message = format!(
            "{} is {width:.1} mm across, the strap it sits on {strap:.1} mm{}",
            trim.name,
            one.inside()
        );
        let remedy = "Take a button no wider than the strap, or a wider strap.";
        said.tell(
            Level::Warning,
            "button-too-wide",
            &trim.key,
            (&trim.place, message, remedy),
        );
    }
}

/// How far a point lies inside a piece's finished outline; over a fold there is more of it.
fn room(piece: &Piece, at: Point) -> f64 {
    let edges = piece.outline.edges().iter();
    let real = edges.filter(|edge| piece.fold.as_deref() != Some(edge.name.as_str()));
    let near = real.map(|edge| distance_to(&edge.curve, at));
    near.fold(f64::INFINITY, f64::min)
}

/// A button goes through its buttonhole.
pub(super) fn buttonholes(one: &One, said: &mut Said) {
    let widths = bought(one).filter_map(|trim| trim.width);
    let Some(button) = widths.min_by(f64::total_cmp) else {
        return;
    };
    for (piece, spec) in one.pieces() {
        for (number, mark) in piece.marks.iter().enumerate() {
            let MarkKind::Buttonhole { from, to } = mark.kind else {
                continue;
            };
            let length = from.distance(to);
            if length >= button + SLACK - 0.05 {
                continue;
            }
            let level = if length < button {
                Level::Error
            } else {
                Level::Warning
            };
            let message = format!(
                "A buttonhole of {length:.1} mm on {} is too short for a button of {button:.1} mm{}",
                piece.title,
                one.inside()
            );
            let remedy = "Make it as long as the button is wide and thick together.";
            let place = spec.place_of_mark(number);
            let what = format!("{} {number}", piece.key);
            said.tell(
                level,
                "buttonhole-too-small",
                &what,
                (place, message, remedy),
            );
        }
    }
}

/// A hole keeps cloth round it, or it tears out.
pub(super) fn edges(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces() {
        for (number, mark) in piece.marks.iter().enumerate() {
            let (left, wide, what) = match mark.kind {
                MarkKind::Hole { at, diameter } => {
                    (room(piece, at) - 0.5 * diameter, diameter, "hole")
                }
                MarkKind::Eyelet { at, diameter } => {
                    (room(piece, at) - 0.5 * diameter, diameter, "eyelet")
                }
                MarkKind::Buttonhole { from, to } => {
                    (room(piece, from).min(room(piece, to)), 0.0, "buttonhole")
                }
                MarkKind::Button { .. } | MarkKind::Line { .. } => continue,
            };
            let least = LEFT.max(LEFT_SHARE * wide);
            if left >= least - 0.05 {
                continue;
            }
            let message = format!(
                "Between a {what} on {} and its edge only {:.1} mm are left{}",
                piece.title,
                left.max(0.0),
                one.inside()
            );
            let remedy = format!("Leave at least {least:.1} mm, or it tears out.");
            let place = spec.place_of_mark(number);
            let what = format!("{} {number}", piece.key);
            said.tell(
                Level::Warning,
                "mark-near-edge",
                &what,
                (place, message, &remedy),
            );
        }
    }
}
