//! Arrows from piece to piece, and the letters that they meet.

use super::super::board::Element;
use super::*;
use crate::plates::fixtures::piece;

/// Two plain pieces; the second, or both, with a letter at the head.
fn plan(noted: [bool; 2], ways: &[f64]) -> Plan {
    let edges = [("rim", "M0 0 L80 0 L80 60 L0 60 L0 0")];
    let disc = piece(1, "disc", "Disc", &edges, 0.0);
    let note = || ("a".to_string(), Point::new(40.0, 0.0), Vec2::new(0.0, -1.0));
    let group = |noted: bool| Group {
        notes: noted.then(note).into_iter().collect(),
        ..Group::of(Ply::drawn(&disc, Tint::Right))
    };
    let way = |x: &f64| {
        [0, 1].map(|group| Spot {
            group,
            at: Point::new(*x, 60.0),
        })
    };
    Plan {
        groups: noted.map(group).into(),
        links: vec![ways.iter().map(way).collect()],
        ..Plan::default()
    }
}

/// The second below the first: an arrow from foot to foot runs past the letter at the head.
fn placed(plan: &Plan) -> Placed {
    plan.placed(Vec2::new(40.0, 200.0))
}

/// Where on the piece the arrow begins.
fn taken(noted: bool, ways: &[f64]) -> f64 {
    let plan = plan([false, noted], ways);
    let placed = placed(&plan);
    let [from, _] = plan.linked(&plan.links[0], &placed).unwrap();
    (from.x / placed.scale).round()
}

#[test]
fn an_arrow_from_piece_to_piece_hides_no_letter() {
    assert_eq!(taken(false, &[40.0, 70.0]), 40.0);
    assert_eq!(taken(true, &[40.0, 70.0]), 70.0);
    // where none is clear, the farthest
    assert_eq!(taken(true, &[40.0, 41.0, 39.5]), 41.0);
}

#[test]
fn an_arrow_that_finds_no_way_past_a_letter_runs_under_it() {
    let plan = plan([false, true], &[40.0]);
    let placed = placed(&plan);
    let elements = plan.draw(&placed, &[]).elements;
    let (letter, at) = plan.tags(&placed.onto).next().unwrap();
    let drawn = numeral(letter, at, TAG);
    let letter = elements.iter().position(
        |element| matches!(element, Element::Fill { path, white: false } if *path == drawn),
    );
    let mut bare = plan.clone();
    bare.links.clear();
    let bare = bare.draw(&placed, &[]).elements;
    let arrow = elements.iter().rposition(|element| !bare.contains(element));
    assert!(letter.unwrap() > arrow.unwrap(), "{letter:?} {arrow:?}");
}
