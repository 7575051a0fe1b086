//! One piece as a drawing for a cutter, its reference square below it. Millimetres.

use super::form::Form;
use super::lines::PieceLines;
use super::plot::{Plot, bounds};
use super::reference_square;
use crate::design::{Cutting, LengthStyle};
use kurbo::{Point, Rect};

/// White round the drawing, mm, so that no viewer cuts off half of a line.
const BORDER: f64 = 1.0;

/// The text of `cut/<size>/<piece>.svg`. A piece kept as a half, to be cut on the fold, is drawn whole.
pub(super) fn piece_file(
    form: &Form<'_>,
    size: &str,
    cutting: &Cutting,
    lengths: LengthStyle,
) -> String {
    let lines = PieceLines::of(form, false);
    let mut view = bounds(&lines);
    let mut plot = Plot::default();
    plot.pieces(&[(form.piece.key.clone(), lines)]);
    if let Some(side) = cutting.reference_square {
        let at = Point::new(view.x0, view.y1 + reference_square::CLEAR);
        reference_square::draw(&mut plot, side, at, lengths);
        view = view.union(Rect::from_origin_size(at, (side, side)));
    }
    let title = format!("{}, {size}", form.piece.title);
    plot.svg(&title, view.inflate(BORDER, BORDER), &cutting.colours)
}

#[cfg(test)]
mod tests;
