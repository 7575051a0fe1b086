//! Cubic Béziers through a chain of points. Millimetres on paper.

use super::polyline::{lengths, unit};
use kurbo::{BezPath, CubicBez, ParamCurve, ParamCurveDeriv, Point, Vec2};

/// A turn of more than this, degrees, over [`TURN_OVER`] mm to each side is a corner.
const CORNER: f64 = 38.0;
const TURN_OVER: f64 = 0.35;

/// Handles are this share of the length, at least and at most.
const HANDLES: [f64; 2] = [0.08, 0.75];

/// Chains shorter than this, mm, are straight.
const STRAIGHT: f64 = 0.12;

/// Rounds in which the points' parameters are bettered, and halvings of a chain.
const ROUNDS: usize = 6;
const DEPTH: usize = 9;

/// How a chain is fitted.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fit {
    /// Greatest distance of a point of the chain from the curve, mm.
    pub(super) tolerance: f64,
    /// Distance of the points, mm.
    pub(super) step: f64,
    /// Whether the last point is the first.
    pub(super) closed: bool,
    /// Whether corners are kept.
    pub(super) corners: bool,
}

/// A path through `points` (least squares with free handle lengths and bettered parameters after
/// Schneider 1990), corners kept.
pub(super) fn fitted(points: &[Point], fit: Fit) -> BezPath {
    let cuts = if fit.corners {
        corners(points, fit.step)
    } else {
        vec![0, points.len().saturating_sub(1)]
    };
    let mut curves = Vec::new();
    for pair in cuts.windows(2) {
        let part = &points[pair[0]..=pair[1]];
        let (mut start, mut end) = end_tangents(part);
        if fit.closed && cuts.len() == 2 && points.len() > 2 {
            start = unit(points[1] - points[points.len() - 2]);
            end = -start;
        }
        fit_part(part, [start, end], fit.tolerance, DEPTH, &mut curves);
    }
    path(&curves, fit.closed)
}

fn path(curves: &[CubicBez], closed: bool) -> BezPath {
    let mut path = BezPath::new();
    if let Some(first) = curves.first() {
        path.move_to(first.p0);
    }
    for curve in curves {
        path.curve_to(curve.p1, curve.p2, curve.p3);
    }
    if closed {
        path.close_path();
    }
    path
}

/// Numbers of the points at which the chain begins, turns sharply, ends.
fn corners(points: &[Point], step: f64) -> Vec<usize> {
    let reach = ((TURN_OVER / step) as usize).max(1);
    let last = points.len().saturating_sub(1);
    let mut turns: Vec<(f64, usize)> = (reach..points.len().saturating_sub(reach))
        .map(|i| {
            let (before, after) = (points[i] - points[i - reach], points[i + reach] - points[i]);
            (before.cross(after).atan2(before.dot(after)).abs(), i)
        })
        .filter(|(turn, _)| *turn >= CORNER.to_radians())
        .collect();
    turns.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    let mut cuts = vec![0, last];
    for (_, i) in turns {
        if cuts.iter().all(|cut| cut.abs_diff(i) > 2 * reach) {
            cuts.push(i);
        }
    }
    cuts.sort_unstable();
    cuts
}

/// Directions in which a chain leaves its first and its last point into itself.
fn end_tangents(points: &[Point]) -> (Vec2, Vec2) {
    let last = points.len() - 1;
    let reach = 3.min(last);
    (
        unit(points[reach] - points[0]),
        unit(points[last - reach] - points[last]),
    )
}

fn fit_part(
    points: &[Point],
    ends: [Vec2; 2],
    tolerance: f64,
    depth: usize,
    curves: &mut Vec<CubicBez>,
) {
    let last = points.len() - 1;
    let along = lengths(points);
    let whole = along[last];
    if points.len() < 4 || whole < STRAIGHT {
        let (a, b) = (points[0], points[last]);
        curves.push(CubicBez::new(
            a,
            a.lerp(b, 1.0 / 3.0),
            a.lerp(b, 2.0 / 3.0),
            b,
        ));
        return;
    }
    let mut places: Vec<f64> = along.iter().map(|l| l / whole).collect();
    let mut curve = handles(points, &places, ends, whole);
    for _ in 1..ROUNDS {
        if worst(points, &places, curve).0 <= tolerance {
            break;
        }
        better(points, &mut places, curve);
        curve = handles(points, &places, ends, whole);
    }
    let (error, at) = worst(points, &places, curve);
    if error <= tolerance || depth == 0 {
        curves.push(curve);
        return;
    }
    let split = if points.len() > 8 {
        at.clamp(3, last - 3)
    } else {
        points.len() / 2
    };
    let tangent = unit(points[(split + 2).min(last)] - points[split.saturating_sub(2)]);
    let (before, after) = (&points[..=split], &points[split..]);
    fit_part(before, [ends[0], -tangent], tolerance, depth - 1, curves);
    fit_part(after, [tangent, ends[1]], tolerance, depth - 1, curves);
}

/// The curve with the end tangents given whose handles fit best.
fn handles(points: &[Point], places: &[f64], ends: [Vec2; 2], whole: f64) -> CubicBez {
    let (first, last) = (points[0], points[points.len() - 1]);
    let mut normal = [[1e-9 * whole, 0.0], [0.0, 1e-9 * whole]];
    let mut right = [0.0; 2];
    for (point, t) in points.iter().zip(places) {
        let s = 1.0 - t;
        let basis = [s * s * s, 3.0 * t * s * s, 3.0 * t * t * s, t * t * t];
        let columns = [ends[0] * basis[1], ends[1] * basis[2]];
        let fixed =
            first.to_vec2() * (basis[0] + basis[1]) + last.to_vec2() * (basis[2] + basis[3]);
        let rest = point.to_vec2() - fixed;
        for i in 0..2 {
            right[i] += columns[i].dot(rest);
            for j in 0..2 {
                normal[i][j] += columns[i].dot(columns[j]);
            }
        }
    }
    let determinant = normal[0][0] * normal[1][1] - normal[0][1] * normal[1][0];
    let solved = [
        (right[0] * normal[1][1] - right[1] * normal[0][1]) / determinant,
        (right[1] * normal[0][0] - right[0] * normal[1][0]) / determinant,
    ];
    let [a, b] = solved.map(|handle| {
        let handle = if handle.is_finite() {
            handle
        } else {
            whole / 3.0
        };
        handle.clamp(HANDLES[0] * whole, HANDLES[1] * whole)
    });
    CubicBez::new(first, first + ends[0] * a, last + ends[1] * b, last)
}

/// The greatest distance of a point from its place on the curve, and its number.
fn worst(points: &[Point], places: &[f64], curve: CubicBez) -> (f64, usize) {
    let mut worst = (0.0, 0);
    for (number, (point, place)) in points.iter().zip(places).enumerate() {
        let square = curve.eval(*place).distance_squared(*point);
        if square > worst.0 {
            worst = (square, number);
        }
    }
    (worst.0.sqrt(), worst.1)
}

/// Moves each point's place towards the nearest point of the curve, order kept.
fn better(points: &[Point], places: &mut [f64], curve: CubicBez) {
    let along = curve.deriv();
    let last = places.len() - 1;
    let mut least = 0.0;
    for (number, (point, place)) in points.iter().zip(places.iter_mut()).enumerate() {
        let (off, way) = (curve.eval(*place) - *point, along.eval(*place).to_vec2());
        let moved = (*place - off.dot(way) / way.hypot2().max(1e-12)).clamp(0.0, 1.0);
        let moved = if number == 0 {
            0.0
        } else if number == last {
            1.0
        } else {
            moved
        };
        least = moved.max(least);
        *place = least;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FIT: Fit = Fit {
        tolerance: 0.035,
        step: 0.2,
        closed: false,
        corners: true,
    };

    #[test]
    fn an_arc_is_few_curves_within_the_tolerance() {
        let points: Vec<Point> = (0..=157)
            .map(|i| Point::ORIGIN + 20.0 * Vec2::from_angle(f64::from(i) * 0.01))
            .collect();
        let path = fitted(&points, FIT);
        assert!(path.segments().count() <= 2);
        for segment in path.segments() {
            for i in 0..=20 {
                let radius = segment.eval(f64::from(i) / 20.0).to_vec2().hypot();
                assert!((radius - 20.0).abs() < 0.035, "{radius}");
            }
        }
    }

    #[test]
    fn a_right_angle_stays_a_corner() {
        let leg = |i: i32| f64::from(i) * 0.2;
        let mut points: Vec<Point> = (0..=25).map(|i| Point::new(leg(i), 0.0)).collect();
        points.extend((1..=25).map(|i| Point::new(5.0, leg(i))));
        let path = fitted(&points, FIT);
        assert_eq!(path.segments().count(), 2);
        assert!(path.segments().any(|s| s.end() == Point::new(5.0, 0.0)));
    }
}
