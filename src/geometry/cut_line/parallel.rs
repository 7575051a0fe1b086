//! The parallel curve of one segment. Millimetres; positive distances lie outward.

use super::corner::outward;
use super::ring::{ending_with, starting_at};
use crate::geometry::curve;
use kurbo::{
    BezPath, CubicBez, Line, ParamCurve, ParamCurveDeriv, ParamCurveNearest, PathSeg, Point, Vec2,
    offset,
};

/// Share of the tolerance handed to the offset of a cubic: its own error estimate is taken at
/// eight points and was seen to be exceeded by 8 %.
const CAREFUL: f64 = 0.8;

/// Points at which an offset is checked against the true parallel.
const CHECKS: usize = 24;

/// How often a cubic is halved at most until its offset is good enough.
const HALVINGS: usize = 6;

/// How often a cubic is looked at for stretches that are bent too tightly for the distance. A
/// tighter stretch than a thirty-second of a segment goes unnoticed, and leaves a loop no longer
/// than itself, which the clean-up takes away.
const LOOKS: usize = 32;

/// The parallel of `segment` at `distance` mm outward, within `tolerance`, from the offset of its
/// start to the offset of its end. Where the segment is hollow and bent more tightly than
/// `distance`, the parallel would turn back; it goes through the focal point there instead.
pub(super) fn parallel(segment: &PathSeg, distance: f64, tolerance: f64) -> Vec<PathSeg> {
    if distance == 0.0 {
        return vec![*segment];
    }
    let moved = |t: f64| segment.eval(t) + distance * outward(curve::tangent(segment, t));
    let cubic = match segment {
        PathSeg::Line(_) => return vec![Line::new(moved(0.0), moved(1.0)).into()],
        curved => curved.to_cubic(),
    };
    if is_straight(&cubic) {
        let line = PathSeg::from(Line::new(cubic.p0, cubic.p3));
        return parallel(&line, distance, tolerance);
    }
    let mut whole: Vec<PathSeg> = Vec::new();
    let mut from = 0.0;
    for (begin, end) in tight_stretches(&cubic, distance) {
        whole.extend(offset_part(&cubic, from, begin, distance, tolerance));
        let (a, b) = (moved(begin), moved(end));
        let focal = focal_point(&cubic, begin, end);
        whole.push(Line::new(a, focal).into());
        whole.push(Line::new(focal, b).into());
        from = end;
    }
    whole.extend(offset_part(&cubic, from, 1.0, distance, tolerance));
    fasten_ends(&mut whole, moved(0.0), moved(1.0));
    whole
}

/// Whether the handles lie on the chord between the ends, so that the cubic is a straight line.
fn is_straight(cubic: &CubicBez) -> bool {
    let chord = cubic.p3 - cubic.p0;
    let length = chord.hypot();
    let on_chord = |p: Point| {
        let from = p - cubic.p0;
        let along = from.dot(chord) / length;
        chord.cross(from).abs() <= 1e-9 * length && (0.0..=length).contains(&along)
    };
    length > 0.0 && on_chord(cubic.p1) && on_chord(cubic.p2)
}

/// `|c'|³ (1 + distance · curvature)`, negative where the parallel turns back.
fn regularity(cubic: &CubicBez, distance: f64, t: f64) -> f64 {
    let (first, second) = derivatives(cubic, t);
    first.hypot().powi(3) + distance * first.cross(second)
}

fn derivatives(cubic: &CubicBez, t: f64) -> (Vec2, Vec2) {
    let first = cubic.deriv();
    let second = first.deriv();
    (first.eval(t).to_vec2(), second.eval(t).to_vec2())
}

/// Parameter ranges in which the cubic is hollow and tighter than `distance`.
fn tight_stretches(cubic: &CubicBez, distance: f64) -> Vec<(f64, f64)> {
    let at = |t: f64| regularity(cubic, distance, t);
    let mut stretches = Vec::new();
    let mut open: Option<f64> = (at(1e-9) < 0.0).then_some(0.0);
    let mut before = (0.0, at(1e-9));
    for look in 1..=LOOKS {
        let t = look as f64 / LOOKS as f64;
        let value = at(if look == LOOKS { 1.0 - 1e-9 } else { t });
        match open {
            None if value < 0.0 => open = Some(sign_change(&at, before.0, t)),
            Some(begin) if value >= 0.0 => {
                stretches.push((begin, sign_change(&at, t, before.0)));
                open = None;
            }
            _ => {}
        }
        before = (t, value);
    }
    if let Some(begin) = open {
        stretches.push((begin, 1.0));
    }
    stretches
}

/// The parameter between `good` (not negative) and `bad` (negative) where the sign changes, on the
/// good side.
fn sign_change(at: &impl Fn(f64) -> f64, mut good: f64, mut bad: f64) -> f64 {
    for _ in 0..50 {
        let middle = 0.5 * (good + bad);
        if at(middle) < 0.0 {
            bad = middle;
        } else {
            good = middle;
        }
    }
    good
}

/// The centre of the tightest curvature between the parameters.
fn focal_point(cubic: &CubicBez, begin: f64, end: f64) -> Point {
    let mut best = (f64::INFINITY, cubic.eval(begin));
    for look in 0..=LOOKS {
        let t = begin + (end - begin) * look as f64 / LOOKS as f64;
        let (first, second) = derivatives(cubic, t);
        let bend = -first.cross(second);
        let radius = first.hypot().powi(3) / bend;
        if bend > 0.0 && radius < best.0 {
            let normal = outward(curve::tangent(&PathSeg::Cubic(*cubic), t));
            best = (radius, cubic.eval(t) + radius * normal);
        }
    }
    best.1
}

/// The parallel of the cubic between two parameters, where it does not turn back.
fn offset_part(
    cubic: &CubicBez,
    from: f64,
    to: f64,
    distance: f64,
    tolerance: f64,
) -> Vec<PathSeg> {
    if to - from < 1e-7 {
        return Vec::new();
    }
    let part = if from == 0.0 && to == 1.0 {
        *cubic
    } else {
        cubic.subsegment(from..to)
    };
    offset_checked(&part, distance, tolerance, HALVINGS)
}

/// The offset, checked at [`CHECKS`] points and made in halves where it is not good enough, which
/// happens close to a focal point.
fn offset_checked(
    cubic: &CubicBez,
    distance: f64,
    tolerance: f64,
    halvings: usize,
) -> Vec<PathSeg> {
    let mut path = BezPath::new();
    // kurbo turns the tangent clockwise on the page, which is inward here.
    offset::offset_cubic(*cubic, -distance, CAREFUL * tolerance, &mut path);
    let segments: Vec<PathSeg> = path.segments().collect();
    if path.is_finite() && fits(cubic, &segments, distance, tolerance) {
        return segments;
    }
    if halvings == 0 {
        return polyline(cubic, distance);
    }
    let (first, second) = cubic.subdivide();
    let mut whole = offset_checked(&first, distance, tolerance, halvings - 1);
    whole.extend(offset_checked(&second, distance, tolerance, halvings - 1));
    whole
}

/// Whether the true parallel lies within `tolerance` of `segments`.
fn fits(cubic: &CubicBez, segments: &[PathSeg], distance: f64, tolerance: f64) -> bool {
    let source = PathSeg::Cubic(*cubic);
    (1..CHECKS).all(|check| {
        let t = check as f64 / CHECKS as f64;
        let moved = source.eval(t) + distance * outward(curve::tangent(&source, t));
        let near = segments.iter().map(|s| s.nearest(moved, 1e-9).distance_sq);
        near.fold(f64::INFINITY, f64::min) <= tolerance * tolerance
    })
}

/// A plain polyline, for a cubic so short or so bent that its offset cannot be drawn.
fn polyline(cubic: &CubicBez, distance: f64) -> Vec<PathSeg> {
    let segment = PathSeg::Cubic(*cubic);
    let moved = |i: usize| {
        let t = i as f64 / 8.0;
        segment.eval(t) + distance * outward(curve::tangent(&segment, t))
    };
    let line = |i: usize| PathSeg::from(Line::new(moved(i), moved(i + 1)));
    (0..8).map(line).collect()
}

fn fasten_ends(segments: &mut [PathSeg], start: Point, end: Point) {
    if let Some(first) = segments.first_mut() {
        *first = starting_at(*first, start);
    }
    if let Some(last) = segments.last_mut() {
        *last = ending_with(*last, end);
    }
}
