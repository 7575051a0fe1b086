//! Bows: clear of the shoe, and drawn whole in a small figure.

#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::super::tests::form;
use super::super::{Manner, ShoePictures, ShoeView};
use super::*;

fn look(length: f64) -> ShoeLook {
    ShoeLook {
        cloth: 1.2,
        sole: 1.2,
        strap: None,
        tie: Some(TieLook {
            width: 0.07 * length,
            free: 1.2 * length,
            slit: 0.08 * length,
        }),
        back_elastic: false,
        topstitch: true,
        lined: true,
        only: None,
    }
}

/// Knot, then a loop and an end to each side.
const LOOPS: [usize; 2] = [1, 3];

#[test]
fn loops_stand_clear_of_the_upper() {
    for length in [45.0, 70.0, 95.0] {
        let form = form(length);
        let extent = Extent::of(&form);
        let net = Upper::new(&form, &extent);
        let heights = Heights::new(&net, length);
        let look = look(length);
        let scene = tied(&form, &look, (&extent, &net), true).unwrap();
        let bow: Vec<&Mesh> = scene.meshes.iter().filter(|m| m.tag == part::BOW).collect();
        assert_eq!(bow.len(), 5);
        let around = bow[0].vertices.iter();
        let [first, last] = [around.clone().next(), around.last()].map(Option::unwrap);
        let knot = first.lerp(*last, 0.5);
        for number in LOOPS {
            for vertex in &bow[number].vertices {
                let far = vertex.distance(knot) > 1.5 * look.tie.unwrap().width;
                if let (true, Some(z)) = (far, heights.over(*vertex)) {
                    assert!(vertex.z > z, "{length}: {vertex:?} under {z}");
                }
            }
        }
    }
}

#[test]
fn a_knot_has_an_outline_beside_a_step() {
    for length in [45.0, 70.0, 95.0] {
        let form = form(length);
        let pictures = ShoePictures::new(&form, &look(length));
        let drawing = pictures.drawn(ShoeView::Pair, Manner::wide(62.0)).unwrap();
        let knots = drawing
            .lines
            .iter()
            .filter(|line| line.kind == LineKind::Button);
        assert!(knots.count() >= 2, "{length}: one for each shoe");
        assert_eq!(drawing.open_ends, 0, "{length}");
    }
}
