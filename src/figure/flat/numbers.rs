//! The numbers of the pieces, under them and clear of lines that lead elsewhere. Millimetres on paper.

use super::plan::{Group, NUMBER_ROOM, Placed, Plan};
use super::ply::{NUMBERS, Numbered, numeral};
use crate::geometry::probe::is_inside;
use crate::plates::field::flat;
use kurbo::{Affine, BezPath, Line, ParamCurveNearest, PathEl, Point, Rect, Shape};

/// Contours are flattened within this.
const FLAT: f64 = 0.05;

/// Round a number no letter stands.
const ROUND_NUMBER: (f64, f64) = (8.0, 3.0);

/// A number keeps this from a line that leads past it: nearer, it would be read as what the line leads to.
const CLEAR: f64 = 1.8;

/// From the side of its piece to the middle of a number that stands there.
const BESIDE: f64 = 2.0;

/// A number stands level with the lowest point of its piece, but no further below its contour: further off, it
/// would be no longer seen which piece it is of.
const FAR: f64 = 6.0;

impl Plan {
    /// All numbers, each under its piece and clear of the lines `ways`, which lead past, and of threads.
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
        let size = self.numeral(number, Point::ZERO).bounding_box().size();
        let clear = CLEAR + size.to_vec2().hypot() / 2.0;
        let contour = contour(group, onto);
        let below = |x: f64| {
            let places = [
                x - size.width / 2.0 - CLEAR,
                x,
                x + size.width / 2.0 + CLEAR,
            ];
            let lowest = places.into_iter().filter_map(|x| lowest_at(&contour, x));
            let lowest = lowest.reduce(f64::max).unwrap_or(bounds.y1);
            let level = if bounds.y1 - lowest > FAR {
                lowest
            } else {
                bounds.y1
            };
            Point::new(x, level + (NUMBER_ROOM - 1.6) * self.larger())
        };
        // the ends of threads hang out over the edge
        let threads = group.threads.iter();
        let tails = threads.flat_map(|thread| thread.on_paper(onto).1);
        let ways: Vec<BezPath> = ways.iter().cloned().chain(tails).collect();
        let mut places = tried.into_iter().map(below);
        let first = places.next()?;
        let mut best = (first, off_ways(&ways, first));
        for at in places {
            let off = off_ways(&ways, at);
            if best.1 < clear && off > best.1 {
                best = (at, off);
            }
        }
        Some(Numbered { number, at: best.0 })
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

/// The contours of all that lies in a group, on paper.
fn contour(group: &Group, onto: Affine) -> Vec<Line> {
    let plies = group.plies.iter();
    plies
        .flat_map(|ply| flat(&(onto * ply.onto * &ply.surface), FLAT))
        .collect()
}

/// The lowest place at which the upright at `x` meets the lines.
fn lowest_at(lines: &[Line], x: f64) -> Option<f64> {
    let crossed = lines
        .iter()
        .filter(|line| (line.p0.x <= x) != (line.p1.x <= x));
    let at = |line: &Line| {
        line.p0
            .lerp(line.p1, (x - line.p0.x) / (line.p1.x - line.p0.x))
            .y
    };
    crossed.map(at).reduce(f64::max)
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
    use crate::figure::flat::worked::Thread;
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

    #[test]
    fn a_number_keeps_clear_of_the_end_of_a_thread() {
        let edges = [("rim", "M0 0 L80 0 L80 60 L0 60 L0 0")];
        let cloth = piece(1, "cloth", "Cloth", &edges, 0.0);
        let x = |threads: Vec<Thread>| {
            let mut group = Group::of(Ply::drawn(&cloth, Tint::Right));
            group.threads = threads;
            let plan = Plan {
                groups: vec![group],
                crowded: true,
                ..Plan::default()
            };
            let placed = plan.placed(Vec2::new(62.0, 60.0));
            (plan.numbers(&placed, &[])[0].at.x, placed.size.x)
        };
        // its left end hangs out over the lower edge
        let thread = Thread {
            line: path_of(&[Point::new(4.0, 57.0), Point::new(60.0, 57.0)]),
            short: [0.0; 2],
            tails: [Vec2::new(0.0, 12.0), Vec2::new(0.0, -1.0)],
        };
        let (bare, width) = x(Vec::new());
        assert!((bare - BESIDE).abs() < 1e-9);
        assert!((x(vec![thread]).0 - (width - BESIDE)).abs() < 1e-9);
    }

    #[test]
    fn a_number_keeps_near_its_piece() {
        // a triangle on its point: beside the point there is much white
        let edges = [("rim", "M0 0 L80 0 L40 60 L0 0")];
        let cloth = piece(1, "cloth", "Cloth", &edges, 0.0);
        let plan = Plan {
            groups: vec![Group::of(Ply::drawn(&cloth, Tint::Right))],
            crowded: true,
            ..Plan::default()
        };
        let placed = plan.placed(Vec2::new(62.0, 60.0));
        let upright = path_of(&[Point::new(BESIDE, 0.0), Point::new(BESIDE, 90.0)]);
        let at = plan.numbers(&placed, &[upright])[0].at;
        let size = plan.numeral(1, Point::ZERO).bounding_box().size();
        // at the right corner, where the slope falls 1.5 to the left; by hand
        let nearest = placed.size.x - BESIDE - size.width / 2.0 - CLEAR;
        let slope = (placed.size.x - nearest) * 1.5;
        assert!((at.x - (placed.size.x - BESIDE)).abs() < 1e-9);
        assert!(
            (at.y - slope - (NUMBER_ROOM - 1.6)).abs() < 0.1,
            "{at:?} {slope}"
        );
    }
}
