//! What is to be packed, made ready: every piece, every shape it may take, and what is in its way.
//! mm, y down.

use super::item::Placed;
use super::shape::Shapes;
use kurbo::{Rect, Vec2};

/// One copy of an item.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub(super) item: usize,
    pub(super) copy: usize,
}

/// A shape in its place: in which bay and shifted by how much from where its ring is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub(super) shape: usize,
    pub(super) bay: usize,
    pub(super) at: Vec2,
}

/// A lay that can be cut, with its length in the last bay, mm.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) places: Vec<Place>,
    pub(super) length: f64,
}

/// All that stays the same during a search.
#[derive(Debug)]
pub(super) struct Task {
    pub(super) shapes: Shapes,
    pub(super) pieces: Vec<Piece>,
    /// For each item the shapes it may take.
    pub(super) choices: Vec<Vec<usize>>,
    /// What no piece may overlap: the surroundings and the holes of irregular sheets.
    pub(super) fixed: Vec<Place>,
}

impl Task {
    /// The shapes that a piece may take.
    pub(super) fn choices_of(&self, piece: usize) -> &[usize] {
        &self.choices[self.pieces[piece].item]
    }

    /// The shifts that keep a shape within a bay, or nothing where it does not fit.
    pub(super) fn range(&self, shape: usize, bay: &Rect) -> Option<Rect> {
        let shape = &self.shapes.all[shape];
        let b = &shape.bounds;
        let mut range = Rect::new(bay.x0 - b.x0, bay.y0 - b.y0, bay.x1 - b.x1, bay.y1 - b.y1);
        if let Some(height) = shape.held_at {
            range.y0 = height;
            range.y1 = range.y1.max(height);
            if b.y1 + height > bay.y1 {
                return None;
            }
            range.y1 = height;
        }
        (range.x0 <= range.x1 && range.y0 <= range.y1).then_some(range)
    }

    /// The places as they are given back, in the order of the pieces.
    pub(super) fn placed(&self, places: &[Place]) -> impl Iterator<Item = Placed> {
        self.pieces.iter().zip(places).map(|(piece, place)| {
            let shape = &self.shapes.all[place.shape];
            Placed {
                item: piece.item,
                copy: piece.copy,
                turn_deg: shape.turn_deg,
                mirrored: shape.mirrored,
                by: place.at,
            }
        })
    }

    /// The pieces from the hardest to place to the easiest, by the size of the shape they have.
    pub(super) fn by_size(&self) -> Vec<usize> {
        let size = |piece: usize| {
            let shapes = self
                .choices_of(piece)
                .iter()
                .map(|&shape| &self.shapes.all[shape]);
            shapes
                .map(|shape| shape.size * shape.diagonal)
                .fold(0.0, f64::max)
        };
        let mut order: Vec<usize> = (0..self.pieces.len()).collect();
        order.sort_by(|&a, &b| size(b).total_cmp(&size(a)).then(a.cmp(&b)));
        order
    }
}
