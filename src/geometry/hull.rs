//! The convex hull of points in the plane: the way of a tape drawn tight round them.

use kurbo::Point;

/// Length of a tape drawn tight round `points`, mm; zero for none. The monotone chain (Andrew
/// 1979). The points are put in order.
pub fn girth(points: &mut [Point]) -> f64 {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut hull: Vec<Point> = Vec::with_capacity(points.len());
    let chain = |point: Point, floor: usize, hull: &mut Vec<Point>| {
        while hull.len() >= floor + 2 {
            let (a, b) = (hull[hull.len() - 2], hull[hull.len() - 1]);
            if (b - a).cross(point - a) > 0.0 {
                break;
            }
            hull.pop();
        }
        hull.push(point);
    };
    for point in points.iter() {
        chain(*point, 0, &mut hull);
    }
    let floor = hull.len().saturating_sub(1);
    for point in points.iter().rev().skip(1) {
        chain(*point, floor, &mut hull);
    }
    hull.windows(2).map(|w| w[0].distance(w[1])).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tape_spans_hollows() {
        let square = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (2.0, 1.0), (0.0, 3.0)];
        let mut points: Vec<Point> = square.map(Point::from).to_vec();
        assert!((girth(&mut points) - 14.0).abs() < 1e-12);
        assert_eq!(girth(&mut []), 0.0);
    }
}
