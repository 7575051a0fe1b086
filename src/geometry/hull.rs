//! The convex hull of points in the plane: the way of a tape drawn tight round them.

use super::ring;
use kurbo::Point;

/// Length of a tape drawn tight round `points`, in their unit; zero for none.
pub fn girth(points: Vec<Point>) -> f64 {
    ring::length(&hull(points))
}

/// The convex hull of points, clockwise on the page (monotone chain, Andrew 1979); none if they are one.
pub fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut hull = half_hull(points.iter());
    hull.extend(half_hull(points.iter().rev()));
    hull
}

fn half_hull<'a>(points: impl Iterator<Item = &'a Point>) -> Vec<Point> {
    let mut chain: Vec<Point> = Vec::new();
    for &point in points {
        while let [.., a, b] = chain[..]
            && (b - a).cross(point - a) <= 0.0
        {
            chain.pop();
        }
        chain.push(point);
    }
    chain.pop();
    chain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tape_spans_hollows() {
        let square = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 1.0), (0.0, 3.0)];
        let points: Vec<Point> = square.map(Point::from).to_vec();
        assert!((girth(points) - 14.0).abs() < 1e-12);
        assert_eq!(girth(Vec::new()), 0.0);
    }
}
