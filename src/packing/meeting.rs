//! Whether two pieces meet, asked of their relative shift alone: once per pair of pieces the curve
//! that bounds all meeting shifts is built, afterwards each question costs a few comparisons.
//! mm, f64; nothing is rounded and no polygon is cut or joined.

use super::depth_map::DepthMap;
use super::ring;
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::{PI, TAU};

/// The convolution of one ring with the other one turned by 180°, laid out in rows by y.
///
/// Where it winds round a shift at all, the pieces meet at that shift: the winding number is the
/// count of parts in which two simple pieces overlap, so it is 0 only where they do not (Guibas,
/// Ramshaw and Stolfi 1983, "A kinetic framework for computational geometry"; the use for packing
/// is that of the no-fit polygon).
#[derive(Debug)]
pub(super) struct Meeting {
    bounds: Rect,
    /// A circle of shifts within which the pieces meet for sure: the middle and the squared radius.
    core: (Vec2, f64),
    rows_per_mm: f64,
    /// Where in `rows` each row begins; what it holds are the numbers of the sides that reach into it.
    starts: Vec<u32>,
    rows: Vec<u32>,
    sides: Vec<Side>,
    /// How deep the pieces lie in each other, by the same shifts.
    pub(super) depths: DepthMap,
}

/// One side of the curve: from `top` down to `bottom`, at `x` there, with the sign it winds by.
#[derive(Clone, Copy, Debug)]
struct Side {
    top: f64,
    bottom: f64,
    x: f64,
    slope: f64,
    sign: i32,
}

impl Meeting {
    /// Of the piece `one` and the piece `other`, both with positive area, neither crossing itself,
    /// with their depths in a grid of `cells` × `cells`.
    pub(super) fn new(one: &[Point], other: &[Point], cells: usize) -> Self {
        let turned: Vec<Point> = other.iter().map(|p| Point::new(-p.x, -p.y)).collect();
        let mut sides = Vec::new();
        convolve(one, &turned, true, &mut sides);
        convolve(&turned, one, false, &mut sides);
        Self::in_rows(sides, cells)
    }

    /// Tells it of one circle inscribed in each piece, by their middles and the sum of their radii.
    pub(super) fn with_core(self, one: Point, other: Point, radii: f64) -> Self {
        Self {
            core: (one - other, (0.999 * radii).powi(2)),
            ..self
        }
    }

    fn in_rows(sides: Vec<Side>, cells: usize) -> Self {
        let reach = |side: &Side| {
            let end = side.x + (side.bottom - side.top) * side.slope;
            Rect::from_points((side.x, side.top), (end, side.bottom))
        };
        let bounds = sides.iter().map(reach).reduce(|a, b| a.union(b));
        let bounds = bounds.unwrap_or(Rect::ZERO);
        let count = (sides.len() / 2).clamp(8, 96);
        let rows_per_mm = count as f64 / bounds.height();
        let row = |y: f64| (((y - bounds.y0) * rows_per_mm) as usize).min(count - 1);
        let mut rows: Vec<Vec<u32>> = vec![Vec::new(); count];
        for (index, side) in sides.iter().enumerate() {
            for part in &mut rows[row(side.top)..=row(side.bottom)] {
                part.push(index as u32);
            }
        }
        let mut starts = vec![0];
        for row in &rows {
            starts.push(starts[starts.len() - 1] + row.len() as u32);
        }
        Self {
            bounds,
            core: (Vec2::ZERO, 0.0),
            rows_per_mm,
            starts,
            rows: rows.concat(),
            sides,
            depths: DepthMap::new(bounds, cells),
        }
    }

    /// Whether the pieces overlap where the second one is shifted by `by` against the first. Pieces
    /// that only touch may count either way.
    pub(super) fn at(&self, by: Vec2) -> bool {
        let b = &self.bounds;
        if by.x <= b.x0 || by.x >= b.x1 || by.y <= b.y0 || by.y >= b.y1 {
            return false;
        }
        if (by - self.core.0).hypot2() < self.core.1 {
            return true;
        }
        let mut winding = 0;
        for side in self.row(by.y) {
            let spans = side.top <= by.y && by.y < side.bottom;
            let right = side.x + (by.y - side.top) * side.slope > by.x;
            winding += if spans & right { side.sign } else { 0 };
        }
        winding != 0
    }

    /// The ranges of x in which the pieces overlap while the second one is shifted by `y`
    /// downwards, appended to `out` as (from, to).
    pub(super) fn spans(&self, y: f64, crossings: &mut Vec<(f64, i32)>, out: &mut Vec<(f64, f64)>) {
        if y <= self.bounds.y0 || y >= self.bounds.y1 {
            return;
        }
        crossings.clear();
        for side in self.row(y).filter(|side| side.top <= y && y < side.bottom) {
            crossings.push((side.x + (y - side.top) * side.slope, side.sign));
        }
        crossings.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (mut winding, mut from) = (0, 0.0);
        for &(x, sign) in crossings.iter() {
            if winding == 0 {
                from = x;
            }
            winding += sign;
            if winding == 0 && x > from {
                out.push((from, x));
            }
        }
    }

    fn row(&self, y: f64) -> impl Iterator<Item = &Side> {
        let last = self.starts.len() - 2;
        let row = (((y - self.bounds.y0) * self.rows_per_mm) as usize).min(last);
        let range = self.starts[row] as usize..self.starts[row + 1] as usize;
        self.rows[range]
            .iter()
            .map(|&index| &self.sides[index as usize])
    }
}

/// The sides that come from edges of `moving` at corners of `held`: an edge goes with each corner
/// whose turn passes its direction, and counts backwards where that corner is hollow. Of parallel
/// edges, those of the ring that goes `first` count as turned a little further.
fn convolve(moving: &[Point], held: &[Point], first: bool, out: &mut Vec<Side>) {
    let m = held.len();
    let edges = ByAngle::new(moving);
    let passes = |low: Vec2, high: Vec2, along: Vec2| {
        let (from, to) = (low.cross(along), along.cross(high));
        match first {
            true => from >= 0.0 && to > 0.0,
            false => from > 0.0 && to >= 0.0,
        }
    };
    for j in 0..m {
        let (at, after) = (held[j], held[(j + 1) % m]);
        let (arriving, leaving) = (at - held[(j + m - 1) % m], after - at);
        let hollow = arriving.cross(leaving) < 0.0;
        let (low, high, sign) = match hollow {
            true => (leaving, arriving, -1),
            false => (arriving, leaving, 1),
        };
        for (a, b) in edges.between(low, high) {
            if passes(low, high, b - a) {
                push_side(a + at.to_vec2(), b + at.to_vec2(), sign, out);
            }
        }
    }
}

/// A ring's edges in the order of their directions.
struct ByAngle {
    edges: Vec<(f64, (Point, Point))>,
}

/// Directions are looked up with so much room, radians: far more than angles are rounded by, and too
/// little to matter, since what is found is tested again without angles.
const ROOM: f64 = 1e-9;

impl ByAngle {
    fn new(ring: &[Point]) -> Self {
        let angled = ring::edges(ring).map(|(a, b)| ((b - a).atan2(), (a, b)));
        let mut edges: Vec<_> = angled.collect();
        edges.sort_by(|a, b| a.0.total_cmp(&b.0));
        Self { edges }
    }

    /// The edges whose directions lie between `low` and `high`, counter-clockwise by less than 180°,
    /// and perhaps some beside.
    fn between(&self, low: Vec2, high: Vec2) -> impl Iterator<Item = (Point, Point)> {
        let turn = low.cross(high).atan2(low.dot(high));
        let from = low.atan2() - ROOM;
        let from = if from < -PI { from + TAU } else { from };
        let to = from + turn + 2.0 * ROOM;
        let start = self.edges.partition_point(|edge| edge.0 < from);
        let upwards = self.edges[start..].iter().map(|edge| (edge.0, edge.1));
        let round = self.edges[..start]
            .iter()
            .map(|edge| (edge.0 + TAU, edge.1));
        let within = upwards.chain(round).take_while(move |edge| edge.0 <= to);
        within.map(|edge| edge.1)
    }
}

fn push_side(a: Point, b: Point, sign: i32, out: &mut Vec<Side>) {
    // A ring of positive area, y down, goes downwards on its right-hand side.
    let (top, bottom, sign) = if a.y < b.y {
        (a, b, sign)
    } else {
        (b, a, -sign)
    };
    if top.y < bottom.y {
        let slope = (bottom.x - top.x) / (bottom.y - top.y);
        out.push(Side {
            top: top.y,
            bottom: bottom.y,
            x: top.x,
            slope,
            sign,
        });
    }
}

#[cfg(test)]
mod tests;
