#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use kurbo::{Circle, Ellipse, Shape};

fn path(svg: &str) -> BezPath {
    BezPath::from_svg(svg).unwrap()
}

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!(
        (value - expected).abs() <= tolerance,
        "{value} for {expected}"
    );
}

#[test]
fn a_parabola_has_its_known_length() {
    // y = x² from 0 to 1: √5/2 + asinh(2)/4.
    let parabola = path("M0,0 Q0.5,0 1,1");
    close(length(&parabola, 1e-12), 1.4789428575446, 1e-11);
    close(
        length(&parabola, 1e-12),
        5_f64.sqrt() / 2.0 + 2_f64.asinh() / 4.0,
        1e-11,
    );
}

#[test]
fn ellipses_have_their_known_perimeters() {
    // Complete elliptic integrals of the second kind, TRADE section 8.
    for (a, b, perimeter) in [
        (2.0, 1.0, 9.6884482205477),
        (3.0, 2.0, 15.865439589291),
        (5.0, 3.0, 25.526998863398),
    ] {
        let ellipse = Ellipse::new((0.0, 0.0), (a, b), 0.0).to_path(1e-10);
        close(length(&ellipse, 1e-11), perimeter, 1e-8);
    }
}

#[test]
fn a_quarter_circle_errs_by_its_known_constant() {
    // Cubic with handles 4/3 tan(π/8): length 1.57101669807386, radius at most 0.027253 % too large.
    let k = 4.0 / 3.0 * (std::f64::consts::PI / 8.0).tan();
    close(k, 0.552284749830793, 1e-14);
    let mut quarter = BezPath::new();
    quarter.move_to((1.0, 0.0));
    quarter.curve_to((1.0, k), (k, 1.0), (0.0, 1.0));
    close(length(&quarter, 1e-12), 1.57101669807386, 1e-11);
    let radii = spread(&quarter, 2000)
        .into_iter()
        .map(|p| p.to_vec2().hypot());
    close(radii.fold(0.0, f64::max), 1.00027253, 1e-8);
}

#[test]
fn a_part_has_the_length_asked_for_and_parts_meet() {
    let curve = path("M0,0 L10,0 C20,0 20,10 30,10 Q40,10 40,20");
    let whole = length(&curve, 1e-9);
    let (first, second) = (part(&curve, 0.0, 17.5, 1e-9), part(&curve, 17.5, 1e9, 1e-9));
    close(length(&first, 1e-9), 17.5, 1e-6);
    close(length(&first, 1e-9) + length(&second, 1e-9), whole, 1e-6);
    let (end, start) = (
        first.segments().last().unwrap(),
        second.segments().next().unwrap(),
    );
    assert!(end.end().distance(start.start()) < 1e-6);
    assert!(part(&curve, 5.0, 5.0, 1e-9).is_empty());
    assert!(part(&curve, 1e6, 2e6, 1e-9).is_empty());
}

#[test]
fn concentric_circles_deviate_by_the_difference_of_their_radii() {
    let circle = |radius: f64| Circle::new((3.0, 4.0), radius).to_path(1e-9);
    close(deviation(&circle(20.0), &circle(20.5), 64), 0.5, 1e-6);
    close(deviation(&circle(20.0), &circle(20.0), 64), 0.0, 1e-6);
    assert_eq!(deviation(&circle(20.0), &BezPath::new(), 64), f64::INFINITY);
}

#[test]
fn a_closed_path_parts_at_its_corners() {
    // A smooth top, two corners below; the path starts in the middle of the top.
    let shield = path("M0,-10 C10,-10 10,0 10,0 L0,20 L-10,0 C-10,0 -10,-10 0,-10 Z");
    let parts = corners(&shield, 10.0);
    assert_eq!(parts.len(), 4 - 1);
    // The first part goes through the start: from one shoulder over the top to the other.
    let first: Vec<PathSeg> = parts[0].segments().collect();
    assert_eq!(first[0].start(), Point::new(-10.0, 0.0));
    assert_eq!(first[first.len() - 1].end(), Point::new(10.0, 0.0));
}

#[test]
fn a_path_that_starts_at_a_corner_parts_there_first() {
    let square = path("M0,0 L10,0 L10,10 L0,10 Z");
    let parts = corners(&square, 10.0);
    assert_eq!(parts.len(), 4);
    assert_eq!(parts[0].segments().next().unwrap().start(), Point::ZERO);
    assert_eq!(corners(&path("M0,0 L10,0 L10,10"), 10.0).len(), 2);
    let circle = Circle::new((0.0, 0.0), 5.0).to_path(1e-6);
    assert_eq!(corners(&circle, 10.0).len(), 1);
    assert!(corners(&BezPath::new(), 10.0).is_empty());
}

#[test]
fn a_tangent_is_found_where_a_handle_lies_on_its_end() {
    let segment = path("M0,0 C0,0 3,4 6,4").segments().next().unwrap();
    close(
        (tangent(&segment, 0.0) - Vec2::new(0.6, 0.8)).hypot(),
        0.0,
        1e-12,
    );
    let end = path("M0,0 C1,1 6,4 6,4").segments().next().unwrap();
    let expected = Vec2::new(5.0, 3.0).normalize();
    close((tangent(&end, 1.0) - expected).hypot(), 0.0, 1e-12);
}

#[test]
fn a_segment_of_no_length_has_no_part_in_the_way_along_a_path() {
    let path = path("M2 3L2 3L8 3L8 3L8 7");
    let points = spread(&path, 5);
    let expected = [(2.0, 3.0), (4.0, 3.0), (6.0, 3.0), (8.0, 3.0), (8.0, 5.0)];
    assert_eq!(points, expected.map(Point::from));
    for (distance, point) in [(0.0, (2.0, 3.0)), (6.0, (8.0, 3.0)), (10.0, (8.0, 7.0))] {
        let found = station(&path, distance, 1e-6).unwrap();
        assert!(found.point.distance(point.into()) < 1e-9, "{found:?}");
        assert!((found.tangent.hypot() - 1.0).abs() < 1e-9, "{found:?}");
    }
}
