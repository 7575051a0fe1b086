//! Hooks at the ends and bends of edges, too small to be seen: an outline with one passes for a sound one,
//! but its tangents there tell nothing of the way it turns. Millimetres.

use crate::geometry::curve;
use kurbo::{ParamCurve, ParamCurveArclen, PathSeg, Point};
use std::f64::consts::{FRAC_PI_2, PI};

/// A hook of an outline that passes for one that does not cross itself is smaller than this, mm.
pub(super) const HIDDEN: f64 = 0.02;

/// The outline's way beside a hook is taken from here to there, mm from the corner.
const BODY: [f64; 2] = [1.5 * HIDDEN, 5.0 * HIDDEN];

/// Turns smaller than this, in radians, count as smooth: one degree. The straight line that then
/// joins the two cut lines lies off the arc by less than 0.00004 of the allowance.
pub(super) const SMOOTH: f64 = PI / 180.0;

/// Tolerance of lengths along an edge, mm.
const FINE: f64 = 1e-6;

/// Whether the outline turns inward where `before` ends and `after` begins, if what lies within a hook of the
/// corner is passed over. An edge too short to tell does not.
pub(super) fn turns_inward_without(before: &[PathSeg], after: &[PathSeg]) -> bool {
    let backwards: Vec<PathSeg> = before.iter().rev().map(PathSeg::reverse).collect();
    let way = |segments: &[PathSeg]| {
        let [near, far] = BODY.map(|distance| at(segments, distance));
        Some(far? - near?)
    };
    let (Some(back), Some(on)) = (way(&backwards), way(after)) else {
        return false;
    };
    let before = -back;
    before.cross(on).atan2(before.dot(on)) < -SMOOTH
}

/// The point so far along `segments`, if they are so long.
fn at(segments: &[PathSeg], mut distance: f64) -> Option<Point> {
    for segment in segments {
        let length = segment.arclen(FINE);
        if distance <= length {
            return Some(segment.eval(segment.inv_arclen(distance, FINE)));
        }
        distance -= length;
    }
    None
}

/// The middle one of the parameters `places`, which follow one another along `segment`, between which it turns
/// by more than a right angle within a hook's length.
pub(super) fn within(segment: &PathSeg, places: &[f64]) -> Option<f64> {
    let turn = |pair: &[f64]| {
        let (first, second) = (
            curve::tangent(segment, pair[0]),
            curve::tangent(segment, pair[1]),
        );
        first.cross(second).atan2(first.dot(second)).abs()
    };
    let turns: Vec<f64> = places.windows(2).map(turn).collect();
    let far = |from: usize, to: usize| {
        let (from, to) = (segment.eval(places[from]), segment.eval(places[to]));
        from.distance(to)
    };
    let (mut from, mut turned) = (0, 0.0);
    for (number, turn) in turns.iter().enumerate() {
        let to = number + 1;
        turned += turn;
        while far(from, to) > BODY[1] {
            turned -= turns[from];
            from += 1;
        }
        if turned > FRAC_PI_2 {
            return Some(places[from.midpoint(to)]);
        }
    }
    None
}
