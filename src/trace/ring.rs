//! Rings of points in pixels: spread evenly, smoothed, with outward directions, gaps closed.

pub use crate::geometry::ring::length;
use kurbo::{Point, Vec2};

/// `count` points at equal distances along the ring.
pub fn spread(ring: &[Point], count: usize) -> Vec<Point> {
    let step = length(ring) / count.max(1) as f64;
    let mut points = Vec::with_capacity(count);
    let mut walked = 0.0;
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    for (a, b) in pairs {
        let side = a.distance(*b);
        while points.len() < count && points.len() as f64 * step < walked + side {
            let share = (points.len() as f64 * step - walked) / side;
            points.push(a.lerp(*b, share));
        }
        walked += side;
    }
    points
}

/// Each point the binomial mean of itself and its neighbours, `rounds` times.
pub fn smoothed(ring: &[Point], rounds: usize) -> Vec<Point> {
    let mut ring = ring.to_vec();
    let count = ring.len();
    for _ in 0..rounds {
        let last = ring.clone();
        for (i, point) in ring.iter_mut().enumerate() {
            let (a, b) = (last[(i + count - 1) % count], last[(i + 1) % count]);
            *point = last[i].midpoint(a.midpoint(b));
        }
    }
    ring
}

/// The unit direction out of a clockwise ring at each point, from neighbours `reach` points away.
pub fn outward(ring: &[Point], reach: usize) -> Vec<Vec2> {
    let count = ring.len();
    let at = |i: usize| {
        let along = ring[(i + reach) % count] - ring[(i + count - reach % count) % count];
        let length = along.hypot().max(1e-9);
        Vec2::new(along.y, -along.x) / length
    };
    (0..count).map(at).collect()
}

/// The stretches of a ring where `known` is false: first index and how many points.
pub fn gaps(known: &[bool]) -> Vec<(usize, usize)> {
    let count = known.len();
    let Some(start) = known.iter().position(|k| *k) else {
        return Vec::new();
    };
    let mut gaps = Vec::new();
    let mut open: Option<(usize, usize)> = None;
    for i in (0..=count).map(|i| (start + i) % count) {
        match (&mut open, known[i]) {
            (None, false) => open = Some((i, 1)),
            (Some((_, length)), false) => *length += 1,
            (Some(gap), true) => {
                gaps.push(*gap);
                open = None;
            }
            (None, true) => {}
        }
    }
    gaps
}

/// The ring with its gaps bridged by curves that go on in the direction in which the line ends on either
/// side (cubic Hermite).
pub fn bridged(ring: &[Point], known: &[bool]) -> Vec<Point> {
    let count = ring.len();
    let mut whole = ring.to_vec();
    for (first, missing) in gaps(known) {
        let before = |n: usize| ring[(first + 2 * count - 1 - n) % count];
        let after = |n: usize| ring[(first + missing + n) % count];
        let (a, b) = (before(0), after(0));
        let chord = a.distance(b);
        let far = 5.min(count / 8).max(1);
        let unit = |v: Vec2| v / v.hypot().max(1e-9);
        // the slope of a parabola through three points, at its end
        let slope = |end: Point, next: Point, last: Point| unit((end - next) * 4.0 - (end - last));
        let leaving = slope(a, before(far), before(2 * far)) * chord;
        let arriving = -slope(b, after(far), after(2 * far)) * chord;
        for i in 0..missing {
            let t = (i + 1) as f64 / (missing + 1) as f64;
            let (s, u) = (t * t * (3.0 - 2.0 * t), 1.0 - t);
            let pull = leaving * (t * u * u) - arriving * (t * t * u);
            whole[(first + i) % count] = a.lerp(b, s) + pull;
        }
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Closed form: a circle.
    #[test]
    fn a_gap_in_a_circle_is_bridged_on_the_circle() {
        let at = |i: usize| {
            Point::new(50.0, 40.0)
                + Vec2::from_angle(i as f64 * std::f64::consts::TAU / 200.0) * 30.0
        };
        let mut ring: Vec<Point> = (0..200).map(at).collect();
        let known: Vec<bool> = (0..200).map(|i| (5..195).contains(&i)).collect();
        assert_eq!(gaps(&known), [(195, 10)]);
        for i in [0, 1, 197] {
            ring[i] = Point::ZERO;
        }
        let whole = bridged(&ring, &known);
        assert!((0..200).all(|i| whole[i].distance(at(i)) < 0.05));
        assert!((length(&whole) / (60.0 * std::f64::consts::PI) - 1.0).abs() < 1e-3);
        let even = spread(&whole, 50);
        assert_eq!(even.len(), 50);
        let normals = outward(&even, 1);
        let centre = Point::new(50.0, 40.0);
        let away = |(p, n): (&Point, &Vec2)| ((*p - centre) / 30.0 - *n).hypot() < 0.02;
        assert!(even.iter().zip(&normals).all(away));
    }
}
