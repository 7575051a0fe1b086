//! Large sheets of invented pieces.

use super::super::field::distance;
use super::super::fixtures::{board, job, shoe, size};
use super::super::plan::GAP;
use super::super::tests::ring_of;
use super::super::{PlateJob, PlateSet, plan};
use crate::design::Paper;
use kurbo::Line;

fn set(paper: &str) -> PlateSet {
    plan(&shoe(), &job(paper)).expect("the shoe fits")
}

#[test]
fn a_large_sheet_is_one_page_of_the_size_of_iso_216_with_squares_in_opposite_corners() {
    // ISO 216, A series: A0 841 x 1189 mm, A1 594 x 841 mm, A2 420 x 594 mm.
    let sizes = [
        ("a0", 841.0, 1189.0),
        ("a1", 594.0, 841.0),
        ("a2", 420.0, 594.0),
    ];
    for (key, width, height) in sizes {
        let set = set(key);
        assert_eq!(set.page_count(), 1, "{key}");
        let page = &set.data()[0];
        assert_eq!(page["page"]["w"].as_f64(), Some(width));
        assert_eq!(page["page"]["h"].as_f64(), Some(height));
        let squares = page["squares"].as_array().expect("squares");
        for side in [50.0, 50.8] {
            let corners: Vec<(bool, bool)> = squares
                .iter()
                .filter(|s| s["side"].as_f64() == Some(side))
                .map(|s| {
                    let at = |k: &str| s[k].as_f64().expect("a number");
                    (at("x") < width / 2.0, at("y") < height / 2.0)
                })
                .collect();
            assert_eq!(corners, [(true, false), (false, true)], "{key} {side}");
        }
    }
}

#[test]
fn pieces_keep_apart_and_within_the_live_area() {
    for key in ["a2", "a1", "roll24", "roll36"] {
        let set = set(key);
        let sheet = &set.sheets[0];
        let live = set.paper.live().size().to_rect();
        let rings: Vec<Vec<Line>> = (0..sheet.pieces.len())
            .map(|i| ring_of(&set, sheet, i))
            .collect();
        assert_eq!(
            rings.len(),
            shoe().iter().map(|s| s.pieces.len()).sum::<usize>()
        );
        for (i, ring) in rings.iter().enumerate() {
            let place = sheet.pieces[i].place;
            assert!(
                live.contains(place.origin()) && place.x1 <= live.x1,
                "{key}"
            );
            for other in &rings[i + 1..] {
                let near = ring
                    .iter()
                    .flat_map(|a| other.iter().map(|b| distance(a.p0, *b)))
                    .fold(f64::INFINITY, f64::min);
                assert!(near >= GAP - 0.05, "{key}: {near}");
            }
        }
    }
}

#[test]
fn what_finds_no_room_on_one_large_sheet_goes_on_on_the_next() {
    // two boards of 350 x 400 mm: one to a sheet of 420 x 594 mm
    let boards = ["a", "b"].map(|key| board(1, key, 350.0, 400.0));
    let boards = [size("one", "One", "", boards.into())];
    let set = plan(&boards, &job("a2")).expect("each board fits");
    assert_eq!(set.page_count(), 2);
    assert_eq!(set.notes.iter().count(), 0, "{:?}", set.notes);
}

#[test]
fn columns_make_a_roll_shorter_and_never_longer() {
    let one_below_the_other = |paper: &Paper| {
        let narrow = Paper {
            width: paper.width / 2.0,
            ..paper.clone()
        };
        let job = PlateJob {
            paper: narrow,
            ..job("roll36")
        };
        plan(&shoe(), &job).expect("the shoe fits").length_needed()
    };
    let wide = set("roll36");
    assert!(wide.length_needed() <= one_below_the_other(&wide.paper));
    // three sizes of a board of 200 x 90 mm: side by side on 884 mm, so as long as one of them
    let boards = |count: usize| -> Vec<_> {
        let one = |i: usize| {
            let key = format!("s{i}");
            size(&key, &key, "", vec![board(1, "a", 200.0, 90.0)])
        };
        (0..count).map(one).collect()
    };
    let length = |count| {
        let set = plan(&boards(count), &job("roll36")).expect("boards fit");
        set.length_needed()
    };
    assert!((length(3) - length(1)).abs() < 1e-9);
    assert!(length(6) > length(3));
}

#[test]
fn the_same_sheet_comes_twice() {
    assert_eq!(set("roll36").data(), set("roll36").data());
}
