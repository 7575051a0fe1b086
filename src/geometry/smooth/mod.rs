//! A smooth closed outline from the points of a hand tracing, in mm. It finds the line that the
//! hand meant: the points are noisy, unevenly spread, and may run either way round.
//!
//! A periodic P-spline (Eilers & Marx 1996): cubic B-splines with uniform knots and a penalty on
//! third differences, which leaves curvature alone and presses on its change. Generalised cross
//! validation (Craven & Wahba 1979) weighs the penalty, with the number of free parameters counted
//! 1.4 times, as is usual against too little smoothing. The parameter of a point is its chord
//! length along a five-point binomial mean of the ring, so that noise does not lengthen the way,
//! and is then found anew three times by projecting the point on the curve.

mod fit;
mod ring_matrix;
mod spline;

#[cfg(test)]
mod tests;

use super::curve;
use super::winding;
use kurbo::simplify::SimplifyBezPath;
use kurbo::{BezPath, Point, Shape, fit_to_bezpath};
use spline::Spline;

/// Fewest distinct points that make a tracing: fewer cannot tell a foot from an oval.
pub const FEWEST_POINTS: usize = 8;

/// Fewest and most knots; between them, one for every three points. Eighty knots follow details of
/// 2 mm on a foot of 70 mm; more would follow the tremor of the hand.
const KNOTS: (usize, usize) = (24, 80);

/// How often points are projected on the curve and fitted again.
const ROUNDS: usize = 3;

/// The spline is drawn with few cubics that lie within this of it, mm.
const DRAWN: f64 = 0.005;

/// Points nearer together than this share of the ring's width are one.
const SAME: f64 = 1e-6;

/// Why points make no outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SmoothFault {
    /// Only this many distinct points.
    TooFew(usize),
    /// A coordinate is not a finite number.
    NotFinite,
    /// The points enclose no area.
    NoArea,
    /// The outline crosses itself near this point.
    Crosses(Point),
}

/// The smooth outline through `points`, which go once round it in order, in either direction; the
/// first may be repeated at the end. One closed path of cubics, clockwise on the page (positive
/// area), with a continuous tangent. The same points always give the same path.
///
/// # Errors
/// See [`SmoothFault`].
pub fn smooth_outline(points: &[Point]) -> Result<BezPath, SmoothFault> {
    if points.iter().any(|p| !p.is_finite()) {
        return Err(SmoothFault::NotFinite);
    }
    let mut ring = distinct_neighbours(points);
    let distinct = count_distinct(&ring);
    if distinct < FEWEST_POINTS {
        return Err(SmoothFault::TooFew(distinct));
    }
    let size = width(&ring);
    let area = signed_area(&ring);
    if area < 0.0 {
        ring.reverse();
    }
    let path = drawn(&fitted(&ring));
    if !path.is_finite() {
        return Err(SmoothFault::NotFinite);
    }
    if path.area().abs() <= 1e-6 * size * size {
        return Err(SmoothFault::NoArea);
    }
    match winding::crossing(&path) {
        Some(point) => Err(SmoothFault::Crosses(point)),
        None => Ok(path),
    }
}

fn fitted(ring: &[Point]) -> Spline {
    let knots = (ring.len() / 3).clamp(KNOTS.0, KNOTS.1);
    let mut parameters = chord_parameters(ring);
    let (mut spline, mut weight) = fit::fit(ring, &parameters, knots, None);
    for _ in 0..ROUNDS {
        for (parameter, point) in parameters.iter_mut().zip(ring) {
            *parameter = spline.projected(*point, *parameter);
        }
        (spline, weight) = fit::fit(ring, &parameters, knots, Some(weight));
    }
    spline
}

/// The spline as one closed path of few cubics; span for span if fewer do not come near enough.
fn drawn(spline: &Spline) -> BezPath {
    let exact = spline.path();
    let mut few = fit_to_bezpath(&SimplifyBezPath::new(&exact), 0.5 * DRAWN);
    few.close_path();
    let near = few.is_finite() && curve::deviation(&few, &exact, 4 * spline.spans()) <= DRAWN;
    if near { few } else { exact }
}

/// Each point's share of the way round, measured along a smoothed copy of the ring.
fn chord_parameters(ring: &[Point]) -> Vec<f64> {
    let count = ring.len();
    let at = |i: usize| ring[i % count].to_vec2();
    let smoothed: Vec<Point> = (count..2 * count)
        .map(|i| {
            let sum = at(i - 2) + 4.0 * at(i - 1) + 6.0 * at(i) + 4.0 * at(i + 1) + at(i + 2);
            (sum / 16.0).to_point()
        })
        .collect();
    let mut along = 0.0;
    let mut sums = vec![0.0];
    for i in 0..count {
        along += smoothed[i].distance(smoothed[(i + 1) % count]);
        sums.push(along);
    }
    let whole = if along > 0.0 { along } else { 1.0 };
    sums.iter().take(count).map(|s| s / whole).collect()
}

/// The ring without points that repeat their neighbour.
fn distinct_neighbours(points: &[Point]) -> Vec<Point> {
    let near = SAME * width(points);
    let mut ring: Vec<Point> = Vec::with_capacity(points.len());
    for point in points {
        if ring.last().is_none_or(|last| last.distance(*point) > near) {
            ring.push(*point);
        }
    }
    while ring.len() > 1 && ring[0].distance(ring[ring.len() - 1]) <= near {
        ring.pop();
    }
    ring
}

fn count_distinct(ring: &[Point]) -> usize {
    let mut sorted: Vec<(f64, f64)> = ring.iter().map(|p| (p.x, p.y)).collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    sorted.dedup();
    sorted.len()
}

fn width(points: &[Point]) -> f64 {
    let first = points.first().copied().unwrap_or(Point::ZERO);
    let bounds = points
        .iter()
        .fold(kurbo::Rect::from_points(first, first), |bounds, point| {
            bounds.union_pt(*point)
        });
    bounds.width().max(bounds.height())
}

fn signed_area(ring: &[Point]) -> f64 {
    let Some(first) = ring.first() else {
        return 0.0;
    };
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    pairs
        .map(|(a, b)| 0.5 * (*a - *first).cross(*b - *first))
        .sum()
}
