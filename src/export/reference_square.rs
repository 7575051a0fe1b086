//! The square by which the scale is measured, with its measure in outlined letters: drawn, never cut.
//! Millimetres.

use super::plot::{Plot, Purpose};
use crate::design::LengthStyle;
use crate::design::printed::metric_in;
use crate::geometry::units::POINT;
use crate::plates::lettering::{CAP_HEIGHT, Face, outlines, width};
use kurbo::{Affine, Point, Rect, Shape};

/// Type of the measure, points: letters two millimetres high are still legible when they are burnt.
const TYPE: f64 = 8.0;

/// Between the square and what stands beside it, mm.
pub(super) const CLEAR: f64 = 4.0;

/// Draws the square with its upper left corner at `at`.
pub(super) fn draw(plot: &mut Plot, side: f64, at: Point, lengths: LengthStyle) {
    let square = Rect::from_origin_size(at, (side, side));
    plot.path(Purpose::Mark, None, &square.to_path(0.1));
    // in whole centimetres a square of 25 mm would be told as 2.5 cm, which rules do not say
    let lengths = LengthStyle {
        centimetres_from: f64::INFINITY,
        ..lengths
    };
    let words = metric_in(side, lengths);
    let across = width(&words, Face::Regular, TYPE);
    let points = TYPE * (0.8 * side / across).min(1.0);
    let across = across * points / TYPE;
    let down = CAP_HEIGHT * points * POINT;
    let start = square.center() + ((-across) / 2.0, down / 2.0);
    let letters = outlines(&words, Face::Regular, points);
    plot.whole(
        Purpose::Mark,
        &(Affine::translate(start.to_vec2()) * letters),
    );
}
