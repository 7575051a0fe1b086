//! The left foot against the right: laid on each other as well as can be, where they differ most
//! and by how much. Millimetres, on the right foot's axes. Every foot is kept as a right one, so a
//! left one is already mirrored.

mod closest;

#[cfg(test)]
mod tests;

use super::Foot;
use crate::geometry::curve;
use crate::geometry::probe::is_inside;
use closest::aligned;
use kurbo::{Affine, BezPath, ParamCurve, ParamCurveNearest, PathSeg, Point, Rect, Shape, Vec2};

/// Points of each outline from which the greatest distance is sought: on a foot of 100 mm one
/// every 0.25 mm.
const POINTS: usize = 1024;

/// How a left foot differs from the right one.
#[derive(Debug, Clone, PartialEq)]
pub struct PairDifference {
    /// Greatest distance between the two outlines once they lie on each other, mm.
    pub largest: f64,
    /// Where that is: the point of the right foot's outline, on its axes.
    pub at: [f64; 2],
    /// The same in words: `outer side near the ball`.
    pub near: String,
    /// Whether the left foot is the larger one there.
    pub left_larger: bool,
    /// Area of the left foot less that of the right one, mm².
    pub area: f64,
    /// Length of the left foot less that of the right one, each along its own axis, mm.
    pub length: f64,
    /// By how much the left foot, mirrored, had to be turned from its own axis to lie on the right
    /// one, degrees; counter-clockwise seen from above, toe towards the inner side. More than one or
    /// two say that the marks were set differently.
    pub turned: f64,
}

/// Compares the two feet of a doll. Both outlines are sampled evenly; the left one is moved and
/// turned, never scaled, until the squares of its points' distances from the right one are least
/// (`aligned`). Distances are measured from either outline to the other, to 1e-6 mm.
#[must_use]
pub fn compare(right: &Foot, left: &Foot) -> PairDifference {
    let (motion, angle) = aligned(&left.outline, &right.outline);
    let moved = motion * &left.outline;
    let Farthest {
        distance,
        at,
        outside,
    } = farthest(&moved, &right.outline);
    PairDifference {
        largest: distance,
        at: [at.x, at.y],
        near: words(at, right),
        left_larger: outside,
        area: moved.area().abs() - right.outline.area().abs(),
        length: left.length - right.length,
        turned: angle.to_degrees(),
    }
}

/// A closed outline as segments, each with a box round it.
struct Ring {
    segments: Vec<(PathSeg, Rect)>,
}

impl Ring {
    fn new(path: &BezPath) -> Self {
        let boxed = |segment: PathSeg| (segment, segment.bounding_box());
        Self {
            segments: path.segments().map(boxed).collect(),
        }
    }

    /// How far a point lies from the outline, mm, and the nearest point of it.
    fn nearest(&self, point: Point) -> (f64, Point) {
        let mut best = (f64::INFINITY, point);
        for (segment, bounds) in &self.segments {
            let beside = Vec2::new(
                (bounds.x0 - point.x).max(point.x - bounds.x1).max(0.0),
                (bounds.y0 - point.y).max(point.y - bounds.y1).max(0.0),
            );
            if beside.hypot2() > best.0 {
                continue;
            }
            let found = segment.nearest(point, 1e-6);
            if found.distance_sq < best.0 {
                best = (found.distance_sq, segment.eval(found.t));
            }
        }
        (best.0.sqrt(), best.1)
    }
}

/// The greatest distance between two closed outlines, where on the second one it is, and whether
/// the first one lies outside there.
fn farthest(moved: &BezPath, fixed: &BezPath) -> Farthest {
    let rings = [moved, fixed].map(Ring::new);
    let mut worst = Farthest {
        distance: 0.0,
        at: fixed.segments().next().map_or(Point::ZERO, |s| s.start()),
        outside: false,
    };
    for point in curve::spread(moved, POINTS) {
        let (distance, at) = rings[1].nearest(point);
        if distance > worst.distance {
            let outside = !is_inside(fixed, point);
            worst = Farthest {
                distance,
                at,
                outside,
            };
        }
    }
    for at in curve::spread(fixed, POINTS) {
        let (distance, _) = rings[0].nearest(at);
        if distance > worst.distance {
            let outside = is_inside(moved, at);
            worst = Farthest {
                distance,
                at,
                outside,
            };
        }
    }
    worst
}

struct Farthest {
    distance: f64,
    at: Point,
    outside: bool,
}

/// Where a point of the outline lies, in the trade's words; shares of the length as in the drafting
/// of the form, the rest from judgement.
fn words(at: Point, foot: &Foot) -> String {
    let share = at.x / foot.length.max(1e-9);
    if share > 0.96 {
        return "at the toe".into();
    }
    if share < 0.04 {
        return "at the heel".into();
    }
    let side = if at.y >= 0.0 { "inner" } else { "outer" };
    let place = match share {
        s if s < 0.30 => "heel",
        s if s < 0.45 => "waist",
        s if s < 0.60 => "instep",
        s if s < 0.80 => "ball",
        _ => "toes",
    };
    format!("{side} side near the {place}")
}

/// A turn about the origin and then a way.
fn motion(angle: f64, way: Vec2) -> Affine {
    Affine::translate(way) * Affine::rotate(angle)
}
