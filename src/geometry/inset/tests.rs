#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use std::f64::consts::PI;

fn outline(edges: &[(&str, &str)]) -> Outline {
    let edges = edges
        .iter()
        .map(|(name, d)| Edge::new(*name, BezPath::from_svg(d).unwrap()));
    Outline::new(edges.collect()).unwrap()
}

fn rectangle() -> Outline {
    outline(&[
        ("top", "M0,0 L40,0"),
        ("right", "M40,0 L40,20"),
        ("bottom", "M40,20 L0,20"),
        ("left", "M0,20 L0,0"),
    ])
}

fn names(outline: &Outline) -> Vec<&str> {
    outline.edges().iter().map(|e| e.name.as_str()).collect()
}

fn close(value: f64, expected: f64) {
    assert!((value - expected).abs() < 2e-3, "{value} for {expected}");
}

#[test]
fn a_rectangle_inset_is_a_smaller_one_with_the_same_names() {
    let inset = rectangle().inset(3.0).unwrap();
    assert_eq!(names(&inset), ["top", "right", "bottom", "left"]);
    close(inset.edge("top").unwrap().length(), 34.0);
    close(inset.edge("left").unwrap().length(), 14.0);
    assert!(inset.edges().iter().all(|e| e.segments().len() == 1));
}

#[test]
fn an_outset_parts_its_round_corners_in_the_middle() {
    // Steiner, P + 2πd and A + Pd + πd²; each edge gets an eighth of a circle at either end.
    let outset = rectangle().inset(-5.0).unwrap();
    assert_eq!(names(&outset), ["top", "right", "bottom", "left"]);
    close(outset.perimeter(), 151.415926536);
    assert!((outset.area() - 1478.539816340).abs() < 0.02);
    close(outset.edge("right").unwrap().length(), 20.0 + 2.5 * PI);
}

#[test]
fn edges_that_meet_smoothly_part_at_the_offset_of_their_joint() {
    let drop = outline(&[
        (
            "round",
            "M-10,0 C-10,-5.5 -5.5,-10 0,-10 C5.5,-10 10,-5.5 10,0",
        ),
        ("long", "M10,0 C10,14 6,30 0,30 C-6,30 -10,14 -10,0"),
    ]);
    for by in [-4.0, 2.0] {
        let moved = drop.inset(by).unwrap();
        assert_eq!(names(&moved), ["round", "long"]);
        let start = moved.edge("round").unwrap().start();
        assert!(
            start.distance(Point::new(-10.0 + by, 0.0)) < 1e-6,
            "{start:?}"
        );
        let end = moved.edge("round").unwrap().end();
        assert!(end.distance(Point::new(10.0 - by, 0.0)) < 1e-6, "{end:?}");
    }
}

#[test]
fn an_edge_of_which_nothing_is_left_is_left_out() {
    let chamfered = outline(&[
        ("top", "M0,0 L38,0"),
        ("corner 1", "M38,0 L40,2"),
        ("right", "M40,2 L40,20"),
        ("bottom", "M40,20 L0,20"),
        ("left", "M0,20 L0,0"),
    ]);
    assert_eq!(names(&chamfered.inset(1.0).unwrap()).len(), 5);
    assert_eq!(
        names(&chamfered.inset(6.0).unwrap()),
        ["top", "right", "bottom", "left"]
    );
}

#[test]
fn an_inset_that_leaves_nothing_or_two_parts_is_refused() {
    assert_eq!(
        rectangle().inset(10.0),
        Err(OutlineFault::NothingLeft(10.0))
    );
    assert_eq!(
        rectangle().inset(50.0),
        Err(OutlineFault::NothingLeft(50.0))
    );
    let waisted = outline(&[(
        "rim",
        "M0,0 L20,0 L25,8 L30,0 L50,0 L50,20 L30,20 L25,12 L20,20 L0,20 L0,0",
    )]);
    assert!(waisted.inset(1.0).is_ok());
    assert_eq!(waisted.inset(3.0), Err(OutlineFault::NothingLeft(3.0)));
    assert_eq!(rectangle().inset(f64::NAN), Err(OutlineFault::NotFinite));
}

#[test]
fn an_outset_taken_in_again_is_the_outline() {
    let sole = outline(&[
        (
            "toe edge",
            "M-12,0 C-16,-20 -10,-36 1,-36 C12,-36 17,-20 13,0",
        ),
        ("heel edge", "M13,0 C11,12 12,30 0,30 C-12,30 -10,12 -12,0"),
    ]);
    let there_and_back = sole.inset(-3.175).unwrap().inset(3.175).unwrap();
    assert!(curve::deviation(&sole.path(), &there_and_back.path(), 200) < 2e-3);
    let start = there_and_back.edge("toe edge").unwrap().start() - sole.edges()[0].start();
    assert!(start.hypot() < 2e-3, "{start:?}");
}

#[test]
fn crossings_are_found_with_their_place() {
    assert_eq!(rectangle().check_simple(), Ok(()));
    let crossed = outline(&[(
        "rim",
        "M0,0 L30,0 L30,20 L10,20 L10,-6 L4,-6 L4,10 L0,10 L0,0",
    )]);
    let Err(OutlineFault::Crosses(point)) = crossed.check_simple() else {
        panic!("{:?}", crossed.check_simple());
    };
    let places = [Point::new(10.0, 0.0), Point::new(4.0, 0.0)];
    assert!(
        places.iter().any(|p| (*p - point).hypot() < 1e-3),
        "{point:?}"
    );
    let twice =
        "M20,0 C20,30 -20,30 -20,0 C-20,-30 20,-30 20,0 C20,20 -14,20 -14,0 C-14,-20 20,-20 20,0";
    assert!(outline(&[("rim", twice)]).check_simple().is_err());
}
