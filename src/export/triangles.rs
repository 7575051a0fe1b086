//! Notches that are cut out of an allowance as small triangles: each leaves the cut line, goes in to its
//! tip and comes back, so that the line stays one ring. Millimetres.

use crate::geometry::curve;
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point};

/// Accuracy of places along the ring, mm.
const ACCURACY: f64 = 1e-9;

/// Between two triangles so much of the line is left, mm.
const BETWEEN: f64 = 0.2;

/// A triangle to be cut out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Triangle {
    /// Its middle, on the ring.
    pub middle: Point,
    /// Its tip, inside.
    pub tip: Point,
}

/// `ring` with `triangles` cut out of it, each so far to both sides of its middle as `half`, along the
/// ring; and those that find no room beside the others.
pub(super) fn cut_out(
    ring: &BezPath,
    triangles: &[Triangle],
    half: f64,
) -> (BezPath, Vec<Triangle>) {
    let segments: Vec<PathSeg> = ring.segments().collect();
    let lengths: Vec<f64> = segments.iter().map(|s| s.arclen(ACCURACY)).collect();
    let whole: f64 = lengths.iter().sum();
    let mut placed: Vec<(f64, Triangle)> = Vec::new();
    let mut left = Vec::new();
    let mut sorted: Vec<(f64, Triangle)> = triangles
        .iter()
        .filter_map(|t| Some((place(&segments, &lengths, t.middle)?, *t)))
        .collect();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (at, triangle) in sorted {
        let room = 2.0 * half + BETWEEN;
        let near_last = placed.last().is_some_and(|(last, _)| at - last < room);
        let near_first = placed
            .first()
            .is_some_and(|(first, _)| first + whole - at < room);
        if near_last || near_first || whole < 2.0 * room {
            left.push(triangle);
        } else {
            placed.push((at, triangle));
        }
    }
    if placed.is_empty() {
        return (ring.clone(), left);
    }
    // twice round, so that the stretch over the start of the ring is one
    let twice = curve::chained(segments.iter().chain(&segments).copied());
    let mut path = BezPath::new();
    for (index, (at, _)) in placed.iter().enumerate() {
        let (next, triangle) = match placed.get(index + 1) {
            Some((next, triangle)) => (*next, triangle),
            None => (placed[0].0 + whole, &placed[0].1),
        };
        let stretch = curve::part(&twice, at + half, next - half, ACCURACY);
        for segment in stretch.segments() {
            if path.is_empty() {
                path.move_to(segment.start());
            }
            path.push(segment.as_path_el());
        }
        path.line_to(triangle.tip);
        let back = curve::station(&twice, next + half, ACCURACY);
        path.extend(
            back.filter(|_| index + 1 < placed.len())
                .map(|station| kurbo::PathEl::LineTo(station.point)),
        );
    }
    path.close_path();
    (path, left)
}

/// Where on the ring, mm from its start, the point nearest to `point` lies.
fn place(segments: &[PathSeg], lengths: &[f64], point: Point) -> Option<f64> {
    let mut before = 0.0;
    let mut best: Option<(f64, f64)> = None;
    for (segment, length) in segments.iter().zip(lengths) {
        let near = segment.nearest(point, ACCURACY);
        if best.is_none_or(|(distance, _)| near.distance_sq < distance) {
            let along = segment.subsegment(0.0..near.t).arclen(ACCURACY);
            best = Some((near.distance_sq, before + along));
        }
        before += length;
    }
    best.map(|(_, at)| at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Shape;

    fn square() -> BezPath {
        BezPath::from_svg("M0 0L40 0L40 40L0 40Z").expect("path data")
    }

    fn triangle(middle: (f64, f64), tip: (f64, f64)) -> Triangle {
        Triangle {
            middle: middle.into(),
            tip: tip.into(),
        }
    }

    #[test]
    fn each_takes_its_own_area_and_adds_its_two_sides() {
        let two = [
            triangle((20.0, 0.0), (20.0, 2.0)),
            triangle((0.0, 10.0), (2.0, 10.0)),
        ];
        let (ring, left) = cut_out(&square(), &two, 1.0);
        assert!(left.is_empty());
        // a triangle of base 2 and height 2 has area 2, and two sides of √5
        assert!((ring.area() - (1600.0 - 4.0)).abs() < 1e-9);
        let around = 160.0 - 4.0 + 4.0 * 5.0_f64.sqrt();
        assert!((ring.perimeter(1e-9) - around).abs() < 1e-9);
        let starts = ring.elements().iter();
        let starts = starts.filter(|e| matches!(e, kurbo::PathEl::MoveTo(_)));
        assert_eq!(starts.count(), 1);
    }

    #[test]
    fn one_over_the_start_of_the_ring_is_cut_too() {
        let ring = BezPath::from_svg("M20 0L40 0L40 40L0 40L0 0Z").expect("path data");
        let (cut, left) = cut_out(&ring, &[triangle((20.0, 0.0), (20.0, 3.0))], 1.0);
        assert!(left.is_empty());
        assert!((cut.area() - (1600.0 - 3.0)).abs() < 1e-9);
    }

    #[test]
    fn what_finds_no_room_is_given_back() {
        let near = [
            triangle((20.0, 0.0), (20.0, 2.0)),
            triangle((21.0, 0.0), (21.0, 2.0)),
        ];
        let (cut, left) = cut_out(&square(), &near, 1.0);
        assert_eq!(left, [near[1]]);
        assert!((cut.area() - 1598.0).abs() < 1e-9);
        let (same, none) = cut_out(&square(), &[], 1.0);
        assert_eq!((same, none), (square(), Vec::new()));
    }
}
