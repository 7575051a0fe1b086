#![allow(clippy::unwrap_used, reason = "a test may panic")]

use super::super::tests::form;
use super::super::{StrapLook, TieLook, part as look};
use super::brim::Brim;
use super::seam::Mark;
use super::*;
use crate::figure::drawing::{Face, Tag};
use crate::foot::form::FootSide;

mod easing;

const LENGTHS: [f64; 4] = [25.0, 45.0, 70.0, 95.0];

/// Widths of a figure beside a step and across the text, mm.
const WIDTHS: [f64; 2] = [62.0, 118.0];

fn shoe_look(length: f64) -> ShoeLook {
    ShoeLook {
        cloth: 1.2,
        sole: 1.2,
        strap: Some(StrapLook::default()),
        tie: Some(TieLook {
            width: 0.09 * length,
            free: 1.2 * length,
            slit: 0.12 * length,
        }),
        back_elastic: true,
        topstitch: true,
        lined: true,
        only: None,
    }
}

fn work(length: f64) -> Work {
    Work {
        allowance: if length < 40.0 { 3.2 } else { 4.7625 },
        trim: 1.6,
        stiffener: Some(3.3),
        lining_sole: 0.75,
        strap: Some([0.55 * length, 0.12 * length]),
        slit: Some(0.12 * length),
        ribbon: Some(0.09 * length),
    }
}

fn with_shoe<T>(length: f64, told: impl FnOnce(&Shoe) -> T) -> T {
    let form = form(length);
    let kept = ShoeInTheMaking::new(&form, shoe_look(length), work(length));
    told(&kept.shoe(&kept.look, false))
}

fn manner(width: f64) -> Manner {
    Manner {
        room: Room {
            width,
            height: Some(90.0),
        },
        ..Manner::wide(width)
    }
}

fn drawing(shoe: &Shoe, state: State, width: f64) -> LineDrawing {
    let stage = steps::stage(shoe, state).unwrap();
    let step = Step {
        state,
        seen: None,
        topline_sewn: true,
        pressed: false,
    };
    let view = step.view(stage.inside_out);
    let mut placed = Placed::of(stage, false);
    placed.drawn(shoe, view, manner(width), 1.0).unwrap()
}

fn count(drawing: &LineDrawing, tag: Tag) -> usize {
    drawing.lines.iter().filter(|line| line.tag == tag).count()
}

fn every_state_closes(length: f64) {
    let form = form(length);
    let mut open = Vec::new();
    for (words, state) in State::ALL {
        for width in WIDTHS {
            let step = Step {
                state,
                seen: None,
                topline_sewn: true,
                pressed: false,
            };
            let made = figure(
                &form,
                &shoe_look(length),
                &work(length),
                step,
                (manner(width), &Words::of("en")),
            );
            if let Err(fault) = made {
                open.push((words, width, fault.ends));
            }
        }
    }
    assert!(open.is_empty(), "{length}: {open:?}");
}

#[test]
fn every_state_closes_for_a_foot_of_25_mm() {
    every_state_closes(25.0);
}

#[test]
fn every_state_closes_for_a_foot_of_45_mm() {
    every_state_closes(45.0);
}

#[test]
fn every_state_closes_for_a_foot_of_70_mm() {
    every_state_closes(70.0);
}

#[test]
fn every_state_closes_for_a_foot_of_95_mm() {
    every_state_closes(95.0);
}

/// The allowance laid out on the sole is as wide as the allowance, measured flat.
#[test]
fn the_brim_is_as_wide_as_the_allowance() {
    for length in LENGTHS {
        with_shoe(length, |shoe| {
            let brim = Brim {
                seam: shoe.seam,
                allowance: shoe.work.allowance,
                length,
                falls: 0.0,
                rippled: 1.0,
                of_sole: false,
            };
            for place in Seam::places(shoe.seam.ends(), 97) {
                let way = brim.point(place, 1.0) - brim.point(place, 0.0);
                let flat = way.x.hypot(way.y);
                assert!((flat - shoe.work.allowance).abs() < 1e-9, "{place}: {flat}");
            }
        });
    }
}

/// The ripple sits where the easing does: outside the ease notches the cut edge is even.
#[test]
fn the_brim_ripples_between_the_ease_notches_only() {
    with_shoe(70.0, |shoe| {
        let brim = Brim {
            seam: shoe.seam,
            allowance: shoe.work.allowance,
            length: 70.0,
            falls: 0.0,
            rippled: 1.0,
            of_sole: false,
        };
        let [outer, inner] = shoe.seam.ease;
        let heights = |stretch| {
            let places = Seam::places(stretch, 400);
            let heights = places.iter().map(|p| brim.point(*p, 1.0).z);
            let (low, high) = heights.fold((f64::INFINITY, 0.0), |(low, high), z| {
                (f64::min(low, z), f64::max(high, z))
            });
            high - low
        };
        let [start, end] = shoe.seam.ends();
        assert!(heights([outer, inner]) > 0.1 * shoe.work.allowance);
        assert!(heights([start, outer]) < 1e-9);
        assert!(heights([inner, end]) < 1e-9);
    });
}

/// Pins stand at notches, quarters and half way between (common practice): seen from the front
/// outside, all those on the near side, each with its head.
#[test]
fn pins_stand_at_every_mark_that_faces_the_viewer() {
    with_shoe(70.0, |shoe| {
        let pins = shoe.seam.pins();
        for (mark, _) in shoe.seam.marks() {
            assert!(pins.iter().any(|pin| (pin - mark).abs() < 1e-9), "{mark}");
        }
        assert_eq!(pins.len(), 12);
        let pinned = drawing(shoe, State::UpperOnTheSole, 118.0);
        let heads = count(&pinned, part::PIN_HEAD);
        let near = pins.iter().filter(|place| **place < 0.0).count();
        assert!(heads >= near, "{heads} of {near}");
        assert!(heads <= pins.len());
        assert_eq!(count(&drawing(shoe, State::Sewn, 118.0), part::PIN_HEAD), 0);
    });
}

/// A sole alone shows all its marks, as the plates draw them: two centres, each a notch with a line across the
/// seam line, five single notches, and two side by side.
#[test]
fn the_sole_shows_every_notch() {
    with_shoe(70.0, |shoe| {
        let singles = shoe
            .seam
            .marks()
            .iter()
            .filter(|(_, m)| *m == Mark::Single)
            .count();
        assert_eq!(singles, 5);
        let stage = steps::stage(shoe, State::Sole).unwrap();
        let marks = stage
            .scene
            .curves
            .iter()
            .filter(|c| c.tag == part::NOTCH)
            .count();
        assert_eq!(marks, 2 * 2 + 5 + 2);
        let seen = count(&drawing(shoe, State::Sole, 118.0), part::NOTCH);
        assert!(seen >= 8, "{seen}");
    });
}

/// Seen from above, nothing of a state before the seam lies farther out than the cut edge.
#[test]
fn pieces_lie_within_the_cut_edge_of_the_sole() {
    for length in LENGTHS {
        with_shoe(length, |shoe| {
            for state in [State::ToeOnTheSole, State::UpperOnTheSole, State::Sewn] {
                let stage = steps::stage(shoe, state).unwrap();
                let far = shoe.extent.front + shoe.work.allowance + 1e-6;
                let back = shoe.extent.back - shoe.work.allowance - 1e-6;
                for point in stage.scene.meshes.iter().flat_map(|m| &m.vertices) {
                    assert!(point.x <= far && point.x >= back, "{state:?}: {point:?}");
                    let edge = &shoe.form.surface.edge;
                    let x = point.x.clamp(shoe.extent.back, shoe.extent.front);
                    let side = if point.y > 0.0 {
                        FootSide::Inner
                    } else {
                        FootSide::Outer
                    };
                    // Its distance along y is at least that along the outline's normal.
                    let whole = Seam::new(shoe.form, length).ring(0.0, 900);
                    let near = edge.across(side, x).abs() + shoe.work.allowance;
                    if point.y.abs() > near {
                        let least = whole
                            .iter()
                            .map(|(p, _)| (p.x - point.x).hypot(p.y - point.y));
                        let least = least.fold(f64::INFINITY, f64::min);
                        assert!(least < shoe.work.allowance + 0.05, "{state:?}: {least}");
                    }
                }
            }
        });
    }
}

/// Wrong side out, a right shoe looks as a left one does: its scene is a mirror's, and every
/// triangle still shows its outside.
#[test]
fn a_shoe_wrong_side_out_is_mirrored() {
    with_shoe(45.0, |shoe| {
        let stage = steps::stage(shoe, State::Sewn).unwrap();
        assert!(stage.inside_out);
        let turned = mirrored(stage.scene.clone());
        for (before, after) in stage.scene.meshes.iter().zip(&turned.meshes) {
            for (a, b) in before.triangles.iter().zip(&after.triangles) {
                let normal = |mesh: &crate::figure::drawing::Mesh, t: &[u32; 3]| {
                    let [p, q, r] = t.map(|i| mesh.vertices[i as usize]);
                    (q - p).cross(r - p)
                };
                let (one, two) = (normal(before, a), normal(&after.clone(), b));
                assert!((one.x - two.x).abs() < 1e-9);
                assert!((one.y + two.y).abs() < 1e-9);
                assert!((one.z - two.z).abs() < 1e-9);
            }
        }
        assert!(!steps::stage(shoe, State::Turned).unwrap().inside_out);
    });
}

#[test]
fn tints_tell_the_sides_apart() {
    with_shoe(70.0, |shoe| {
        let has = |state: State, face: Face| {
            let drawing = drawing(shoe, state, 62.0);
            drawing.regions.iter().any(|region| region.face == face)
        };
        assert!(has(State::Sewn, Face::Wrong));
        assert!(has(State::Stiffener, Face::Stiffener));
        assert!(has(State::LiningSole, Face::Lining));
        // what goes in leaves only stubs of it
        let laid_in = drawing(shoe, State::LiningSole, 62.0);
        assert_eq!(count(&laid_in, look::CREASE), 0);
        assert!(!has(State::Sole, Face::Wrong));
    });
}

#[test]
fn words_name_side_view_and_what_is_drawn() {
    let form = form(70.0);
    let told = |state: State| {
        let step = Step {
            state,
            seen: None,
            topline_sewn: true,
            pressed: false,
        };
        figure(
            &form,
            &shoe_look(70.0),
            &work(70.0),
            step,
            (manner(62.0), &Words::of("en")),
        )
        .unwrap()
        .alt
    };
    let pinned = told(State::UpperOnTheSole);
    assert!(
        pinned.starts_with("Upper of the right shoe on its sole"),
        "{pinned}"
    );
    assert!(
        pinned.contains("pinned") && pinned.contains("hatched"),
        "{pinned}"
    );
    assert!(!pinned.contains("the seam round the sole"), "{pinned}");
    let turning = told(State::Turning);
    assert!(
        turning.contains("an arrow leads out of the opening"),
        "{turning}"
    );
    for (_, state) in State::ALL {
        assert!(told(state).len() <= 250);
    }
}

#[test]
fn the_same_state_is_the_same_bytes() {
    let form = form(45.0);
    let step = Step {
        state: State::UpperOnTheSole,
        seen: None,
        topline_sewn: true,
        pressed: false,
    };
    let made = || {
        figure(
            &form,
            &shoe_look(45.0),
            &work(45.0),
            step,
            (manner(62.0), &Words::of("en")),
        )
        .unwrap()
        .svg
    };
    assert_eq!(made(), made());
}

#[test]
fn the_slit_opens_at_the_throat_and_ends_where_it_should() {
    with_shoe(70.0, |shoe| {
        let slit = shoe.work.slit.unwrap();
        let net = Upper::slit(shoe.form, shoe.extent, slit);
        let top = |column: usize| net.points[Upper::index(column, Upper::ROWS - 1)];
        let [outer, inner] = net.throats;
        assert!(top(outer).distance(top(inner)) < 1e-9, "closed at its end");
        let long = top(outer).distance(shoe.form.throat());
        // It ends at a column of the net.
        assert!((long - slit).abs() < 0.02 * 70.0, "{long} of {slit}");
        let stage = steps::stage(shoe, State::Gathers).unwrap();
        assert!(stage.scene.curves.iter().any(|c| c.tag == look::GATHERS));
    });
}
