//! Pieces spread over several sheets.

use super::press::{A4, Book, Style, cut, intended, panel};
use super::{failed, messages};
use crate::proof::prove;
use kurbo::{Affine, Point, Rect, Shape, Vec2};

/// Windows of 180 by 205 mm on 2 by 2 sheets, neighbours overlapping by `across` and `down`.
pub fn windows(across: f64, down: f64) -> Vec<Rect> {
    let (left, top) = (-10.0, -3.0);
    let mut all = Vec::new();
    for y in [top, top + 205.0 - down] {
        for x in [left, left + 180.0 - across] {
            all.push(Rect::new(x, y, x + 180.0, y + 205.0));
        }
    }
    all
}

pub fn book(windows: &[Rect]) -> Vec<u8> {
    moved_book(windows, |_| Vec2::ZERO, |_| Vec2::ZERO)
}

/// The sheets with two join marks in the middle of each overlap; `moved` tells by how much the outline
/// on a sheet lies off its place while window and marks stay, `skew` by how much its marks do.
fn moved_book(
    windows: &[Rect],
    moved: impl Fn(usize) -> Vec2,
    skew: impl Fn(usize) -> Vec2,
) -> Vec<u8> {
    let mut book = Book::new(A4);
    for (index, window) in windows.iter().enumerate() {
        if index > 0 {
            book = book.next_page();
        }
        let outline = Affine::translate(moved(index)) * panel();
        book = book
            .furniture()
            .tile(&outline, Style::Cut, *window, 15.0, 15.0);
        for other in windows.iter() {
            let across = other.center() - window.center();
            if (across.x == 0.0) == (across.y == 0.0) || across.hypot() > 250.0 {
                continue;
            }
            let middle = window.center() + 0.5 * across;
            let along = Vec2::new(across.y, across.x).normalize();
            for station in [-50.0, 50.0] {
                let at = middle + station * along - window.origin() + Vec2::new(15.0, 15.0);
                book = book.half_ring(at.to_point() + skew(index), -across.normalize());
            }
        }
    }
    book.pdf()
}

#[test]
fn an_outline_moved_against_its_frame_and_marks_does_not_join() {
    let wanted = intended(vec![cut("panel", &panel())]);
    for (off, right_column) in [(2.0_f64, false), (0.5, true), (0.02, true)] {
        let moved = |index: usize| match index % 2 == usize::from(right_column) {
            true => Vec2::new(0.0, -off),
            false => Vec2::ZERO,
        };
        let still = |_| Vec2::ZERO;
        let pdf = moved_book(&windows(8.0, 6.0), moved, still);
        let proof = prove(&pdf, "test.pdf", &wanted);
        // moved so far, the panel runs through a word
        let mut told = failed(&proof);
        told.retain(|code| *code != "text-over-line");
        assert_eq!(told, ["tile-join"], "{off}");
        let told = messages(&proof, "tile-join");
        assert!(told[0].contains(&format!("out by {off:.2} mm")), "{told:?}");
    }
}

#[test]
fn a_panel_joined_by_its_marks_is_right_to_a_thousandth() {
    let proof = prove(
        &book(&windows(8.0, 6.5)),
        "test.pdf",
        &intended(vec![cut("panel", &panel())]),
    );
    let joined = proof.measured.outlines[0].joined.unwrap();
    assert!(joined < 0.001, "{joined}");
}

#[test]
fn marks_that_stand_off_their_place_do_not_join() {
    // all marks of the last sheet 0.05 mm to the right: its sheet comes to lie 0.05 mm to the left of
    // one neighbour's place and cannot lie right against the other
    let skew = |index: usize| Vec2::new(if index == 3 { 0.05 } else { 0.0 }, 0.0);
    let pdf = moved_book(&windows(8.0, 6.0), |_| Vec2::ZERO, skew);
    let wanted = intended(vec![cut("panel", &panel())]);
    let proof = prove(&pdf, "test.pdf", &wanted);
    assert_eq!(failed(&proof), ["tile-join"]);
    let told = messages(&proof, "tile-join");
    assert!(told[0].contains("out by 0.05 mm"), "{told:?}");
}

#[test]
fn one_mark_at_a_joint_does_not_hold_the_sheets() {
    let mut book = Book::new(A4);
    let strip = Rect::new(0.0, 0.0, 40.0, 300.0).to_path(1e-6);
    for (index, top) in [-5.0, 185.0].into_iter().enumerate() {
        if index > 0 {
            book = book.next_page();
        }
        let window = Rect::new(-20.0, top, 160.0, top + 200.0);
        let (y, into) = if index == 0 {
            (210.0, -1.0)
        } else {
            (20.0, 1.0)
        };
        book = book
            .furniture()
            .tile(&strip, Style::Cut, window, 15.0, 15.0)
            .half_ring(Point::new(100.0, y), Vec2::new(0.0, into));
    }
    let proof = prove(
        &book.pdf(),
        "test.pdf",
        &intended(vec![cut("strip", &strip)]),
    );
    assert_eq!(failed(&proof), ["tile-join"]);
}

#[test]
fn a_strip_narrower_than_its_sheets_joins_by_the_marks_beside_it() {
    // the picture of the strip is 42 mm wide, the marks stand 10 and 60 mm beside it
    let strip = Rect::new(0.0, 0.0, 40.0, 2600.0).to_path(1e-6);
    let mut book = Book::new(A4);
    for index in 0..14 {
        if index > 0 {
            book = book.next_page();
        }
        let top = 190.0 * f64::from(index) - 5.0;
        let window = Rect::new(-1.0, top, 41.0, top + 200.0);
        book = book
            .furniture()
            .tile(&strip, Style::Cut, window, 75.0, 15.0);
        for x in [55.0, 175.0] {
            // the lower edge is trimmed and laid on the next sheet, 10 mm below its upper edge
            if index < 13 {
                book = book.half_ring(Point::new(x, 215.0), Vec2::new(0.0, -1.0));
            }
            if index > 0 {
                book = book.half_ring(Point::new(x, 25.0), Vec2::new(0.0, 1.0));
            }
        }
    }
    let proof = prove(
        &book.pdf(),
        "test.pdf",
        &intended(vec![cut("strip", &strip)]),
    );
    assert_eq!(failed(&proof), [""; 0]);
    assert!(proof.measured.outlines[0].joined.unwrap() < 0.002);
}

#[test]
fn sheets_without_join_marks_are_reported() {
    let mut book = Book::new(A4);
    for (index, window) in windows(8.0, 6.0).iter().enumerate() {
        if index > 0 {
            book = book.next_page();
        }
        book = book
            .furniture()
            .tile(&panel(), Style::Cut, *window, 15.0, 15.0);
    }
    let wanted = intended(vec![cut("panel", &panel())]);
    let proof = prove(&book.pdf(), "test.pdf", &wanted);
    assert_eq!(failed(&proof), ["tile-join"]);
}

#[test]
fn a_panel_on_four_sheets_is_one_piece() {
    let proof = prove(
        &book(&windows(8.0, 6.5)),
        "test.pdf",
        &intended(vec![cut("panel", &panel())]),
    );
    assert_eq!(failed(&proof), [""; 0]);
    let found = &proof.measured.outlines[0];
    assert_eq!(found.pages, [1, 2, 3, 4]);
    assert!(found.deviation.unwrap() < 0.001);
    // The outline crosses the upright joint (8 mm) and the level one (6.5 mm).
    assert!((found.overlap.unwrap() - 6.5).abs() < 0.05, "{found:?}");
}

#[test]
fn a_gap_between_sheets_is_reported_with_its_place() {
    let proof = prove(
        &book(&windows(8.0, -3.0)),
        "test.pdf",
        &intended(vec![cut("panel", &panel())]),
    );
    assert_eq!(failed(&proof), ["tile-gap"]);
    // The first window ends 202 mm down, the next begins 3 mm lower.
    let told = messages(&proof, "tile-gap");
    assert!(told[0].contains("330.0 mm across, 202."), "{told:?}");
}

#[test]
fn a_missing_sheet_is_a_gap() {
    let three = &windows(8.0, 6.0)[..3];
    let proof = prove(
        &book(three),
        "test.pdf",
        &intended(vec![cut("panel", &panel())]),
    );
    assert_eq!(failed(&proof), ["tile-gap"]);
}

#[test]
fn an_overlap_under_5_mm_is_reported() {
    let proof = prove(
        &book(&windows(8.0, 4.0)),
        "test.pdf",
        &intended(vec![cut("panel", &panel())]),
    );
    assert_eq!(failed(&proof), ["tile-gap"]);
    assert!(messages(&proof, "tile-gap")[0].contains("overlap by only 4.0 mm"));
}

#[test]
fn two_equal_panels_need_two_sets_of_sheets() {
    let wanted = intended(vec![cut("front", &panel()), cut("back", &panel())]);
    let once = windows(8.0, 6.0);
    let proof = prove(&book(&once), "test.pdf", &wanted);
    assert_eq!(failed(&proof), ["piece-missing"]);
    let twice = [once.clone(), once].concat();
    let proof = prove(&book(&twice), "test.pdf", &wanted);
    assert_eq!(failed(&proof), [""; 0]);
    assert_eq!(proof.measured.outlines[1].pages, [5, 6, 7, 8]);
}

#[test]
fn a_piece_that_runs_off_the_page_is_cut_off() {
    let pdf = Book::new(A4)
        .furniture()
        .line(&panel(), Style::Cut, 20.0, -30.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("panel", &panel())]));
    // the panel runs through the squares and the word at the head of the page
    let codes = [
        "tile-gap",
        "ink-margin",
        "square-over-piece",
        "text-over-line",
    ];
    assert_eq!(failed(&proof), codes);
}
