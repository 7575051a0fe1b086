//! The parallel curve of one segment. Millimetres; positive distances lie outward.

use super::corner::{disc, outward};
use super::hook::{self, HIDDEN};
use crate::geometry::curve::{self, ending_with, starting_at};
use kurbo::common::solve_cubic;
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
const HALVINGS: usize = 8;

/// Where each piece of an offset is checked.
const BETWEEN: [f64; 3] = [0.2, 0.5, 0.8];

/// Normals beside a tight stretch follow one another at angles of at most this, radians.
const FAN: f64 = 0.15;

/// How often a cubic is looked at for stretches that are bent too tightly for the distance, besides the
/// places where it is slowest, at which it is bent most.
const LOOKS: usize = 32;

/// The parallel of `segment` at `distance` mm outward, within `tolerance`, from the offset of its
/// start to the offset of its end. Where the segment is hollow and bent more tightly than
/// `distance`, the parallel would turn back; it goes along the evolute there instead, so that whatever is
/// nearer to the segment than `distance` lies between the two.
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
        whole.extend(round_evolute(&cubic, (begin, end), distance, tolerance));
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

/// Parameters at which to look at a cubic, in order: evenly spread ones, and those where its speed is least
/// or greatest. Handles of unlike lengths put a sharp bend into a very short stretch of the parameter, and
/// that lies about a least speed.
fn looks(cubic: &CubicBez) -> Vec<f64> {
    let first = cubic.deriv();
    let [a, b, c] = [first.p0, first.p1, first.p2].map(Point::to_vec2);
    // half the derivative of the square of the speed, by powers of the parameter
    let (linear, square) = (2.0 * (b - a), a - 2.0 * b + c);
    let slowest = solve_cubic(
        a.dot(linear),
        linear.dot(linear) + 2.0 * a.dot(square),
        3.0 * linear.dot(square),
        2.0 * square.dot(square),
    );
    let even = (0..=LOOKS).map(|look| look as f64 / LOOKS as f64);
    let inner = slowest.into_iter().filter(|t| *t > 0.0 && *t < 1.0);
    let mut looks: Vec<f64> = even.chain(inner).collect();
    looks.sort_by(f64::total_cmp);
    looks
}

/// Parameter ranges in which the cubic is hollow and tighter than `distance`.
fn tight_stretches(cubic: &CubicBez, distance: f64) -> Vec<(f64, f64)> {
    // the ends themselves may be points of no speed
    let at = |t: f64| regularity(cubic, distance, t.clamp(1e-9, 1.0 - 1e-9));
    let mut stretches = Vec::new();
    let mut open: Option<f64> = (at(0.0) < 0.0).then_some(0.0);
    let mut before = 0.0;
    for t in looks(cubic) {
        let value = at(t);
        match open {
            None if value < 0.0 => open = Some(sign_change(&at, before, t)),
            Some(begin) if value >= 0.0 => {
                stretches.push((begin, sign_change(&at, t, before)));
                open = None;
            }
            _ => {}
        }
        before = t;
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

/// What stands for the parallel of a tight stretch, from the offset of its begin to that of its end: the line
/// round its evolute, and about a hook too small to be seen, at which the outline may turn outward, a disc.
/// Beside a hollow the disc would change nothing, but reach through a narrow piece to its other side.
fn round_evolute(
    cubic: &CubicBez,
    (begin, end): (f64, f64),
    distance: f64,
    tolerance: f64,
) -> Vec<PathSeg> {
    let segment = PathSeg::Cubic(*cubic);
    let normal = |t: f64| outward(curve::tangent(&segment, t));
    let moved = |t: f64| segment.eval(t) + distance * normal(t);
    let places = normals(cubic, begin, end);
    let mut stops = vec![moved(begin)];
    stops.extend(evolute(cubic, &places));
    stops.push(moved(end));
    let line = |pair: &[Point]| PathSeg::from(Line::new(pair[0], pair[1]));
    let mut whole: Vec<PathSeg> = stops.windows(2).map(line).collect();
    let hook = hook::within(&segment, &places).filter(|_| distance > HIDDEN);
    if let Some(middle) = hook {
        let half = whole.len() / 2;
        let (from, centre) = (stops[half], segment.eval(middle));
        let mut round = vec![Line::new(from, centre).into()];
        round.extend(disc(centre, distance, normal(middle), tolerance));
        round.push(Line::new(centre, from).into());
        whole.splice(half..half, round);
    }
    whole
}

/// A line round the evolute (the curve of the centres of curvature) by the normals at `places`, from
/// outside: through the meetings of neighbouring normals, which touch it.
///
/// A point nearer to the curve than to either end lies on a normal no further along than the centre of
/// curvature there, so everything that the stretch is nearest to lies between the curve and this line; and
/// no point of the line is further away than the radius of one of the two normals it lies on.
fn evolute(cubic: &CubicBez, places: &[f64]) -> Vec<Point> {
    let segment = PathSeg::Cubic(*cubic);
    let normal = |t: f64| (segment.eval(t), outward(curve::tangent(&segment, t)));
    places
        .windows(2)
        .map(|pair| {
            let ((a, first), (b, second)) = (normal(pair[0]), normal(pair[1]));
            let turn = first.cross(second);
            // along the first normal to where the second crosses it; at a point of the curve its bend is
            // infinite, and the centre is the point itself
            let along = (b - a).cross(second) / turn;
            match turn.abs() > 1e-12 && along.is_finite() && along > 0.0 {
                true => a + along * first,
                false => a.midpoint(b),
            }
        })
        .collect()
}

/// Parameters from `begin` to `end`, in order, between which the cubic turns by no more than [`FAN`], or
/// which lie as near together as [`HALVINGS`] halvings of a quarter make them.
fn normals(cubic: &CubicBez, begin: f64, end: f64) -> Vec<f64> {
    let segment = PathSeg::Cubic(*cubic);
    let mut places = vec![begin];
    let mut ahead: Vec<(f64, usize)> = (1..=4)
        .rev()
        .map(|part| (begin + (end - begin) * f64::from(part) / 4.0, HALVINGS))
        .collect();
    while let Some((to, halvings)) = ahead.pop() {
        let from = places.last().copied().unwrap_or(begin);
        let middle = 0.5 * (from + to);
        let [first, half, second] = [from, middle, to].map(|t| curve::tangent(&segment, t));
        let turn = |a: Vec2, b: Vec2| a.cross(b).atan2(a.dot(b)).abs();
        if turn(first, half) + turn(half, second) > FAN && halvings > 0 {
            ahead.push((to, halvings - 1));
            ahead.push((middle, halvings - 1));
        } else {
            places.push(to);
        }
    }
    places
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
    let middle = middle(cubic);
    let (first, second) = (cubic.subsegment(0.0..middle), cubic.subsegment(middle..1.0));
    let mut whole = offset_checked(&first, distance, tolerance, halvings - 1);
    whole.extend(offset_checked(&second, distance, tolerance, halvings - 1));
    whole
}

/// The parameter at which the cubic has turned by half of what it turns.
fn middle(cubic: &CubicBez) -> f64 {
    let places = normals(cubic, 0.0, 1.0);
    places[places.len() / 2]
}

/// Whether the true parallel lies within `tolerance` of `segments`, and they of it, where it runs evenly and
/// where the cubic turns.
fn fits(cubic: &CubicBez, segments: &[PathSeg], distance: f64, tolerance: f64) -> bool {
    let source = PathSeg::Cubic(*cubic);
    let even = (0..=CHECKS).map(|check| check as f64 / CHECKS as f64);
    let mut places: Vec<f64> = even.chain(normals(cubic, 0.0, 1.0)).collect();
    places.sort_by(f64::total_cmp);
    let moved = |t: &f64| source.eval(*t) + distance * outward(curve::tangent(&source, *t));
    let parallel: Vec<Point> = places.iter().map(moved).collect();
    let covered = parallel.iter().all(|point| {
        let near = segments.iter().map(|s| s.nearest(*point, 1e-9).distance_sq);
        near.fold(f64::INFINITY, f64::min) <= tolerance * tolerance
    });
    covered
        && segments.iter().all(|segment| {
            BETWEEN.iter().all(|t| {
                let point = segment.eval(*t);
                let about = stretch_about(&parallel, point);
                let stretch = cubic.subsegment(places[about.0]..places[about.1]);
                let far = stretch.nearest(point, 1e-9).distance_sq.sqrt();
                (far - distance.abs()).abs() <= tolerance
            })
        })
}

/// The indices before and after the one of `points` that is nearest to `point`.
fn stretch_about(points: &[Point], point: Point) -> (usize, usize) {
    let far = |index: &usize| points[*index].distance_squared(point);
    let nearest = (0..points.len()).min_by(|a, b| far(a).total_cmp(&far(b)));
    let nearest = nearest.unwrap_or(0);
    (
        nearest.saturating_sub(1),
        (nearest + 1).min(points.len() - 1),
    )
}

/// A plain polyline, for a cubic so short or so bent that its offset cannot be drawn.
fn polyline(cubic: &CubicBez, distance: f64) -> Vec<PathSeg> {
    let segment = PathSeg::Cubic(*cubic);
    let moved = |t: &f64| segment.eval(*t) + distance * outward(curve::tangent(&segment, *t));
    let points: Vec<Point> = normals(cubic, 0.0, 1.0).iter().map(moved).collect();
    let line = |pair: &[Point]| PathSeg::from(Line::new(pair[0], pair[1]));
    points.windows(2).map(line).collect()
}

fn fasten_ends(segments: &mut [PathSeg], start: Point, end: Point) {
    if let Some(first) = segments.first_mut() {
        *first = starting_at(*first, start);
    }
    if let Some(last) = segments.last_mut() {
        *last = ending_with(*last, end);
    }
}
