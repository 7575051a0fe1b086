//! The numbers of the pieces, under them and clear of lines that lead elsewhere. Millimetres on paper.

use super::plan::{Group, NUMBER_ROOM, Placed, Plan};
use super::ply::{NUMBERS, Numbered, numeral};
use crate::geometry::probe::is_inside;
use kurbo::{Affine, BezPath, ParamCurveNearest, PathEl, Point, Rect, Shape};

/// Round a number no letter stands.
const ROUND_NUMBER: (f64, f64) = (8.0, 3.0);

/// A number keeps this from a line that leads past it: nearer, it would be read as what the line leads to.
const CLEAR: f64 = 1.8;

/// From the side of its piece to the middle of a number that stands there.
const BESIDE: f64 = 2.0;

impl Plan {
    /// All numbers, each under its piece and clear of the lines `ways`, which lead past.
    pub(super) fn numbers(&self, placed: &Placed, ways: &[BezPath]) -> Vec<Numbered> {
        let groups = self.groups.iter().zip(&placed.onto);
        groups
            .filter_map(|(group, onto)| self.numbered(group, *onto, ways))
            .collect()
    }

    fn numbered(&self, group: &Group, onto: Affine, ways: &[BezPath]) -> Option<Numbered> {
        let number = group.number?;
        let bounds = onto.transform_rect_bbox(group.bounds());
        // an arrow may leave the piece at the middle
        let free = !self.crowded && self.links.is_empty() && group.arrows.is_empty();
        let beside = BESIDE * self.larger();
        let (left, middle, right) = (bounds.x0 + beside, bounds.center().x, bounds.x1 - beside);
        let tried = match free {
            true => vec![middle],
            false => vec![left, right, middle],
        };
        let y = bounds.y1 + (NUMBER_ROOM - 1.6) * self.larger();
        let size = self.numeral(number, Point::ZERO).bounding_box().size();
        let clear = CLEAR + size.to_vec2().hypot() / 2.0;
        let off = |x: &f64| off_ways(ways, Point::new(*x, y));
        let mut best = tried.first().map(|x| (*x, off(x)))?;
        for x in tried {
            let off = off(&x);
            if best.1 < clear && off > best.1 {
                best = (x, off);
            }
        }
        let at = Point::new(best.0, y);
        Some(Numbered { number, at })
    }

    /// The outlines of a number.
    pub(super) fn numeral(&self, number: usize, at: Point) -> BezPath {
        numeral(&number.to_string(), at, NUMBERS * self.larger())
    }

    /// Boxes round numbers and small letters, within which another letter would be read with them.
    pub(super) fn round_signs(&self, placed: &Placed, numbers: &[Numbered]) -> Vec<Rect> {
        let larger = self.larger();
        let (width, height) = ROUND_NUMBER;
        let of_number = |at: Point| Rect::from_center_size(at, (width * larger, height * larger));
        let numbers = numbers.iter().map(|numbered| of_number(numbered.at));
        let letters = self.tags(&placed.onto);
        let letters = letters.map(|(letter, at)| self.tag(letter, at).bounding_box());
        numbers.chain(letters).collect()
    }
}

/// How far a point is from the nearest of some lines; 0 within one that closes.
fn off_ways(ways: &[BezPath], at: Point) -> f64 {
    let off = |way: &BezPath| {
        let near = way.segments().map(|s| s.nearest(at, 1e-3).distance_sq);
        let closes = way.elements().last() == Some(&PathEl::ClosePath);
        match closes && is_inside(way, at) {
            true => 0.0,
            false => near.fold(f64::INFINITY, f64::min).sqrt(),
        }
    };
    ways.iter().map(off).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::Tint;
    use crate::figure::flat::ply::Ply;
    use crate::plates::fixtures::piece;
    use crate::plates::ink::path_of;
    use kurbo::Vec2;

    #[test]
    fn a_number_stands_where_no_line_leads_past_it() {
        let edges = [("rim", "M0 0 L80 0 L80 60 L0 60 L0 0")];
        let disc = piece(1, "disc", "Disc", &edges, 0.0);
        let plan = Plan {
            groups: vec![Group::of(Ply::drawn(&disc, Tint::Right))],
            crowded: true,
            ..Plan::default()
        };
        let placed = plan.placed(Vec2::new(62.0, 60.0));
        let x = |ways: &[f64]| {
            let upright = |x: &f64| path_of(&[Point::new(*x, 0.0), Point::new(*x, 90.0)]);
            let ways: Vec<BezPath> = ways.iter().map(upright).collect();
            plan.numbers(&placed, &ways)[0].at.x
        };
        let right = placed.size.x - BESIDE;
        assert!((x(&[]) - BESIDE).abs() < 1e-9);
        // 1 mm of white beside the numeral
        assert!((x(&[4.0]) - right).abs() < 1e-9);
        assert!((x(&[4.0, right]) - placed.size.x / 2.0).abs() < 1e-9);
        // far enough off
        assert!((x(&[7.0]) - BESIDE).abs() < 1e-9);
    }
}
