//! One length or sheet of cloth with the pieces that lie on it, as a drawing for a cutter. The upper left
//! corner of the cloth is the origin; its border is only to be looked at. Millimetres.

use super::form::form_from;
use super::lines::PieceLines;
use super::plot::{Plot, Purpose};
use super::reference_square::{self, CLEAR};
use crate::design::{Cutting, LengthStyle};
use crate::geometry::probe::is_inside;
use crate::materials::{Laid, Layout};
use crate::piece::{Piece, SizedPieces};
use crate::plates::ink::path_of;
use kurbo::{BezPath, Point, Rect, Shape};

/// Steps in which a free place for the reference square is sought, mm.
const STEP: f64 = 5.0;

/// White below the cloth, mm, if the square stands there.
const BELOW: f64 = 1.0;

/// What the layouts of a design are drawn from.
#[derive(Debug, Clone, Copy)]
pub(super) struct LayoutJob<'a> {
    /// The finished pieces of all sizes.
    pub sizes: &'a [SizedPieces],
    /// How cut files are drawn.
    pub cutting: &'a Cutting,
    /// How lengths are written.
    pub lengths: LengthStyle,
}

impl LayoutJob<'_> {
    /// The text of a layout's file. On cloth that is laid double the pieces on the fold are halves, and
    /// nothing is cut along the fold.
    pub fn file(&self, layout: &Layout, laid: &Laid, title: &str) -> String {
        let pieces = self.pieces(layout, laid);
        let border = closed(&laid.outline);
        let cloth = border.bounding_box();
        let mut plot = Plot::default();
        let fold = [(cloth.x0, cloth.y0), (cloth.x1, cloth.y0)].map(Point::from);
        if layout.double {
            plot.keep_off(&path_of(&fold));
        }
        plot.pieces(&pieces);
        let mut view = cloth;
        if let Some(side) = self.cutting.reference_square {
            let at = self.free_place(laid, &border, &pieces, side);
            reference_square::draw(&mut plot, side, at, self.lengths);
            view = view.union(Rect::from_origin_size(at, (side, side)));
            if view.y1 > cloth.y1 {
                view.y1 += BELOW;
            }
        }
        plot.path(Purpose::Guide, None, &border);
        if layout.double {
            plot.whole(Purpose::Guide, &path_of(&fold));
        }
        plot.svg(title, view, &self.cutting.colours)
    }

    /// The pieces as they lie, each under its key.
    fn pieces(&self, layout: &Layout, laid: &Laid) -> Vec<(String, PieceLines)> {
        let lay = &layout.lay;
        let drawn = laid.placed.iter().filter_map(|placed| {
            let laid = lay.pieces.get(placed.piece)?;
            let piece = self.piece(&laid.size, &laid.key)?;
            let form = form_from(piece, &lay.cloth, self.cutting);
            let lines = PieceLines::of(&form, laid.on_fold);
            Some((piece.key.clone(), lines.moved(placed.onto * laid.onto_lay)))
        });
        drawn.collect()
    }

    fn piece(&self, size: &str, key: &str) -> Option<&Piece> {
        let sized = self.sizes.iter().find(|sized| sized.size == size)?;
        sized.pieces.iter().find(|piece| piece.key == key)
    }

    /// Where the reference square stands: on the cloth clear of all pieces, as near to its start as can
    /// be, so that the rest stays whole; below the cloth if there is no such place.
    fn free_place(
        &self,
        laid: &Laid,
        border: &BezPath,
        pieces: &[(String, PieceLines)],
        side: f64,
    ) -> Point {
        let cloth = border.bounding_box();
        let boxes: Vec<Rect> = pieces
            .iter()
            .map(|(_, lines)| lines.outline.bounding_box().inflate(CLEAR, CLEAR))
            .collect();
        let is_hide = laid.outline.len() != 4;
        let fits = |at: Point| {
            let square = Rect::from_origin_size(at, (side, side));
            let meets = |other: &Rect| square.overlaps(*other);
            let around = square.inflate(CLEAR, CLEAR).to_path(0.1);
            let inside = |p: Point| is_inside(border, p);
            !boxes.iter().any(meets) && (!is_hide || points(&around).all(inside))
        };
        let last = |low: f64, high: f64| {
            let room = high - low - side - 2.0 * CLEAR;
            (room >= 0.0).then(|| (low + CLEAR, (room / STEP).floor() as usize))
        };
        let (across, down) = (last(cloth.x0, cloth.x1), last(cloth.y0, cloth.y1));
        let places = across
            .zip(down)
            .into_iter()
            .flat_map(|((x, right), (y, low))| {
                (0..=right).flat_map(move |i| {
                    let down = 0..=low;
                    down.map(move |j| Point::new(x + i as f64 * STEP, y + j as f64 * STEP))
                })
            });
        let mut places = places.take(MOST_PLACES);
        let below = Point::new(cloth.x0, cloth.y1 + CLEAR);
        places.find(|at| fits(*at)).unwrap_or(below)
    }
}

/// So many places are tried at most: a length of cloth of ten metres has no more.
const MOST_PLACES: usize = 100_000;

fn closed(ring: &[Point]) -> BezPath {
    let mut path = path_of(ring);
    path.close_path();
    path
}

fn points(path: &BezPath) -> impl Iterator<Item = Point> {
    path.segments()
        .map(|segment| kurbo::ParamCurve::start(&segment))
}

#[cfg(test)]
mod tests;
