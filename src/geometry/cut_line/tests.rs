#![allow(clippy::unwrap_used, reason = "a test may panic")]

mod geos;
mod random;

use super::*;
use crate::geometry::Edge;
use kurbo::{Ellipse, ParamCurve, ParamCurveArclen};

const FINE: f64 = 1e-3;

fn polygon(points: &[(f64, f64)]) -> Outline {
    let count = points.len();
    let edges = (0..count).map(|i| {
        let mut curve = BezPath::new();
        curve.move_to(points[i]);
        curve.line_to(points[(i + 1) % count]);
        Edge::new(format!("edge {i}"), curve)
    });
    Outline::new(edges.collect()).unwrap()
}

fn outline(paths: &[BezPath]) -> Outline {
    let edges = paths.iter().enumerate();
    let edges = edges.map(|(i, path)| Edge::new(format!("edge {i}"), path.clone()));
    Outline::new(edges.collect()).unwrap()
}

fn one_edge(shape: impl Shape) -> Outline {
    let path = shape.path_segments(1e-7);
    outline(&[BezPath::from_path_segments(path)])
}

fn cut(outline: &Outline, allowance: f64, corner: Corner) -> BezPath {
    let count = outline.edges().len();
    cut_line(outline, &vec![allowance; count], &vec![corner; count], FINE).unwrap()
}

fn perimeter(path: &BezPath) -> f64 {
    path.segments().map(|s| s.arclen(1e-9)).sum()
}

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!(
        (value - expected).abs() <= tolerance,
        "{value} should be {expected} within {tolerance}"
    );
}

/// The corners of a path, rounded to a micrometre, from the one that comes first in reading order.
fn corners_of(path: &BezPath) -> Vec<(f64, f64)> {
    let round = |v: f64| (v * 1e3).round() / 1e3 + 0.0;
    let mut points: Vec<(f64, f64)> = path
        .segments()
        .map(|s| (round(s.start().x), round(s.start().y)))
        .collect();
    let key = |i: &usize| (points[*i].1, points[*i].0);
    let first = (0..points.len())
        .min_by(|a, b| key(a).partial_cmp(&key(b)).unwrap())
        .unwrap();
    points.rotate_left(first);
    points
}

const RECTANGLE: [(f64, f64); 4] = [(0.0, 0.0), (40.0, 0.0), (40.0, 20.0), (0.0, 20.0)];

#[test]
fn a_round_cut_line_of_a_rectangle_obeys_steiner() {
    // Steiner's formulas for a convex shape: P + 2πd and A + Pd + πd²; TRADE values for 40 × 20, d 5.
    let path = cut(&polygon(&RECTANGLE), 5.0, Corner::Round);
    close(perimeter(&path), 151.415926536, 2e-3);
    close(path.area(), 1478.539816340, 2e-2);
    assert!(path.elements().len() <= 14, "{}", path.to_svg());
}

#[test]
fn the_cut_line_of_an_ellipse_obeys_steiner() {
    // Steiner on the ellipse a 30, b 20 moved by 6 mm: 158.65439589291 + 12π and so on.
    let ellipse = one_edge(Ellipse::new((0.0, 0.0), (30.0, 20.0), 0.3));
    let path = cut(&ellipse, 6.0, Corner::Mitre { limit: 4.0 });
    close(perimeter(&path), 196.35350773598, 2e-3);
    close(path.area(), 2949.9793030405, 5e-2);
    assert!(path.elements().len() < 60, "{}", path.elements().len());
}

#[test]
fn mitred_corners_of_a_rectangle_are_four_points() {
    let path = cut(&polygon(&RECTANGLE), 5.0, Corner::Mitre { limit: 2.0 });
    let expected = [(-5.0, -5.0), (45.0, -5.0), (45.0, 25.0), (-5.0, 25.0)];
    assert_eq!(corners_of(&path), expected);
}

#[test]
fn an_edge_of_no_length_leaves_the_corner_there_whole() {
    let with_point = [
        RECTANGLE[0],
        RECTANGLE[1],
        RECTANGLE[1],
        RECTANGLE[2],
        RECTANGLE[3],
    ];
    for corner in [Corner::Mitre { limit: 2.0 }, Corner::Round, Corner::Chamfer] {
        let path = cut(&polygon(&with_point), 5.0, corner);
        let expected = cut(&polygon(&RECTANGLE), 5.0, corner);
        assert_eq!(corners_of(&path), corners_of(&expected));
    }
}

#[test]
fn a_mitre_beyond_its_limit_is_cut_off_square_to_its_bisector() {
    // At a right angle the mitre reaches d√2; with limit 1 the cut lies at d from the corner.
    let path = cut(&polygon(&RECTANGLE), 5.0, Corner::Mitre { limit: 1.0 });
    let reach = 5.0 * (2.0_f64.sqrt() - 1.0);
    let corners = corners_of(&path);
    assert_eq!(corners.len(), 8);
    close(corners[0].0, -reach, 1e-3);
    close(corners[0].1, -5.0, 1e-3);
}

#[test]
fn a_chamfer_joins_the_ends_of_the_cut_lines() {
    let path = cut(&polygon(&RECTANGLE), 5.0, Corner::Chamfer);
    assert_eq!(corners_of(&path)[..2], [(0.0, -5.0), (40.0, -5.0)]);
    assert_eq!(corners_of(&path).len(), 8);
}

#[test]
fn square_ends_of_a_sharp_corner_reach_past_it_by_the_width() {
    let triangle = polygon(&[(0.0, 0.0), (40.0, 0.0), (0.0, 30.0)]);
    let path = cut(&triangle, 4.0, Corner::Square);
    // The edge along the top ends at x = 40 + 4, square to itself.
    assert!(
        corners_of(&path).contains(&(44.0, -4.0)),
        "{}",
        path.to_svg()
    );
    assert!(corners_of(&path).contains(&(-4.0, -4.0)));
}

#[test]
fn beside_an_edge_without_allowance_a_square_corner_ends_level_with_that_edge() {
    // Worked by hand. The slope y = x / 2 has no allowance. At the right its neighbour's cut line
    // x = 110 meets the slope's line at y = 55. At the origin the cut line y = -10 would meet it 20 mm
    // past the corner, so it ends square at its own width, 10 mm past, on the slope's line at y = -5.
    let triangle = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 50.0)]);
    let square = [Corner::Square; 3];
    let path = cut_line(&triangle, &[10.0, 10.0, 0.0], &square, FINE).unwrap();
    let expected = [(-10.0, -10.0), (110.0, -10.0), (110.0, 55.0), (-10.0, -5.0)];
    assert_eq!(corners_of(&path), expected);
    let path = cut_line(&triangle, &[10.0, 0.0, 0.0], &square, FINE).unwrap();
    let expected = [(-10.0, -10.0), (100.0, -10.0), (100.0, 50.0), (-10.0, -5.0)];
    assert_eq!(corners_of(&path), expected);
}

#[test]
fn beside_an_edge_without_allowance_a_chamfer_is_square_to_that_edge() {
    // Worked by hand: (0, -10) laid square onto the line y = x / 2 is (-4, -2).
    let triangle = polygon(&[(0.0, 0.0), (100.0, 0.0), (100.0, 50.0)]);
    let path = cut_line(&triangle, &[10.0, 10.0, 0.0], &[Corner::Chamfer; 3], FINE).unwrap();
    assert!(
        corners_of(&path).contains(&(-4.0, -2.0)),
        "{}",
        path.to_svg()
    );
}

#[test]
fn a_folded_hem_mirrors_the_cut_lines_of_its_neighbours() {
    // Worked by hand: sides sloping 1 in 3 with 5 mm, hem 10 mm along the top. The side's cut line
    // meets the stitching line at x = -5 √10 / 3 and the mirrored line is 10/3 further in at the
    // hem's edge.
    let sides = polygon(&[(0.0, 0.0), (40.0, 0.0), (30.0, 30.0), (10.0, 30.0)]);
    let mitre = Corner::Mitre { limit: 4.0 };
    let begins = Corner::Folded { hem_begins: true };
    let ends = Corner::Folded { hem_begins: false };
    let path = cut_line(
        &sides,
        &[10.0, 5.0, 5.0, 5.0],
        &[begins, ends, mitre, mitre],
        FINE,
    )
    .unwrap();
    let out = 5.0 * 10.0_f64.sqrt() / 3.0;
    let corners = corners_of(&path);
    close(corners[0].0, -out + 10.0 / 3.0, 1e-3);
    close(corners[0].1, -10.0, 1e-9);
    close(corners[1].0, 40.0 + out - 10.0 / 3.0, 1e-3);
    close(corners[2].0, 40.0 + out, 1e-3);
    close(corners[2].1, 0.0, 1e-9);
    // Turned in about the stitching line, the hem's end lies on the side's cut line.
    let turned = Point::new(corners[1].0, 10.0);
    let near = path
        .segments()
        .map(|s| s.nearest(turned, 1e-9).distance_sq.sqrt());
    close(near.fold(f64::INFINITY, f64::min), 0.0, 2e-3);
}

#[test]
fn an_edge_without_allowance_is_its_own_cut_line_and_bounds_its_neighbours() {
    // A half piece whose fold is its left edge, with corners of 100 and 70 degrees there.
    let half = polygon(&[(0.0, 0.0), (30.0, -5.29), (30.0, 40.0), (0.0, 29.08)]);
    let mitre = Corner::Mitre { limit: 4.0 };
    for corner in [
        mitre,
        Corner::Round,
        Corner::Square,
        Corner::Folded { hem_begins: true },
    ] {
        let path = cut_line(&half, &[6.0, 6.0, 6.0, 0.0], &[corner; 4], FINE).unwrap();
        assert!(
            path.bounding_box().x0 > -1e-9,
            "{corner:?} {}",
            path.to_svg()
        );
        let fold = Point::new(0.0, 15.0);
        let near = path.segments().map(|s| s.nearest(fold, 1e-9).distance_sq);
        assert!(near.fold(f64::INFINITY, f64::min) < 1e-12);
    }
}

#[test]
fn an_allowance_at_a_hollow_does_not_reach_through_a_narrow_piece() {
    // 5 and 3.5 mm wide at its waist, an allowance of 6 mm there and less or none on the other side
    let paths = |all: &[&str]| -> Outline {
        let path = |d: &&str| BezPath::from_svg(d).unwrap();
        outline(&all.iter().map(path).collect::<Vec<_>>())
    };
    let (top, bottom, left) = ("M0,0 L14,0", "M14,40 L0,40", "M0,40 L0,0");
    let corner = [
        top,
        "M14,0 L14,8 L5,20",
        "M5,20 L14,32 L14,40",
        bottom,
        left,
    ];
    let shallow = [top, "M14,0 L5,20", "M5,20 L14,40", bottom, left];
    let bend = "M14,0 L14,11 L4.6,17.3 C3.19,18.25 3.19,21.75 4.6,22.7 L14,29 L14,40";
    let shapes = [
        paths(&corner),
        paths(&shallow),
        paths(&[top, bend, bottom, left]),
    ];
    for shape in &shapes {
        for far in [0.0, 2.0] {
            let count = shape.edges().len();
            let mut widths = vec![6.0; count];
            widths[count - 1] = far;
            let corners = vec![Corner::Round; count];
            let path = cut_line(shape, &widths, &corners, FINE).unwrap();
            close(path.bounding_box().x0, -far, 1e-6);
            let waist = path
                .segments()
                .map(|s| s.nearest(Point::new(0.0, 20.0), 1e-9));
            let near = waist.map(|n| n.distance_sq).fold(f64::INFINITY, f64::min);
            close(near.sqrt(), far, 1e-6);
        }
    }
}

#[test]
fn without_any_allowance_the_cut_line_is_the_seam_line() {
    let shape = polygon(&[(0.0, 0.0), (40.0, 0.0), (22.0, 8.0), (10.0, 30.0)]);
    let path = cut(&shape, 0.0, Corner::Round);
    assert_eq!(
        corners_of(&path),
        [(0.0, 0.0), (40.0, 0.0), (22.0, 8.0), (10.0, 30.0)]
    );
}

#[test]
fn a_wider_allowance_on_a_smooth_edge_ends_in_a_step() {
    let strip = polygon(&[
        (0.0, 0.0),
        (20.0, 0.0),
        (40.0, 0.0),
        (40.0, 20.0),
        (0.0, 20.0),
    ]);
    let mitre = Corner::Mitre { limit: 4.0 };
    let path = cut_line(&strip, &[3.0, 8.0, 3.0, 3.0, 3.0], &[mitre; 5], FINE).unwrap();
    let corners = corners_of(&path);
    assert_eq!(corners[..2], [(20.0, -8.0), (43.0, -8.0)]);
    assert!(corners.contains(&(20.0, -3.0)));
}

#[test]
fn a_slit_that_closes_up_is_swallowed() {
    let slit = [
        (0.0, 0.0),
        (40.0, 0.0),
        (40.0, 30.0),
        (22.0, 30.0),
        (20.0, 15.0),
        (18.0, 30.0),
        (0.0, 30.0),
    ];
    let mitre = [Corner::Mitre { limit: 4.0 }; 7];
    assert!(cut_line(&polygon(&slit), &[1.5; 7], &mitre, FINE).is_ok());
    let fault = cut_line(&polygon(&slit), &[4.0; 7], &mitre, FINE).unwrap_err();
    assert!(
        matches!(fault, CutFault::Swallowed { ref edge, .. } if edge == "edge 3"),
        "{fault:?}"
    );
}

#[test]
fn a_hollow_with_outward_shoulders_that_closes_up_is_swallowed() {
    let scallop =
        BezPath::from_svg("M0,0 L16,0 C19,0 19,12 22,12 C25,12 25,0 28,0 L44,0 L44,30 L0,30 L0,0");
    let shape = outline(&[scallop.unwrap()]);
    let mitre = [Corner::Mitre { limit: 4.0 }];
    assert!(cut_line(&shape, &[5.0], &mitre, FINE).is_ok());
    let fault = cut_line(&shape, &[12.0], &mitre, FINE).unwrap_err();
    let CutFault::Swallowed { at, .. } = fault else {
        panic!("{fault:?}");
    };
    assert!(at.distance(Point::new(22.0, 12.0)) < 3.0, "{at:?}");
}

#[test]
fn a_hollow_tighter_than_its_allowance_keeps_its_flanks() {
    let hollow =
        BezPath::from_svg("M0,0 L10,0 C14,0 16,6 20,6 C24,6 26,0 30,0 L40,0 L40,20 L0,20 Z");
    let shape = one_edge(hollow.unwrap());
    let path = cut(&shape, 9.0, Corner::Mitre { limit: 4.0 });
    assert_eq!(winding::windings(&path), Some(0..=1));
    close(path.bounding_box().y0, -9.0, 1e-3);
}

#[test]
fn wrong_counts_and_allowances_are_refused() {
    let shape = polygon(&RECTANGLE);
    let round = [Corner::Round; 4];
    assert_eq!(
        cut_line(&shape, &[1.0; 3], &round, FINE),
        Err(CutFault::Mismatch)
    );
    for bad in [-1.0, f64::NAN, f64::INFINITY] {
        let widths = [1.0, bad, 1.0, 1.0];
        assert_eq!(
            cut_line(&shape, &widths, &round, FINE),
            Err(CutFault::BadAllowance)
        );
    }
}

#[test]
fn the_nearest_edge_is_found() {
    let shape = polygon(&RECTANGLE);
    assert_eq!(edge_of(&shape, Point::new(20.0, -5.0)), 0);
    assert_eq!(edge_of(&shape, Point::new(38.0, 10.0)), 1);
    assert_eq!(edge_of(&shape, Point::new(20.0, 90.0)), 2);
}

#[test]
fn a_hollow_too_tight_at_its_end_leaves_no_spike() {
    // The cut line of the hollow ends on the normal along which it then steps down to 0.5 mm.
    let shape = outline(
        &[
            "M23.3,0 L0,8",
            "M0,8 L-14.65,-6.32",
            "M-14.65,-6.32 C-10.76,-13.01 -3.9,-6.61 0.57,-7.98",
            "M0.57,-7.98 L23.3,0",
        ]
        .map(|d| BezPath::from_svg(d).unwrap()),
    );
    let corners = [Corner::Mitre { limit: 1.0 }; 4];
    let path = cut_line(&shape, &[0.0, 0.0, 4.7625, 0.5], &corners, FINE).unwrap();
    assert_eq!(runs_back(&path), None, "{}", path.to_svg());
}

#[test]
fn an_end_of_an_allowance_beside_an_edge_that_all_but_runs_along_it_leaves_no_slit() {
    // The edge without allowance turns in by 90 degrees and 0.9 thousandths of a radian.
    let lean = 9e-4_f64.tan() * 30.0;
    let shape = polygon(&[
        (0.0, 0.0),
        (20.0, 0.0),
        (20.0 + lean, -30.0),
        (40.0, -30.0),
        (40.0, 20.0),
        (0.0, 20.0),
    ]);
    let corners = [Corner::Mitre { limit: 2.0 }; 6];
    let path = cut_line(&shape, &[5.0, 0.0, 0.0, 0.0, 0.0, 0.0], &corners, FINE).unwrap();
    assert_eq!(runs_back(&path), None, "{}", path.to_svg());
    assert!(path.area() >= shape.area() + 5.0 * 20.0 - 0.1);
}
