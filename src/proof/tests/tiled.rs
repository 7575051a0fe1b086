//! Pieces spread over several sheets.

use super::press::{A4, Book, Style, cut, intended, panel};
use super::{failed, messages};
use crate::proof::prove;
use kurbo::{Affine, Rect, Vec2};

/// Windows of 180 by 205 mm on 2 by 2 sheets, neighbours overlapping by `across` and `down`.
fn windows(across: f64, down: f64) -> Vec<Rect> {
    let (left, top) = (-10.0, -3.0);
    let mut all = Vec::new();
    for y in [top, top + 205.0 - down] {
        for x in [left, left + 180.0 - across] {
            all.push(Rect::new(x, y, x + 180.0, y + 205.0));
        }
    }
    all
}

fn book(windows: &[Rect]) -> Vec<u8> {
    moved_book(windows, |_| Vec2::ZERO)
}

/// The sheets with join marks in the middle of each overlap; `moved` tells by how much the outline on
/// a sheet lies off its place while window and marks stay.
fn moved_book(windows: &[Rect], moved: impl Fn(usize) -> Vec2) -> Vec<u8> {
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
            let at = middle - window.origin() + Vec2::new(15.0, 15.0);
            book = book.half_ring(at.to_point(), -across.normalize());
        }
    }
    book.pdf()
}

#[test]
fn an_outline_moved_against_its_frame_and_marks_does_not_join() {
    let wanted = intended(vec![cut("panel", &panel())]);
    for (off, right_column) in [(2.0_f64, false), (0.5, true)] {
        let moved = |index: usize| match index % 2 == usize::from(right_column) {
            true => Vec2::new(0.0, -off),
            false => Vec2::ZERO,
        };
        let proof = prove(&moved_book(&windows(8.0, 6.0), moved), "test.pdf", &wanted);
        assert_eq!(failed(&proof), ["tile-join"], "{off}");
        let told = messages(&proof, "tile-join");
        assert!(told[0].contains(&format!("out by {off:.2} mm")), "{told:?}");
    }
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
    assert_eq!(failed(&proof), ["tile-gap", "ink-margin"]);
}
