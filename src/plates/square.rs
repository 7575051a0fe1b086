//! The two test squares that every plate carries: 5 cm and 2 in, measured to the middle of their
//! line. Millimetres, in the axes of the live area.

use super::field::Field;
use kurbo::{Point, Rect};

/// Sides of the squares, mm: 5 cm, and 2 in of 25.4 mm.
pub const SIDES: [f64; 2] = [50.0, 50.8];

/// From the first square's left side to the second's, where they stand in their usual place.
const PITCH: f64 = 54.0;

/// Height of the strip that the squares need at the foot of the live area, with its space above.
pub const STRIP: f64 = 57.0;

/// Squares keep this far from every line.
pub const CLEAR: f64 = 2.0;

/// A square in place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Square {
    /// Upper left corner.
    pub at: Point,
    /// Side, mm.
    pub side: f64,
    /// Whether it stands inside a piece, and must say that it is no part of it.
    pub in_piece: bool,
}

impl Square {
    /// Room of the square with its line.
    pub fn bounds(&self) -> Rect {
        Rect::from_origin_size(self.at, (self.side, self.side)).inflate(0.125, 0.125)
    }
}

/// The usual place: lower left of the live area, which is `height` mm high.
pub fn usual(height: f64) -> [Square; 2] {
    let y = height - SIDES[1] - 0.2;
    let square = |x: f64, side: f64| Square {
        at: Point::new(x, y),
        side,
        in_piece: false,
    };
    [square(0.0, SIDES[0]), square(PITCH, SIDES[1])]
}

/// The pair in the upper right corner of a large sheet, above its live area, which is `width` mm wide.
pub fn opposite(width: f64) -> [Square; 2] {
    let square = |x: f64, side: f64| Square {
        at: Point::new(x, -STRIP),
        side,
        in_piece: false,
    };
    [
        square(width - PITCH - SIDES[1], SIDES[0]),
        square(width - SIDES[1], SIDES[1]),
    ]
}

/// A place for both squares: side by side outside the pieces if possible, then singly outside,
/// then inside; always as near to the lower left of `area` as they come. `outside` and `inside`
/// are the fields in which the other side of the pieces' outlines is blocked.
pub fn find(outside: &Field, inside: &Field, area: Rect) -> Option<[Square; 2]> {
    let cost = |r: Rect| 2.0 * (area.y1 - r.y1) + (r.x0 - area.x0);
    for (field, in_piece) in [(outside, false), (inside, true)] {
        if let Some(rect) = field.place((PITCH + SIDES[1], SIDES[1]), CLEAR, cost) {
            let square = |x: f64, side: f64| Square {
                at: rect.origin() + kurbo::Vec2::new(x, 0.0),
                side,
                in_piece,
            };
            return Some([square(0.0, SIDES[0]), square(PITCH, SIDES[1])]);
        }
        if !in_piece && let Some(stacked) = stacked(outside, cost) {
            return Some(stacked);
        }
    }
    let first = single(outside, inside, SIDES[0], cost)?;
    let mut outside = outside.mask();
    let mut inside = inside.mask();
    outside.block_rect(first.bounds());
    inside.block_rect(first.bounds());
    let second = single(&outside.seal(), &inside.seal(), SIDES[1], cost)?;
    Some([first, second])
}

/// One above the other, outside.
fn stacked(outside: &Field, cost: impl Fn(Rect) -> f64) -> Option<[Square; 2]> {
    let rect = outside.place((SIDES[1], PITCH + SIDES[1]), CLEAR, cost)?;
    let square = |y: f64, side: f64| Square {
        at: rect.origin() + kurbo::Vec2::new(0.0, y),
        side,
        in_piece: false,
    };
    Some([square(0.0, SIDES[0]), square(PITCH, SIDES[1])])
}

fn single(
    outside: &Field,
    inside: &Field,
    side: f64,
    cost: impl Fn(Rect) -> f64,
) -> Option<Square> {
    let place = |field: &Field, in_piece| {
        let rect = field.place((side, side), CLEAR, &cost)?;
        Some(Square {
            at: rect.origin(),
            side,
            in_piece,
        })
    };
    place(outside, false).or_else(|| place(inside, true))
}
