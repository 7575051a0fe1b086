//! Closed rings of points, the last joined to the first.

use kurbo::Point;

/// Whether `point` is within the ring (even-odd, whichever way it runs); a point on the ring may count
/// either way.
pub fn contains(ring: &[Point], point: Point) -> bool {
    edges(ring).fold(false, |inside, (a, b)| {
        let spans = (a.y > point.y) != (b.y > point.y);
        inside != (spans && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x))
    })
}

/// Where the horizontal at `y` crosses the ring, in the order of its edges: a point of it is within the ring
/// if an odd number of them lie to its right.
pub fn crossings(ring: &[Point], y: f64) -> Vec<f64> {
    let spans = |(a, b): &(Point, Point)| (a.y > y) != (b.y > y);
    let at = |(a, b): (Point, Point)| a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);
    edges(ring).filter(spans).map(at).collect()
}

/// The area that a ring encloses, in the square of its unit; greater than 0 if it runs clockwise on the
/// page.
pub fn area(ring: &[Point]) -> f64 {
    edges(ring)
        .map(|(a, b)| a.to_vec2().cross(b.to_vec2()))
        .sum::<f64>()
        / 2.0
}

/// How long a ring is, closed, in the unit of its points.
pub fn length(ring: &[Point]) -> f64 {
    edges(ring).map(|(a, b)| a.distance(b)).sum()
}

/// The edges, each as its two ends; the last one closes the ring.
pub fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + Clone + '_ {
    let next = ring.iter().skip(1).chain(ring.first());
    ring.iter().copied().zip(next.copied())
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
            let mut crossed = crossings(&ring, 0.5);
            crossed.sort_by(f64::total_cmp);
            assert_eq!(crossed, [0.0, 4.0]);
            assert!(crossings(&ring, 4.5).is_empty());
            ring.reverse();
        }
        assert!(!contains(&[], Point::ZERO));
    }

    #[test]
    fn area_has_the_sign_of_the_way_round() {
        // by hand: 3 by 4, down the right side first
        let mut ring: Vec<Point> = [(0, 0), (3, 0), (3, 4), (0, 4)]
            .map(|(x, y)| Point::new(f64::from(x), f64::from(y)))
            .to_vec();
        assert_eq!((area(&ring), length(&ring)), (12.0, 14.0));
        ring.reverse();
        assert_eq!((area(&ring), length(&ring)), (-12.0, 14.0));
    }
}
