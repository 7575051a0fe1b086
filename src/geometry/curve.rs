//! Open curves: length, the point at a length, the part between two lengths, distance between
//! curves. All lengths in mm.

use kurbo::{
    BezPath, ParamCurve, ParamCurveArclen, ParamCurveDeriv, ParamCurveNearest, PathEl, PathSeg,
    Point, Vec2,
};

#[cfg(test)]
mod tests;

/// Ends of neighbouring edges that lie nearer than this (mm) are one point.
pub const JOIN_TOLERANCE: f64 = 1e-3;

/// Points round the ring of a foot among which its longest chord is sought: its length comes out short by less
/// than 0.02 %.
pub const CHORD_POINTS: usize = 360;

/// Arc length of `path` in mm; `tolerance` bounds the error of each segment.
pub fn length(path: &BezPath, tolerance: f64) -> f64 {
    path.segments().map(|s| s.arclen(tolerance)).sum()
}

/// A point of a curve with its unit tangent in the curve's direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Where.
    pub point: Point,
    /// Unit tangent.
    pub tangent: Vec2,
}

/// Unit tangent of `segment` at parameter `t`, taken from the curve itself: where the derivative
/// vanishes (a handle lies on its end), the tangent is the limit, from the next control point.
/// Zero for a segment that is a point.
pub fn tangent(segment: &PathSeg, t: f64) -> Vec2 {
    let derivative = match segment {
        PathSeg::Line(line) => line.p1 - line.p0,
        PathSeg::Quad(quad) => quad.deriv().eval(t).to_vec2(),
        PathSeg::Cubic(cubic) => cubic.deriv().eval(t).to_vec2(),
    };
    if derivative.hypot() > 1e-9 {
        return derivative.normalize();
    }
    let [first, .., last] = controls(segment);
    let away = |from: Point, points: &mut dyn Iterator<Item = Point>| {
        let direction = points.map(|p| p - from).find(|v| v.hypot() > 1e-9);
        direction.map_or(Vec2::ZERO, Vec2::normalize)
    };
    if t < 0.25 {
        away(first, &mut controls(segment).into_iter())
    } else if t > 0.75 {
        -away(last, &mut controls(segment).into_iter().rev())
    } else {
        let chord = segment.eval(t + 1e-4) - segment.eval(t - 1e-4);
        if chord.hypot() > 0.0 {
            chord.normalize()
        } else {
            Vec2::ZERO
        }
    }
}

fn controls(segment: &PathSeg) -> [Point; 4] {
    let cubic = segment.to_cubic();
    match segment {
        PathSeg::Line(line) => [line.p0, line.p1, line.p0, line.p1],
        PathSeg::Quad(quad) => [quad.p0, quad.p1, quad.p1, quad.p2],
        PathSeg::Cubic(_) => [cubic.p0, cubic.p1, cubic.p2, cubic.p3],
    }
}

/// The station at `distance` mm along `path` (clamped to its ends); `tolerance` bounds the error
/// of the distance. `None` for an empty path.
pub fn station(path: &BezPath, distance: f64, tolerance: f64) -> Option<Station> {
    let mut left = distance.max(0.0);
    let mut last = None;
    for segment in path.segments() {
        let length = segment.arclen(tolerance);
        if left <= length && length > 0.0 {
            let t = segment.inv_arclen(left, tolerance);
            return Some(Station {
                point: segment.eval(t),
                tangent: tangent(&segment, t),
            });
        }
        left -= length;
        last = Some(segment);
    }
    last.map(|s| Station {
        point: s.eval(1.0),
        tangent: tangent(&s, 1.0),
    })
}

/// One open path from segments that follow each other. Unlike kurbo's own way it never parts the
/// path where an end and the next start differ by a rounding error: the next segment begins where
/// the last one ended.
pub fn chained(segments: impl IntoIterator<Item = PathSeg>) -> BezPath {
    let mut path = BezPath::new();
    for segment in segments {
        if path.is_empty() {
            path.move_to(segment.start());
        }
        path.push(segment.as_path_el());
    }
    path
}

/// One closed path from segments that follow each other, its end exactly at its start.
pub(super) fn closed(segments: &[PathSeg]) -> BezPath {
    let mut path = BezPath::new();
    let Some(first) = segments.first() else {
        return path;
    };
    path.move_to(first.start());
    for (index, segment) in segments.iter().enumerate() {
        match segment.as_path_el() {
            PathEl::LineTo(_) if index + 1 == segments.len() => {}
            element if index + 1 == segments.len() => path.push(ending_at(element, first.start())),
            element => path.push(element),
        }
    }
    path.close_path();
    path
}

fn ending_at(element: PathEl, end: Point) -> PathEl {
    match element {
        PathEl::QuadTo(a, _) => PathEl::QuadTo(a, end),
        PathEl::CurveTo(a, b, _) => PathEl::CurveTo(a, b, end),
        other => other,
    }
}

/// `segment` with its start moved to `start`, its first handle moved along.
pub(super) fn starting_at(segment: PathSeg, start: Point) -> PathSeg {
    match segment {
        PathSeg::Line(mut line) => {
            line.p0 = start;
            line.into()
        }
        PathSeg::Quad(mut quad) => {
            quad.p0 = start;
            quad.into()
        }
        PathSeg::Cubic(mut cubic) => {
            cubic.p1 += start - cubic.p0;
            cubic.p0 = start;
            cubic.into()
        }
    }
}

/// `segment` with its end moved to `end`, its last handle moved along.
pub(super) fn ending_with(segment: PathSeg, end: Point) -> PathSeg {
    starting_at(segment.reverse(), end).reverse()
}

/// `path` with every point moved by `bend`, a smooth map. Segments are parted in [`BENT_PARTS`], and
/// each part goes through the moved ends with the moved tangents, so that the error falls with the
/// fourth power of a part's length; a closed path stays closed.
pub fn bent(path: &BezPath, bend: impl Fn(Point) -> Point) -> BezPath {
    let step = 1e-4;
    let moved = |at: Point, along: Vec2| {
        let change = bend(at + step * along) - bend(at - step * along);
        bend(at) + change / (2.0 * step)
    };
    let mut result = BezPath::new();
    for segment in path.segments() {
        for part in 0..BENT_PARTS {
            let share = |n: usize| n as f64 / BENT_PARTS as f64;
            let cubic = segment.subsegment(share(part)..share(part + 1)).to_cubic();
            if result.is_empty() {
                result.move_to(bend(cubic.p0));
            }
            let (leaves, arrives) = (cubic.p1 - cubic.p0, cubic.p2 - cubic.p3);
            result.curve_to(
                moved(cubic.p0, leaves),
                moved(cubic.p3, arrives),
                bend(cubic.p3),
            );
        }
    }
    if matches!(path.elements().last(), Some(PathEl::ClosePath)) {
        result.close_path();
    }
    result
}

/// Parts into which a segment is cut before it is bent.
const BENT_PARTS: usize = 4;

/// `path` run through backwards.
pub fn reversed(path: &BezPath) -> BezPath {
    path.reverse_subpaths()
}

/// The part of `path` between two distances along it, mm, both clamped to its ends; `tolerance`
/// bounds the error of each distance. Empty if nothing lies between.
pub fn part(path: &BezPath, from: f64, to: f64, tolerance: f64) -> BezPath {
    let mut kept = Vec::new();
    let mut begin = 0.0;
    for segment in path.segments() {
        let length = segment.arclen(tolerance);
        let (low, high) = ((from - begin).max(0.0), (to - begin).min(length));
        begin += length;
        if high <= low {
            continue;
        }
        if low == 0.0 && high == length {
            kept.push(segment);
        } else {
            let start = segment.inv_arclen(low, tolerance);
            let end = segment.inv_arclen(high, tolerance);
            kept.push(segment.subsegment(start..end));
        }
    }
    chained(kept)
}

/// The greatest distance, mm, from either curve to the other: `samples` points spread evenly along
/// each, with the exact nearest point on the other. Infinite if either is empty.
pub fn deviation(a: &BezPath, b: &BezPath, samples: usize) -> f64 {
    one_way(a, b, samples).max(one_way(b, a, samples))
}

fn one_way(from: &BezPath, to: &BezPath, samples: usize) -> f64 {
    let target: Vec<PathSeg> = to.segments().collect();
    let points = spread(from, samples.max(1));
    if target.is_empty() || points.is_empty() {
        return f64::INFINITY;
    }
    let distance = |p: &Point| {
        let squares = target.iter().map(|s| s.nearest(*p, 1e-9).distance_sq);
        squares.fold(f64::INFINITY, f64::min).sqrt()
    };
    points.iter().map(distance).fold(0.0, f64::max)
}

/// Points at equal distances along `path`, from its start to just before its end; none if it has no length.
pub fn spread(path: &BezPath, count: usize) -> Vec<Point> {
    let whole = length(path, 1e-6);
    let mut points = Vec::with_capacity(count);
    let mut begin = 0.0;
    for segment in path.segments() {
        let end = begin + segment.arclen(1e-6);
        while points.len() < count && end > begin {
            let distance = whole * points.len() as f64 / count as f64;
            if distance > end {
                break;
            }
            let t = segment.inv_arclen(distance - begin, 1e-6);
            points.push(segment.eval(t));
        }
        begin = end;
    }
    points
}

/// `path` parted where it turns by more than `degrees`. A closed path whose start is no corner is
/// one round: its first part begins at the last corner before the start. Without corners the whole
/// path is one part.
pub fn corners(path: &BezPath, degrees: f64) -> Vec<BezPath> {
    let drawn = |s: &PathSeg| tangent(s, 0.0) != Vec2::ZERO;
    let mut segments: Vec<PathSeg> = path.segments().filter(drawn).collect();
    let turns = |before: &PathSeg, after: &PathSeg| {
        let (a, b) = (tangent(before, 1.0), tangent(after, 0.0));
        a.cross(b).atan2(a.dot(b)).abs() > degrees.to_radians()
    };
    let (Some(first), Some(last)) = (segments.first().copied(), segments.last().copied()) else {
        return Vec::new();
    };
    let closed = first.start().distance(last.end()) <= JOIN_TOLERANCE;
    if closed && !turns(&last, &first) {
        let corner = segments
            .windows(2)
            .rposition(|pair| turns(&pair[0], &pair[1]));
        segments.rotate_left(corner.map_or(0, |index| index + 1));
    }
    let mut parts: Vec<Vec<PathSeg>> = Vec::new();
    for segment in segments {
        match parts.last_mut() {
            Some(part) if part.last().is_some_and(|before| !turns(before, &segment)) => {
                part.push(segment);
            }
            _ => parts.push(vec![segment]),
        }
    }
    parts.into_iter().map(chained).collect()
}
