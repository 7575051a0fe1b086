//! One outline laid on another. Millimetres, radians.

use super::motion;
use crate::geometry::curve;
use kurbo::{Affine, BezPath, Point, Vec2};

/// Points that are moved, and corners of the polygon on which they are laid.
const MOVED: usize = 256;
const FIXED: usize = 1024;

/// Most rounds; each leaves about four fifths of what was off, so that 60 are usual.
const ROUNDS: usize = 300;

/// No point moves further than this in the last round, mm.
const AT_REST: f64 = 1e-7;

/// The motion that lays `moved` on `fixed` so that the squares of the distances of its points are
/// least, from where they lie now, and the angle by which it turns. Iterated closest points (Besl &
/// McKay 1992); each round's motion is the best one in the plane (Kabsch 1976, Umeyama 1991).
pub(super) fn aligned(moved: &BezPath, fixed: &BezPath) -> (Affine, f64) {
    let ring = curve::spread(fixed, FIXED);
    let mut points = curve::spread(moved, MOVED);
    let (mut whole, mut turned) = (Affine::IDENTITY, 0.0);
    if ring.len() < 3 || points.len() < 3 {
        return (whole, turned);
    }
    let mut hints: Vec<usize> = points.iter().map(|p| nearest_corner(&ring, *p)).collect();
    for _ in 0..ROUNDS {
        let targets: Vec<Point> = points
            .iter()
            .zip(&mut hints)
            .map(|(point, hint)| nearest_on(&ring, *point, hint))
            .collect();
        let (step, angle) = best_motion(&points, &targets);
        let mut greatest = 0.0_f64;
        for point in &mut points {
            let next = step * *point;
            greatest = greatest.max(next.distance(*point));
            *point = next;
        }
        whole = step * whole;
        turned += angle;
        if greatest < AT_REST {
            break;
        }
    }
    (whole, turned)
}

/// The motion that brings `points` nearest to `targets` in the sense of least squares.
fn best_motion(points: &[Point], targets: &[Point]) -> (Affine, f64) {
    let middle = |all: &[Point]| {
        let sum = all.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
        sum / all.len() as f64
    };
    let (from, to) = (middle(points), middle(targets));
    let (mut along, mut across) = (0.0, 0.0);
    for (point, target) in points.iter().zip(targets) {
        let (p, q) = (point.to_vec2() - from, target.to_vec2() - to);
        along += p.dot(q);
        across += p.cross(q);
    }
    let angle = across.atan2(along);
    let way = to - (Affine::rotate(angle) * from.to_point()).to_vec2();
    (motion(angle, way), angle)
}

fn nearest_corner(ring: &[Point], point: Point) -> usize {
    let near = |a: &usize, b: &usize| {
        let distance = |i: usize| ring[i].distance_squared(point);
        distance(*a).total_cmp(&distance(*b))
    };
    (0..ring.len()).min_by(near).unwrap_or(0)
}

/// The nearest point of the polygon within an eighth of it either way from the side where it was
/// last, which `hint` keeps.
fn nearest_on(ring: &[Point], point: Point, hint: &mut usize) -> Point {
    let count = ring.len();
    let first = *hint + count - count / 8;
    let mut best = (f64::INFINITY, point, *hint);
    for number in first..first + count / 4 {
        let (a, b) = (ring[number % count], ring[(number + 1) % count]);
        let side = b - a;
        let share = (point - a).dot(side) / side.hypot2().max(1e-300);
        let here = a.lerp(b, share.clamp(0.0, 1.0));
        let distance = here.distance_squared(point);
        if distance < best.0 {
            best = (distance, here, number % count);
        }
    }
    *hint = best.2;
    best.1
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A turn and a way that are known are found again from the points alone.
    #[test]
    fn the_best_motion_of_moved_points_is_their_motion() {
        let points: Vec<Point> = (0..7)
            .map(|i| Point::new(f64::from(i * i), 3.0 * f64::from(i) - 5.0))
            .collect();
        let known = motion(0.3, Vec2::new(4.0, -2.0));
        let targets: Vec<Point> = points.iter().map(|p| known * *p).collect();
        let (found, angle) = best_motion(&points, &targets);
        assert!((angle - 0.3).abs() < 1e-12);
        for (a, b) in found.as_coeffs().iter().zip(known.as_coeffs()) {
            assert!((a - b).abs() < 1e-9);
        }
    }
}
