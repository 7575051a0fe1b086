#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use std::f64::consts::{PI, TAU};

const RULE: FitRule = FitRule {
    tolerance: 0.01,
    fewest: 1,
    most: 8,
    tangents: [None, None],
};

fn arc(radius: f64, from: f64, to: f64, count: usize) -> Vec<Point> {
    let at = |i: usize| {
        let turn = from + (to - from) * i as f64 / count as f64;
        Point::new(radius * turn.cos(), radius * turn.sin())
    };
    (0..=count).map(at).collect()
}

/// A quarter of a circle by one cubic is off by 2.7e-4 of the radius at best (well known).
#[test]
fn a_quarter_circle_is_fitted_as_well_as_one_cubic_can() {
    let chain = Chain::fit(&arc(10.0, 0.0, 0.5 * PI, 80), RULE).unwrap();
    assert_eq!(chain.segments.len(), 1);
    assert!(chain.error < 5e-3, "{}", chain.error);
    assert!((chain.length() - 5.0 * PI).abs() < 5e-3);
}

#[test]
fn joints_are_smooth_and_in_the_middle() {
    let rule = FitRule {
        fewest: 2,
        tolerance: 1e-4,
        ..RULE
    };
    let chain = Chain::fit(&arc(10.0, 0.0, 0.8 * TAU, 240), rule).unwrap();
    assert!(chain.segments.len().is_multiple_of(2) && chain.segments.len() >= 4);
    for pair in chain.segments.windows(2) {
        assert_eq!(pair[0].p3, pair[1].p0);
        let (a, b) = (unit(pair[0].p3 - pair[0].p2), unit(pair[1].p1 - pair[1].p0));
        assert!(a.cross(b).abs() < 1e-9);
    }
}

#[test]
fn given_tangents_and_lengths_are_kept() {
    let tangents = [Some(Vec2::new(0.0, 1.0)), Some(Vec2::new(-1.0, 0.0))];
    let rule = FitRule { tangents, ..RULE };
    let chain = Chain::fit(&arc(10.0, 0.0, 0.5 * PI, 60), rule).unwrap();
    assert!(chain.start_tangent().cross(Vec2::new(0.0, 1.0)).abs() < 1e-12);
    assert!(chain.end_tangent().cross(Vec2::new(-1.0, 0.0)).abs() < 1e-12);
    let longer = chain.clone().with_length(16.0);
    assert!((longer.length() - 16.0).abs() < 1e-6);
    assert_eq!(longer.segments[0].p0, chain.segments[0].p0);
}

#[test]
fn what_is_no_curve_is_refused_and_what_is_straight_is_left() {
    assert!(Chain::fit(&[Point::ZERO; 6], RULE).is_none());
    assert!(Chain::fit(&[Point::ZERO, Point::new(1.0, 0.0)], RULE).is_none());
    let line: Vec<Point> = (0..20).map(|i| Point::new(f64::from(i), 0.0)).collect();
    let chain = Chain::fit(&line, RULE).unwrap();
    assert_eq!(chain.clone().with_length(25.0), chain);
}
