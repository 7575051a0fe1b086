#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::*;
use kurbo::BezPath;

fn outline(edges: &[(&str, &str)]) -> Outline {
    let edges = edges
        .iter()
        .map(|(name, d)| Edge::new(*name, BezPath::from_svg(d).unwrap()));
    Outline::new(edges.collect()).unwrap()
}

fn names(outline: &Outline) -> Vec<&str> {
    outline.edges().iter().map(|e| e.name.as_str()).collect()
}

#[test]
fn edges_square_to_the_axis_become_one_and_others_appear_mirrored() {
    // The fold at the left; the top is square to it, the slanted bottom is not.
    let half = outline(&[
        ("top", "M0,0 L30,0"),
        ("side", "M30,0 C34,10 34,20 30,30"),
        ("bottom", "M30,30 L0,40"),
        ("fold", "M0,40 L0,0"),
    ]);
    let whole = half.unfolded("fold").unwrap();
    assert_eq!(
        names(&whole),
        ["top", "side", "bottom", "bottom mirrored", "side mirrored"]
    );
    assert!((whole.area() - 2.0 * half.area()).abs() < 1e-9);
    let top = whole.edge("top").unwrap();
    assert_eq!((top.start().x, top.end().x), (-30.0, 30.0));
    assert_eq!(
        top.segments().len(),
        1,
        "two halves of a straight edge are one line"
    );
    let side = half.edge("side").unwrap().length();
    assert!((whole.edge("side mirrored").unwrap().length() - side).abs() < 1e-9);
}

#[test]
fn a_half_of_one_edge_beside_its_axis_becomes_a_ring_of_one_edge() {
    let half = outline(&[
        ("rim", "M0,-20 C11,-20 20,-11 20,0 C20,11 11,20 0,20"),
        ("fold", "M0,20 L0,-20"),
    ]);
    let whole = half.unfolded("fold").unwrap();
    assert_eq!(names(&whole), ["rim"]);
    assert!((whole.area() - 2.0 * half.area()).abs() < 1e-9);
}

#[test]
fn a_half_square_at_one_end_only_keeps_one_corner_on_the_axis() {
    let half = outline(&[
        ("rim", "M0,-20 C11,-20 20,-11 20,0 L0,30"),
        ("fold", "M0,30 L0,-20"),
    ]);
    let whole = half.unfolded("fold").unwrap();
    assert_eq!(names(&whole), ["rim"]);
    assert_eq!(whole.edges()[0].start().y, 30.0);
}

#[test]
fn an_axis_that_is_missing_or_bent_is_refused() {
    let half = outline(&[
        ("rim", "M0,-20 C11,-20 20,-11 20,0 C20,11 11,20 0,20"),
        ("fold", "M0,20 Q2,0 0,-20"),
    ]);
    assert_eq!(
        half.unfolded("edge"),
        Err(OutlineFault::NoEdge("edge".into()))
    );
    assert_eq!(
        half.unfolded("fold"),
        Err(OutlineFault::NotStraight("fold".into()))
    );
}

#[test]
fn an_outline_on_both_sides_of_its_axis_is_no_half() {
    let across = outline(&[
        ("top", "M0,0 L60,0"),
        ("rest", "M60,0 L60,60 C10,70 -40,60 0,30"),
        ("fold", "M0,30 L0,0"),
    ]);
    let Err(OutlineFault::AcrossEdge { edge, at, by }) = across.unfolded("fold") else {
        panic!("{:?}", across.unfolded("fold"));
    };
    // The least x of the cubic, from its Bernstein form at 10,000 places.
    let least = (0..=10_000)
        .map(|i| f64::from(i) / 1e4)
        .map(|t| {
            let u = 1.0 - t;
            60.0 * u * u * u + 3.0 * 10.0 * u * u * t - 3.0 * 40.0 * u * t * t
        })
        .fold(0.0, f64::min);
    assert_eq!(edge, "fold");
    assert!(
        (at.x - least).abs() < 1e-4 && (by + least).abs() < 1e-4,
        "{at:?} {by}"
    );
    assert!(across.check_half("fold", 20.0).is_ok());
}

#[test]
fn a_slanted_axis_mirrors_too() {
    let turn = Affine::rotate(0.7);
    let half = outline(&[
        ("top", "M0,0 L30,0"),
        ("side", "M30,0 L30,40"),
        ("bottom", "M30,40 L0,40"),
        ("fold", "M0,40 L0,0"),
    ]);
    let whole = half.transformed(turn).unfolded("fold").unwrap();
    assert_eq!(names(&whole), ["top", "side", "bottom", "side mirrored"]);
    assert!((whole.area() - 2400.0).abs() < 1e-6);
}
