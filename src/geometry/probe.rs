//! What a straight line meets of a path, and whether a point lies inside it. A curve is parted where it turns
//! round beside the line, and each part, which meets the line at most once, is searched by false position
//! ([`root`]): a formula for the roots of a cubic goes astray where the cubic is all but a parabola, as it is
//! for every symmetrical curve and for parabolas that are written as cubics. Millimetres.

use super::root::root;
use kurbo::common::solve_quadratic;
use kurbo::{BezPath, CubicBez, Line, ParamCurve, PathSeg, Point, Vec2};

/// Nearer to the line than this, mm, an end or a turn of a curve touches it.
const TOUCHES: f64 = 1e-9;

/// Of the parameter of a curve, for which there is nothing between two numbers.
const FINEST: f64 = 1e-15;

/// Two meetings nearer than this in the parameter of a curve are one.
const ONE: f64 = 1e-9;

/// Where a curve and a straight line meet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Meeting {
    /// Parameter of the curve.
    pub t: f64,
    /// Share of the line from its start.
    pub share: f64,
}

/// Where `segment` meets `line`, in the order of the segment; also where it only touches the line. Nothing for
/// one that lies along the line, and for a line without length.
pub fn meetings(segment: &PathSeg, line: Line) -> Vec<Meeting> {
    let along = line.p1 - line.p0;
    let length = along.hypot();
    if length < TOUCHES {
        return Vec::new();
    }
    let curve = cubic(segment);
    let beside = Heights::of(&curve, |point| along.cross(point - line.p0) / length);
    if beside.0.iter().all(|height| height.abs() <= TOUCHES) {
        return Vec::new();
    }
    let mut found: Vec<f64> = Vec::new();
    for [from, to] in beside.parts() {
        let touches = |t: f64| beside.at(t).abs() <= TOUCHES;
        let between = || root(|t| beside.at(t), from, to, FINEST);
        let t = match (touches(from), touches(to)) {
            (true, _) => Some(from),
            (_, true) => Some(to),
            _ => between(),
        };
        found.extend(t);
        // a part from one touch to another
        found.extend((touches(from) && touches(to)).then_some(to));
    }
    found.dedup_by(|a, b| (*a - *b).abs() < ONE);
    let share = |t: f64| (curve.eval(t) - line.p0).dot(along) / along.hypot2();
    let all = found.into_iter().map(|t| Meeting { t, share: share(t) });
    all.filter(|meeting| (0.0..=1.0).contains(&meeting.share))
        .collect()
}

/// How often the closed `path` runs round `point`, as a ray to the left counts it: positive where it runs
/// round in the sense in which its area is positive. An open path is closed by straight lines.
pub fn winding(path: &BezPath, point: Point) -> i32 {
    closed_segments(path)
        .map(|segment| crossed(&segment, point))
        .sum()
}

/// Whether `point` lies inside the closed `path`, by its [`winding`].
pub fn is_inside(path: &BezPath, point: Point) -> bool {
    winding(path, point) != 0
}

/// The segment as a cubic of the same parameter.
fn cubic(segment: &PathSeg) -> CubicBez {
    match segment {
        PathSeg::Line(line) => {
            CubicBez::new(line.p0, line.eval(1.0 / 3.0), line.eval(2.0 / 3.0), line.p1)
        }
        other => other.to_cubic(),
    }
}

/// The segments of a path, with those that close its open parts.
fn closed_segments(path: &BezPath) -> impl Iterator<Item = PathSeg> + '_ {
    let segments = || path.segments();
    let mut begun: Option<Point> = None;
    let mut last: Option<Point> = None;
    let mut closing = Vec::new();
    for segment in segments() {
        let (start, end) = (segment.start(), segment.end());
        if last != Some(start) {
            closing.extend(begun.zip(last));
            begun = Some(start);
        }
        last = Some(end);
    }
    closing.extend(begun.zip(last));
    let lines = closing.into_iter().filter(|(begun, last)| begun != last);
    segments().chain(lines.map(|(begun, last)| PathSeg::Line(Line::new(last, begun))))
}

/// What a segment adds to the winding number at `point`.
fn crossed(segment: &PathSeg, point: Point) -> i32 {
    let curve = cubic(segment);
    let sides = [curve.p0, curve.p1, curve.p2, curve.p3].map(|p| p - point);
    let all = |is: fn(&Vec2) -> bool| sides.iter().all(is);
    if all(|p| p.x > 0.0) || all(|p| p.y > 0.0) || all(|p| p.y <= 0.0) {
        return 0;
    }
    // how a stretch passes the height of the point
    let passes = |from: f64, to: f64| i32::from(from > 0.0) - i32::from(to > 0.0);
    if all(|p| p.x <= 0.0) {
        return passes(sides[0].y, sides[3].y);
    }
    let heights = Heights(sides.map(|p| p.y));
    let parts = heights.parts().into_iter();
    parts
        .map(|[from, to]| {
            let sign = passes(heights.at(from), heights.at(to));
            let met = (sign != 0).then(|| root(|t| heights.at(t), from, to, FINEST));
            let met = met.flatten().filter(|t| curve.eval(*t).x <= point.x);
            met.map_or(0, |_| sign)
        })
        .sum()
}

/// Heights of a cubic's control points over a line, mm.
struct Heights([f64; 4]);

impl Heights {
    fn of(curve: &CubicBez, height: impl Fn(Point) -> f64) -> Self {
        Self([curve.p0, curve.p1, curve.p2, curve.p3].map(height))
    }

    /// The height at `t`; exact at both ends.
    fn at(&self, t: f64) -> f64 {
        let [a, b, c, d] = self.0;
        let s = 1.0 - t;
        a * s * s * s + 3.0 * t * s * (b * s + c * t) + d * t * t * t
    }

    /// The stretches between ends and turns.
    fn parts(&self) -> Vec<[f64; 2]> {
        let [a, b, c, d] = self.0;
        let [from, middle, to] = [b - a, c - b, d - c];
        let turns = solve_quadratic(from, 2.0 * (middle - from), from - 2.0 * middle + to);
        let mut ends: Vec<f64> = turns.into_iter().filter(|t| *t > 0.0 && *t < 1.0).collect();
        ends.extend([0.0, 1.0]);
        ends.sort_by(f64::total_cmp);
        ends.windows(2).map(|pair| [pair[0], pair[1]]).collect()
    }
}

#[cfg(test)]
mod tests;
