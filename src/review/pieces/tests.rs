#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::shape::{apart_mirrored, bends, is_symmetric};
use crate::geometry::{Edge, Outline};
use kurbo::{BezPath, Circle, Shape};

fn ring(points: &[(f64, f64)]) -> Outline {
    let count = points.len();
    let edge = |i: usize| {
        let mut path = BezPath::new();
        path.move_to(points[i]);
        path.line_to(points[(i + 1) % count]);
        Edge::new(format!("{i}"), path)
    };
    Outline::new((0..count).map(edge).collect()).unwrap()
}

/// An isosceles triangle is its own mirror image, one of sides 3, 4 and 5 is not.
#[test]
fn symmetry_is_that_of_school_geometry() {
    assert!(is_symmetric(&ring(&[
        (0.0, 0.0),
        (40.0, 0.0),
        (20.0, 70.0)
    ])));
    let slanted = [(0.0, 0.0), (60.0, 20.0), (60.0, 90.0), (0.0, 70.0)];
    assert!(!is_symmetric(&ring(&slanted)));
    let one = ring(&[(0.0, 0.0), (40.0, 0.0), (0.0, 30.0)]);
    assert!(!is_symmetric(&one));
    let other = ring(&[(0.0, 0.0), (0.0, 30.0), (-40.0, 0.0)]);
    assert!(apart_mirrored(&one, &other, 0.3).unwrap() < 0.3);
}

/// A circle of radius r turns once round, on 2πr, nowhere tighter than r.
#[test]
fn a_circle_bends_by_its_radius() {
    let path = Circle::new((0.0, 0.0), 5.0).to_path(1e-6);
    let whole = bends(&path, 5.5);
    let turn: f64 = whole.iter().map(|bend| bend.turn).sum();
    let length: f64 = whole.iter().map(|bend| bend.length).sum();
    assert!((turn - 360.0).abs() < 1.0, "{turn}");
    assert!(
        (length - 10.0 * std::f64::consts::PI).abs() < 0.05,
        "{length}"
    );
    assert!(whole.iter().all(|bend| (bend.radius - 5.0).abs() < 0.05));
    assert!(bends(&path, 4.5).is_empty());
    // Clockwise on the page it bulges.
    assert!(whole.iter().all(|bend| !bend.hollow));
    let back = crate::geometry::curve::reversed(&path);
    assert!(bends(&back, 5.5).iter().all(|bend| bend.hollow));
}
