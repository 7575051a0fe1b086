#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use kurbo::{Ellipse, ParamCurveNearest};
use serde_json::Value;

/// Outlines of four invented feet as 200 clean points each, with the perimeters that a second
/// program (centripetal splines through the points) gives.
const TRACINGS: &str = include_str!("../../../tests/geometry/tracings.json");

fn tracings() -> Vec<(Vec<Point>, f64)> {
    let all: Vec<Value> = serde_json::from_str(TRACINGS).unwrap();
    let point = |p: &Value| Point::new(p[0].as_f64().unwrap(), p[1].as_f64().unwrap());
    let feet = all.iter().map(|foot| {
        let points = foot["tracing"]
            .as_array()
            .unwrap()
            .iter()
            .map(point)
            .collect();
        // Steiner: the sole's seam line is the tracing's outline moved out by the ease.
        let sole = foot["sole_perimeter"].as_f64().unwrap();
        (
            points,
            sole - 2.0 * std::f64::consts::PI * foot["ease"].as_f64().unwrap(),
        )
    });
    feet.collect()
}

/// Normally distributed numbers (Box & Muller 1958) from a fixed linear congruential generator
/// (constants: Knuth, MMIX; from memory).
struct Noise(u64);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        radius * (2.0 * std::f64::consts::PI * self.uniform()).cos()
    }

    fn added(&mut self, points: &[Point], sigma: f64) -> Vec<Point> {
        let shaken = points
            .iter()
            .map(|p| Point::new(p.x + sigma * self.normal(), p.y + sigma * self.normal()));
        shaken.collect()
    }
}

fn perimeter(path: &BezPath) -> f64 {
    curve::length(path, 1e-6)
}

/// Root mean square distance of 400 points of `a` from `b`.
fn rms(a: &BezPath, b: &BezPath) -> f64 {
    let points = curve::spread(a, 400);
    let square = |p: &Point| {
        let near = b.segments().map(|s| s.nearest(*p, 1e-9).distance_sq);
        near.fold(f64::INFINITY, f64::min)
    };
    (points.iter().map(square).sum::<f64>() / points.len() as f64).sqrt()
}

#[test]
fn clean_tracings_keep_their_perimeter_and_run_through_their_points() {
    for (points, expected) in tracings() {
        let path = smooth_outline(&points).unwrap();
        let length = perimeter(&path);
        assert!(
            (length / expected - 1.0).abs() < 5e-4,
            "{length} for {expected}"
        );
        assert!(path.area() > 0.0);
        let farthest = points.iter().map(|p| {
            let near = path.segments().map(|s| s.nearest(*p, 1e-9).distance_sq);
            near.fold(f64::INFINITY, f64::min).sqrt()
        });
        let farthest = farthest.fold(0.0, f64::max);
        assert!(farthest < 0.03, "{farthest}");
        assert!(path.segments().count() <= 40, "{}", path.segments().count());
    }
}

#[test]
fn a_trembling_hand_is_smoothed_to_within_its_tremor() {
    let mut noise = Noise(7);
    for (points, _) in tracings() {
        let clean = smooth_outline(&points).unwrap();
        for _ in 0..3 {
            let path = smooth_outline(&noise.added(&points, 0.2)).unwrap();
            let off = rms(&path, &clean);
            let longer = perimeter(&path) / perimeter(&clean) - 1.0;
            assert!(off < 0.14, "{off}");
            assert!(longer.abs() < 6e-3, "{longer}");
        }
    }
}

#[test]
fn tangents_are_continuous() {
    let (points, _) = &tracings()[2];
    let path = smooth_outline(&Noise(3).added(points, 0.2)).unwrap();
    assert_eq!(curve::corners(&path, 0.1).len(), 1);
}

#[test]
fn an_ellipse_from_a_dozen_points_has_its_perimeter() {
    // Complete elliptic integral: semi-axes 5 and 3 give 25.526998863398 (TRADE, section 8).
    let at = |i: usize| {
        let angle = i as f64 / 24.0 * 2.0 * std::f64::consts::PI;
        Point::new(50.0 * angle.cos(), 30.0 * angle.sin())
    };
    let points: Vec<Point> = (0..24).map(at).collect();
    let length = perimeter(&smooth_outline(&points).unwrap());
    assert!((length / 255.26998863398 - 1.0).abs() < 1e-3, "{length}");
}

#[test]
fn direction_start_and_repeated_points_do_not_matter_much() {
    let (points, _) = &tracings()[1];
    let first = smooth_outline(points).unwrap();
    let mut other: Vec<Point> = points.iter().rev().flat_map(|p| [*p, *p]).collect();
    other.rotate_left(37);
    other.push(other[0]);
    let second = smooth_outline(&other).unwrap();
    assert!(second.area() > 0.0);
    assert!(curve::deviation(&first, &second, 200) < 0.02);
    assert_eq!(smooth_outline(points).unwrap().to_svg(), first.to_svg());
}

#[test]
fn eight_points_are_enough_and_seven_are_not() {
    let ellipse = Ellipse::new((0.0, 0.0), (12.0, 30.0), 0.2);
    let at = |i: usize| {
        let angle = i as f64 / 8.0 * 2.0 * std::f64::consts::PI;
        Point::new(12.0 * angle.cos(), 30.0 * angle.sin())
    };
    let mut points: Vec<Point> = (0..8).map(at).collect();
    let path = smooth_outline(&points).unwrap();
    assert!(
        (path.area() / ellipse.area() - 1.0).abs() < 0.1,
        "{}",
        path.area()
    );
    points.pop();
    assert_eq!(smooth_outline(&points), Err(SmoothFault::TooFew(7)));
    points.extend(points.clone());
    assert_eq!(smooth_outline(&points), Err(SmoothFault::TooFew(7)));
    assert_eq!(smooth_outline(&[]), Err(SmoothFault::TooFew(0)));
}

#[test]
fn a_tracing_that_crosses_itself_is_refused_with_the_place() {
    let at = |i: usize| {
        let angle = i as f64 / 60.0 * 2.0 * std::f64::consts::PI;
        Point::new(
            30.0 * angle.sin() + 5.0,
            16.0 * (2.0 * angle).sin() + 0.5 * angle.cos(),
        )
    };
    let points: Vec<Point> = (0..60).map(at).collect();
    let Err(SmoothFault::Crosses(point)) = smooth_outline(&points) else {
        panic!("{:?}", smooth_outline(&points).map(|p| p.to_svg()));
    };
    assert!(point.distance(Point::new(5.0, 0.0)) < 2.0, "{point:?}");
}

#[test]
fn points_that_are_no_numbers_or_lie_on_a_line_are_refused() {
    let mut points: Vec<Point> = (0..12).map(|i| Point::new(f64::from(i), 3.0)).collect();
    assert!(matches!(
        smooth_outline(&points),
        Err(SmoothFault::NoArea | SmoothFault::Crosses(_))
    ));
    points[3].y = f64::NAN;
    assert_eq!(smooth_outline(&points), Err(SmoothFault::NotFinite));
}

#[test]
fn an_egg_whose_ends_lie_level_does_not_cross_itself() {
    let point = |i: u32| {
        let angle = std::f64::consts::TAU * f64::from(i) / 32.0;
        let across = (11.5 + 1.8 * angle.cos()) * angle.sin();
        let round = |x: f64| (x * 100.0).round() / 100.0;
        Point::new(round(20.0 + across), round(30.0 - 30.0 * angle.cos()))
    };
    let points: Vec<Point> = (0..32).map(point).collect();
    assert!(smooth_outline(&points).is_ok());
}
