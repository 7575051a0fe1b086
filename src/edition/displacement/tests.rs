use super::*;
use kurbo::ParamCurveExtrema;

/// Values made with GEOS; the script stands beside them.
const GEOS: &str = include_str!("../../../tests/geometry/hausdorff_geos.json");

/// A piece with one edge for each list of points: a ring of straight edges.
pub fn board(corners: &[(f64, f64)]) -> PieceRecord {
    let next = |at: usize| corners[(at + 1) % corners.len()];
    let edges = corners.iter().enumerate().map(|(at, (x, y))| {
        let (u, v) = next(at);
        EdgeRecord {
            edge: ["top", "right", "bottom", "left", "fifth"][at].into(),
            length: (u - x).hypot(v - y),
            allowance: 0.0,
            path: format!("M{x} {y}L{u} {v}"),
        }
    });
    let ring: Vec<String> = corners.iter().map(|(x, y)| format!("{x} {y}")).collect();
    PieceRecord {
        piece: "board".into(),
        number: 1,
        title: "Board".into(),
        note: None,
        cut: Vec::new(),
        area: 1.0,
        edges: edges.collect(),
        cut_line: format!("M{}Z", ring.join("L")),
        notches: Vec::new(),
        marks: Vec::new(),
    }
}

#[test]
fn distances_agree_with_geos() {
    let cases: serde_json::Value = serde_json::from_str(GEOS).unwrap();
    let cases = cases.as_array().unwrap();
    assert!(cases.len() > 5);
    for case in cases {
        let path = |key: &str| BezPath::from_svg(case[key].as_str().unwrap()).unwrap();
        let (found, ..) = hausdorff(&path("old"), &path("new"));
        let wanted = case["hausdorff_mm"].as_f64().unwrap();
        // half the step at a peak, and what the script says of its values
        assert!(
            (found - wanted).abs() < 0.005,
            "{}: {found}, not {wanted}",
            case["name"]
        );
    }
}

#[test]
fn a_part_that_grew_moved_and_the_rest_did_not() {
    let old = board(&[(0.0, 0.0), (80.0, 0.0), (80.0, 40.0), (0.0, 40.0)]);
    let new = board(&[(0.0, 0.0), (81.0, 0.0), (81.0, 40.0), (0.0, 40.0)]);
    let found = displacement(&old, &new);
    assert!((found.mm - 1.0).abs() < 1e-6, "{found:?}");
    assert_eq!(found.laid, Vec2::ZERO);
    // the whole right edge moved by so much: its first point is told
    assert!(
        (found.to.x - 81.0).abs() < 1e-6 && (found.from.x - 80.0).abs() < 1e-6,
        "{found:?}"
    );
}

#[test]
fn the_place_is_told_by_edge_and_share() {
    let old = board(&[(0.0, 0.0), (80.0, 0.0), (80.0, 40.0), (0.0, 40.0)]);
    let mut new = old.clone();
    new.edges[2].path = "M80 40L20 43L0 40".into();
    let found = displacement(&old, &new);
    assert!((found.mm - 3.0).abs() < 1e-6);
    assert_eq!(found.edge, "bottom");
    let first = 60.0_f64.hypot(3.0);
    let share = first / (first + 20.0_f64.hypot(3.0));
    assert!((found.share - share).abs() < 1e-6, "{found:?}");
}

#[test]
fn a_piece_that_only_moved_in_its_axes_has_not_changed() {
    let old = board(&[(0.0, 0.0), (80.0, 0.0), (70.0, 40.0), (0.0, 40.0)]);
    let new = board(&[(5.5, -3.0), (85.5, -3.0), (75.5, 37.0), (5.5, 37.0)]);
    let found = displacement(&old, &new);
    assert!(found.mm < SAME, "{found:?}");
    assert!((found.laid - Vec2::new(5.5, -3.0)).hypot() < 1e-9);
}

#[test]
fn a_piece_that_moved_and_grew_is_laid_where_most_of_it_agrees() {
    let old = board(&[(0.0, 0.0), (80.0, 0.0), (80.0, 40.0), (0.0, 40.0)]);
    // its left side grew by 2 mm, and its axes begin at the new left side
    let new = board(&[(0.0, 0.0), (82.0, 0.0), (82.0, 40.0), (0.0, 40.0)]);
    let mut old = old;
    old.marks.push(super::super::record::MarkRecord {
        mark: "common point".into(),
        at: vec![80.0, 20.0],
    });
    let mut new = new;
    new.marks.push(super::super::record::MarkRecord {
        mark: "common point".into(),
        at: vec![82.0, 20.0],
    });
    let found = displacement(&old, &new);
    assert!((found.mm - 2.0).abs() < 1e-6, "{found:?}");
}

#[test]
fn the_box_of_a_segment_holds_it() {
    let segment = PathSeg::Cubic(kurbo::CubicBez::new(
        (0.0, 0.0),
        (9.0, 20.0),
        (-4.0, 6.0),
        (10.0, 3.0),
    ));
    let (room, exact) = (around(&segment), ParamCurveExtrema::bounding_box(&segment));
    assert!(room.x0 <= exact.x0 && room.y1 >= exact.y1 && !segment.extrema().is_empty());
}
