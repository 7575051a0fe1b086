//! Closed rings of points, the last joined to the first.

use kurbo::Point;

/// Whether `point` is within the ring (even-odd, whichever way it runs); a point on the ring may count
/// either way.
pub fn contains(ring: &[Point], point: Point) -> bool {
    let next = ring.iter().skip(1).chain(ring.first());
    ring.iter().zip(next).fold(false, |inside, (a, b)| {
        let spans = (a.y > point.y) != (b.y > point.y);
        inside != (spans && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_contains_what_a_ray_leaves_once() {
        // an L, either way round
        let mut ring: Vec<Point> = [(0, 0), (4, 0), (4, 1), (1, 1), (1, 4), (0, 4)]
            .map(|(x, y)| Point::new(f64::from(x), f64::from(y)))
            .to_vec();
        for _ in 0..2 {
            assert!(contains(&ring, Point::new(3.0, 0.5)) && contains(&ring, Point::new(0.5, 3.0)));
            assert!(
                !contains(&ring, Point::new(2.0, 2.0)) && !contains(&ring, Point::new(-1.0, 0.5))
            );
            ring.reverse();
        }
        assert!(!contains(&[], Point::ZERO));
    }
}
