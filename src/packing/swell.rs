//! Rings grown outwards by half the spacing, so that pieces which do not overlap any more keep the
//! spacing. mm, y down; never inwards.

use super::ring;
use crate::geometry::hull::hull;
use kurbo::{BezPath, Point, Vec2};
use linesweeper::topology::Topology;

/// Points nearer than this, mm, count as one while a grown ring is cleaned of its loops.
const JOINED: f64 = 1e-6;

/// Convex corners are rounded by tangents that turn by no more than this: they stand off the true
/// arc by at most 8 % of the growth.
const TURN: f64 = std::f64::consts::FRAC_PI_4;

/// The ring (positive area) grown by `by`, its holes closed. Where the loops of the grown ring
/// cannot be cleaned away, its convex hull is grown instead: larger, but never too small.
pub(super) fn grown(points: &[Point], by: f64) -> Vec<Point> {
    let raw = parallel(points, by, through_corner(by));
    let outer = largest(&raw, |winding| winding > 0);
    let whole = |outer: &Vec<Point>| outer.len() > 2 && ring::area(outer) > ring::area(points);
    outer
        .filter(whole)
        .unwrap_or_else(|| parallel(&hull(points.to_vec()), by, |_, _, _, _| ()))
}

/// The ring (positive area) shrunk by `by`: what is left of it in its largest part, or nothing.
pub(super) fn shrunk(points: &[Point], by: f64) -> Vec<Point> {
    let backwards: Vec<Point> = points.iter().rev().copied().collect();
    let raw = parallel(&backwards, by, through_corner(by));
    let left = largest(&raw, |winding| winding < 0);
    let part = |left: &Vec<Point>| left.len() > 2 && ring::area(left) < ring::area(points);
    left.filter(part).unwrap_or_default()
}

/// At a hollow corner the moved edges run on through the corner itself, which leaves a loop that is
/// cut off by its winding number.
fn through_corner(by: f64) -> impl Fn(Point, Vec2, Vec2, &mut Vec<Point>) {
    move |corner, before, after, out| {
        out.extend([corner + before * by, corner, corner + after * by]);
    }
}

/// Of the parts of the plane round which the ring winds as wanted, the outline of the largest one.
fn largest(raw: &[Point], wanted: impl Fn(i32) -> bool) -> Option<Vec<Point>> {
    let mut path = BezPath::new();
    path.move_to(*raw.first()?);
    raw[1..].iter().for_each(|&point| path.line_to(point));
    path.close_path();
    let topology = Topology::<i32>::from_path(&path, JOINED).ok()?;
    let contours = topology.contours(|winding| wanted(*winding));
    let rings = contours
        .contours()
        .map(|contour| ring::tidied(&corners(&contour.path)));
    rings.max_by(|a, b| ring::area(a).total_cmp(&ring::area(b)))
}

/// The ring (positive area) grown by a hair: too little for loops to matter, so that hollow corners
/// just move along.
pub(super) fn by_a_hair(points: &[Point], by: f64) -> Vec<Point> {
    parallel(points, by, |corner, before, after, out| {
        let across = before + after;
        out.push(corner + across * (by / (across.hypot2() / 2.0).max(0.1)));
    })
}

fn corners(path: &BezPath) -> Vec<Point> {
    path.elements()
        .iter()
        .filter_map(|element| element.end_point())
        .collect()
}

/// The edges moved outwards by `by`; convex corners are rounded from outside, hollow ones are left
/// to `hollow`, which is given the corner and both outward normals.
fn parallel(
    points: &[Point],
    by: f64,
    hollow: impl Fn(Point, Vec2, Vec2, &mut Vec<Point>),
) -> Vec<Point> {
    let n = points.len();
    let outward = |a: Point, b: Point| {
        let along = (b - a).normalize();
        Vec2::new(along.y, -along.x)
    };
    let mut out = Vec::with_capacity(2 * n);
    for i in 0..n {
        let corner = points[i];
        let before = outward(points[(i + n - 1) % n], corner);
        let after = outward(corner, points[(i + 1) % n]);
        let turn = before.cross(after).atan2(before.dot(after));
        if turn < 0.0 {
            hollow(corner, before, after, &mut out);
            continue;
        }
        let steps = (turn / TURN).ceil().max(1.0);
        let half = turn / steps / 2.0;
        for step in 0..steps as usize {
            let (sin, cos) = (half * (2 * step + 1) as f64).sin_cos();
            let ray = Vec2::new(
                before.x * cos - before.y * sin,
                before.x * sin + before.y * cos,
            );
            out.push(corner + ray * (by / half.cos()));
        }
    }
    out
}
