//! How far an outline moved between two editions, and where. Lengths in mm, y down.

use super::record::{EdgeRecord, PieceRecord};
use crate::geometry::curve;
use kurbo::{
    Affine, BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point, Rect, Shape,
    Vec2,
};

/// Step at which outlines are sampled, mm: the greatest distance is missed by less than half of it, and
/// only where an outline runs off at a right angle.
pub const STEP: f64 = 0.1;

/// An outline is never sampled at more points: of a long one the step is longer.
const MOST_SAMPLES: f64 = 6000.0;

/// Samples with which ways of laying the outlines on each other are tried.
const TRIAL_SAMPLES: usize = 200;

/// Outlines that differ by no more are the same, mm: coordinates are kept to 0.001.
pub const SAME: f64 = 0.002;

/// A line that moved by less than this, mm, need not be printed again: seams that differ by no more
/// count as matching, and a cut line is five times as wide.
pub const SEEN: f64 = 0.1;

/// Distances that differ by no more are alike, mm.
const ALIKE: f64 = 1e-6;

/// The greatest distance between two outlines.
#[derive(Debug, Clone, PartialEq)]
pub struct Displacement {
    /// How far, mm.
    pub mm: f64,
    /// The edge it is on, of the new outline.
    pub edge: String,
    /// Where on that edge, as a share of its length from its start.
    pub share: f64,
    /// The point of the old outline, laid on the new one.
    pub from: Point,
    /// The point of the new outline.
    pub to: Point,
    /// How the old outline is moved so that the two lie on each other.
    pub laid: Vec2,
}

/// The seam line of a piece as it is kept.
pub fn seam_line(piece: &PieceRecord) -> BezPath {
    let edges = piece.edges.iter().map(course);
    let mut path = curve::chained(edges.flat_map(|edge| edge.segments().collect::<Vec<_>>()));
    path.close_path();
    path
}

/// The course of an edge; empty if it cannot be read, which the seal of an edition excludes.
pub fn course(edge: &EdgeRecord) -> BezPath {
    BezPath::from_svg(&edge.path).unwrap_or_default()
}

/// The cut line of a piece as it is kept.
pub fn cut_line(piece: &PieceRecord) -> BezPath {
    BezPath::from_svg(&piece.cut_line).unwrap_or_default()
}

/// The greatest distance between the seam lines of two forms of a piece, after the old one was laid on
/// the new one as well as it goes without turning it: where most of both outlines agree.
///
/// The Hausdorff distance (F. Hausdorff, "Grundzüge der Mengenlehre", 1914, chapter VIII; cited from
/// memory): the greatest of all distances from a point of either outline to the nearest of the
/// other. Points are taken every [`STEP`] mm and at the ends of edges, the nearest point exactly.
pub fn displacement(old: &PieceRecord, new: &PieceRecord) -> Displacement {
    let (before, after) = (seam_line(old), seam_line(new));
    let laid = laid_on(old, new, (&before, &after));
    let before = Affine::translate(laid) * before;
    let (mm, from, to) = hausdorff(&before, &after);
    let (edge, share) = station(new, to);
    Displacement {
        mm,
        edge,
        share,
        from,
        to,
        laid,
    }
}

/// The Hausdorff distance of two outlines, sampled every [`STEP`] mm, with the point of the first and
/// the point of the second that are so far from each other.
pub fn hausdorff(a: &BezPath, b: &BezPath) -> (f64, Point, Point) {
    let (one, from, to) = furthest(a, b);
    let (other, back_from, back_to) = furthest(b, a);
    match other > one + ALIKE {
        true => (other, back_to, back_from),
        false => (one, from, to),
    }
}

/// The sample of `from` that is furthest from `to`, with the nearest point there; of several as far, the
/// one in their middle.
fn furthest(from: &BezPath, to: &BezPath) -> (f64, Point, Point) {
    let target: Vec<PathSeg> = to.segments().collect();
    let boxes: Vec<Rect> = target.iter().map(around).collect();
    let mut found: Vec<(f64, Point, Point)> = samples(from, count(from))
        .into_iter()
        .map(|point| {
            let (distance, near) = nearest(point, &target, &boxes);
            (distance, point, near)
        })
        .collect();
    let greatest = found.iter().map(|sample| sample.0).fold(0.0, f64::max);
    found.retain(|sample| sample.0 >= greatest - ALIKE);
    let middle = found.len() / 2;
    found
        .get(middle)
        .copied()
        .unwrap_or((0.0, Point::ZERO, Point::ZERO))
}

fn count(path: &BezPath) -> usize {
    (curve::length(path, 1e-3) / STEP)
        .ceil()
        .clamp(8.0, MOST_SAMPLES) as usize
}

/// Points at equal distances, and the ends of all segments.
fn samples(path: &BezPath, count: usize) -> Vec<Point> {
    let mut points = curve::spread(path, count);
    points.extend(path.segments().map(|segment| segment.start()));
    points
}

/// A box that holds a segment: that of its control points.
fn around(segment: &PathSeg) -> Rect {
    let cubic = segment.to_cubic();
    Rect::from_points(cubic.p0, cubic.p3)
        .union_pt(cubic.p1)
        .union_pt(cubic.p2)
}

fn nearest(point: Point, segments: &[PathSeg], boxes: &[Rect]) -> (f64, Point) {
    let mut best = (f64::INFINITY, Point::ZERO);
    for (segment, room) in segments.iter().zip(boxes) {
        let across = (room.x0 - point.x).max(point.x - room.x1).max(0.0);
        let down = (room.y0 - point.y).max(point.y - room.y1).max(0.0);
        if across.hypot(down) >= best.0 {
            continue;
        }
        let found = segment.nearest(point, 1e-9);
        let distance = found.distance_sq.sqrt();
        if distance < best.0 {
            best = (distance, segment.eval(found.t));
        }
    }
    best
}

/// How the old outline is laid on the new one: tried are its place as it is, the common points, the
/// corners and sides of both boxes, and the beginnings of all edges that both have; taken is the first
/// of those with the least mean distance, so that a part that grew does not move the rest.
fn laid_on(old: &PieceRecord, new: &PieceRecord, (before, after): (&BezPath, &BezPath)) -> Vec2 {
    let mut ways = vec![Vec2::ZERO];
    if let (Some(a), Some(b)) = (common_point(old), common_point(new)) {
        ways.push(b - a);
    }
    let (a, b) = (before.bounding_box(), after.bounding_box());
    for share in [
        [0.5, 0.5],
        [0.0, 0.0],
        [1.0, 1.0],
        [0.0, 1.0],
        [1.0, 0.0],
        [0.5, 0.0],
        [0.5, 1.0],
        [0.0, 0.5],
        [1.0, 0.5],
    ] {
        let at = |room: Rect| {
            Point::new(
                room.x0 + share[0] * room.width(),
                room.y0 + share[1] * room.height(),
            )
        };
        ways.push(at(b) - at(a));
    }
    for edge in &new.edges {
        let start = |edge: &EdgeRecord| course(edge).segments().next().map(|s| s.start());
        let known = old.edges.iter().find(|other| other.edge == edge.edge);
        if let (Some(a), Some(b)) = (known.and_then(start), start(edge)) {
            ways.push(b - a);
        }
    }
    let target: Vec<PathSeg> = after.segments().collect();
    let boxes: Vec<Rect> = target.iter().map(around).collect();
    let points = curve::spread(before, TRIAL_SAMPLES);
    let mean = |by: Vec2| {
        let all = points
            .iter()
            .map(|point| nearest(*point + by, &target, &boxes).0);
        all.sum::<f64>() / points.len().max(1) as f64
    };
    let mut best = (f64::INFINITY, Vec2::ZERO);
    for way in ways {
        let found = mean(way);
        // what is no better than the place as it is leaves it there
        if found < best.0 - SAME / 4.0 {
            best = (found, way);
        }
    }
    best.1
}

fn common_point(piece: &PieceRecord) -> Option<Point> {
    let found = piece
        .marks
        .iter()
        .find(|mark| mark.mark == "common point")?;
    match found.at.as_slice() {
        [x, y] => Some(Point::new(*x, *y)),
        _ => None,
    }
}

/// The edge of a piece that is nearest to `point`, and where on it.
fn station(piece: &PieceRecord, point: Point) -> (String, f64) {
    let mut best = (f64::INFINITY, String::new(), 0.0);
    for edge in &piece.edges {
        let path = course(edge);
        let whole = curve::length(&path, 1e-6).max(1e-9);
        let mut before = 0.0;
        for segment in path.segments() {
            let found = segment.nearest(point, 1e-9);
            if found.distance_sq < best.0 - 1e-12 {
                let part = segment.subsegment(0.0..found.t);
                let along = before + part.arclen(1e-6);
                best = (found.distance_sq, edge.edge.clone(), along / whole);
            }
            before += segment.arclen(1e-6);
        }
    }
    (best.1, best.2)
}

#[cfg(test)]
pub(super) mod tests;
