//! Closed rings of points, mm, y down, the last point joined to the first. Rings of the packing run
//! so that their signed area is positive.

pub(super) use crate::geometry::ring::{area, contains, edges};
use kurbo::{Point, Rect, Vec2};

/// The smallest upright box round the points; empty input gives a box without extent.
pub(super) fn bounds(ring: &[Point]) -> Rect {
    let Some(&first) = ring.first() else {
        return Rect::ZERO;
    };
    let start = Rect::from_points(first, first);
    ring.iter()
        .fold(start, |bounds, &point| bounds.union_pt(point))
}

/// The distance from `point` to the segment `a`–`b`.
pub(super) fn distance_to_edge(point: Point, a: Point, b: Point) -> f64 {
    let (along, to) = (b - a, point - a);
    let (at, length) = (to.dot(along), along.hypot2());
    if at <= 0.0 {
        to.hypot()
    } else if at >= length {
        point.distance(b)
    } else {
        to.cross(along).abs() / length.sqrt()
    }
}

/// The distance from `point` to the ring itself, positive on both sides.
pub(super) fn distance(ring: &[Point], point: Point) -> f64 {
    edges(ring)
        .map(|(a, b)| distance_to_edge(point, a, b))
        .fold(f64::INFINITY, f64::min)
}

/// The ring laid face down if `mirrored` (x changes its sign), then turned about the origin.
/// Quarter turns are exact. The order of the points is kept, so a mirrored ring runs backwards.
pub(super) fn turned(ring: &[Point], turn_deg: f64, mirrored: bool) -> Vec<Point> {
    let (sin, cos) = sin_cos(turn_deg);
    let flip = if mirrored { -1.0 } else { 1.0 };
    ring.iter()
        .map(|p| Point::new(flip * p.x * cos - p.y * sin, flip * p.x * sin + p.y * cos))
        .collect()
}

fn sin_cos(turn_deg: f64) -> (f64, f64) {
    match turn_deg.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        other => other.to_radians().sin_cos(),
    }
}

/// The ring moved by `by`.
pub(super) fn moved(ring: &[Point], by: Vec2) -> Vec<Point> {
    ring.iter().map(|&point| point + by).collect()
}

/// The ring without doubled points and points in the middle of straight runs, so that its signed
/// area is positive. Fewer than three points are left of a ring without area.
pub(super) fn tidied(ring: &[Point]) -> Vec<Point> {
    let size = bounds(ring).size();
    let same = 1e-9 * (size.width + size.height);
    let mut points: Vec<Point> = Vec::with_capacity(ring.len());
    for &point in ring {
        if points.last().is_none_or(|last| last.distance(point) > same) {
            points.push(point);
        }
    }
    while points.len() > 1 && points[0].distance(points[points.len() - 1]) <= same {
        points.pop();
    }
    while let Some(flat) = flat_corner(&points, same) {
        points.remove(flat);
    }
    if area(&points) < 0.0 {
        points.reverse();
    }
    points
}

fn flat_corner(points: &[Point], same: f64) -> Option<usize> {
    let n = points.len();
    if n < 3 {
        return None;
    }
    (0..n).find(|&i| {
        let (before, after) = (points[(i + n - 1) % n], points[(i + 1) % n]);
        distance_to_edge(points[i], before, after) <= same
    })
}

/// Whether two edges of the ring cross or touch other than at a common end.
pub(super) fn crosses_itself(ring: &[Point]) -> bool {
    let n = ring.len();
    let edge = |i: usize| (ring[i], ring[(i + 1) % n]);
    (0..n).any(|i| {
        let last = if i == 0 { n - 1 } else { n };
        (i + 2..last).any(|j| meet(edge(i), edge(j)))
    })
}

/// Whether two segments have a point in common.
pub(super) fn meet(one: (Point, Point), other: (Point, Point)) -> bool {
    let side = |a: Point, b: Point, c: Point| (b - a).cross(c - a);
    let (p, q) = (side(one.0, one.1, other.0), side(one.0, one.1, other.1));
    let (r, s) = (side(other.0, other.1, one.0), side(other.0, other.1, one.1));
    if p * q < 0.0 && r * s < 0.0 {
        return true;
    }
    let within = |c: Point, (a, b): (Point, Point)| {
        c.x >= a.x.min(b.x) && c.x <= a.x.max(b.x) && c.y >= a.y.min(b.y) && c.y <= a.y.max(b.y)
    };
    (p == 0.0 && within(other.0, one))
        || (q == 0.0 && within(other.1, one))
        || (r == 0.0 && within(one.0, other))
        || (s == 0.0 && within(one.1, other))
}
