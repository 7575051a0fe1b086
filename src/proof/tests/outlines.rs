//! Outlines found, off, and missing.

use super::press::{A4, Book, Style, circle, cut, intended, seam, sole, square, toe};
use super::{failed, messages};
use crate::proof::{Proof, prove};
use kurbo::Affine;

fn deviation(proof: &Proof) -> f64 {
    proof.measured.worst_deviation.unwrap()
}

#[test]
fn outlines_at_true_scale_are_found_to_a_micrometre() {
    let pdf = Book::new(A4)
        .furniture()
        .line(&sole(), Style::Cut, 20.0, 30.0)
        .line(&toe(), Style::Cut, 80.0, 30.0)
        .line(&toe(), Style::Seam, 80.0, 100.0)
        .pdf();
    let wanted = intended(vec![
        cut("sole", &sole()),
        cut("toe", &toe()),
        seam("toe", &toe()),
    ]);
    let proof = prove(&pdf, "test.pdf", &wanted);
    assert_eq!(
        failed(&proof),
        [""; 0],
        "{:?}",
        messages(&proof, "ink-margin")
    );
    assert!(deviation(&proof) < 0.001, "{}", deviation(&proof));
    assert_eq!(proof.measured.outlines.len(), 3);
    assert_eq!(proof.measured.squares.len(), 2);
    for square in &proof.measured.squares {
        assert!((square.width - square.side).abs() < 1e-4, "{square:?}");
        assert!((square.height - square.side).abs() < 1e-4, "{square:?}");
    }
}

#[test]
fn turned_by_quarter_turns_a_piece_is_still_found() {
    for turns in 1..4 {
        let pdf = Book::new(A4)
            .furniture()
            .turned_line(&toe(), Style::Cut, turns, 40.0, 40.0)
            .pdf();
        let proof = prove(&pdf, "test.pdf", &intended(vec![cut("toe", &toe())]));
        assert_eq!(failed(&proof), [""; 0], "{turns} turns");
        assert!(deviation(&proof) < 0.001, "{turns} turns");
    }
}

#[test]
fn a_piece_turned_by_another_angle_is_not_the_piece() {
    let turned = Affine::rotate(0.1) * toe();
    let pdf = Book::new(A4)
        .furniture()
        .line(&turned, Style::Cut, 40.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("toe", &toe())]));
    assert_eq!(failed(&proof), ["piece-missing"]);
}

#[test]
fn a_piece_at_97_percent_is_missing_and_its_scale_is_told() {
    let pdf = Book::new(A4)
        .furniture()
        .line(&(Affine::scale(0.97) * sole()), Style::Cut, 40.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("sole", &sole())]));
    assert_eq!(failed(&proof), ["piece-missing"]);
    let told = messages(&proof, "piece-missing");
    assert!(told[0].contains("97.0 % of its size on page 1"), "{told:?}");
}

#[test]
fn a_mirrored_piece_is_missing() {
    let mirrored = Affine::scale_non_uniform(-1.0, 1.0) * toe();
    let pdf = Book::new(A4)
        .furniture()
        .line(&mirrored, Style::Cut, 120.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("toe", &toe())]));
    assert_eq!(failed(&proof), ["piece-missing"]);
    assert!(messages(&proof, "piece-missing")[0].contains("mirrored on page 1"));
}

#[test]
fn a_piece_that_is_not_there_is_named_with_its_size() {
    let pdf = Book::new(A4)
        .furniture()
        .line(&sole(), Style::Cut, 40.0, 40.0)
        .pdf();
    let wanted = intended(vec![cut("sole", &sole()), cut("toe", &toe())]);
    let proof = prove(&pdf, "test.pdf", &wanted);
    assert_eq!(
        messages(&proof, "piece-missing"),
        ["the cut line of toe in size small is missing"]
    );
    assert!(!proof.passed());
    assert_eq!(
        proof.diagnostics().count(crate::diagnostic::Level::Error),
        1
    );
}

#[test]
fn an_outline_bulging_by_a_tenth_is_off_by_a_tenth() {
    // Moving one control point by d moves the curve by at most 4/9 d (3 t (1 - t)^2 at t = 1/3),
    // here 0.12 mm; the best shift of the whole takes away at most half of that.
    let right = sole();
    let mut elements = right.elements().to_vec();
    if let kurbo::PathEl::CurveTo(a, _, _) = &mut elements[1] {
        a.x += 0.27;
    }
    let drawn = kurbo::BezPath::from_vec(elements);
    let pdf = Book::new(A4)
        .furniture()
        .line(&drawn, Style::Cut, 40.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("sole", &right)]));
    assert_eq!(failed(&proof), ["outline-off"]);
    let off = deviation(&proof);
    assert!((0.06..0.12).contains(&off), "{off}");
}

#[test]
fn two_identical_pieces_need_two_drawings() {
    let wanted = intended(vec![cut("left", &toe()), cut("right", &toe())]);
    let once = Book::new(A4)
        .furniture()
        .line(&toe(), Style::Cut, 20.0, 40.0);
    let proof = prove(&once.pdf(), "test.pdf", &wanted);
    assert_eq!(failed(&proof), ["piece-missing"]);
    assert!(messages(&proof, "piece-missing")[0].contains("fewer times than it is needed"));

    let twice = Book::new(A4)
        .furniture()
        .line(&toe(), Style::Cut, 20.0, 40.0)
        .turned_line(&toe(), Style::Cut, 1, 100.0, 40.0);
    let proof = prove(&twice.pdf(), "test.pdf", &wanted);
    assert_eq!(failed(&proof), [""; 0]);
}

#[test]
fn sizes_that_differ_by_a_hair_get_their_own_drawings() {
    // 0.006 mm apart: each drawing is within the tolerance of both sizes.
    let larger = Affine::scale_non_uniform(1.0, 1.0 + 0.012 / 91.0) * sole();
    let wanted = intended(vec![cut("one", &sole()), cut("two", &larger)]);
    let pdf = Book::new(A4)
        .furniture()
        .line(&larger, Style::Cut, 20.0, 40.0)
        .line(&sole(), Style::Cut, 120.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &wanted);
    assert_eq!(failed(&proof), [""; 0]);
    assert!(deviation(&proof) < 0.001, "{}", deviation(&proof));
}

#[test]
fn a_cut_line_drawn_as_a_seam_line_is_missing() {
    let pdf = Book::new(A4)
        .furniture()
        .line(&toe(), Style::Seam, 20.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("toe", &toe())]));
    assert_eq!(failed(&proof), ["piece-missing"]);
    assert!(messages(&proof, "piece-missing")[0].contains("as a dashed line 0.25 mm wide"));
}

#[test]
fn round_and_square_pieces_are_told_from_test_squares() {
    let wanted = intended(vec![
        cut("patch", &square(50.0)),
        seam("patch", &square(50.0)),
        cut("button cover", &circle(18.0)),
    ]);
    let book = || {
        Book::new(A4)
            .typst("#at(15, 15)[Plate]")
            .line(&square(50.0), Style::Cut, 20.0, 40.0)
            .line(&square(50.0), Style::Seam, 80.0, 40.0)
            .line(&circle(18.0), Style::Cut, 170.0, 70.0)
    };
    let proof = prove(&book().furniture().pdf(), "test.pdf", &wanted);
    assert_eq!(failed(&proof), [""; 0]);
    assert!(deviation(&proof) < 0.001);
    // Without its test squares the page must not pass for the square piece on it.
    let proof = prove(&book().pdf(), "test.pdf", &wanted);
    assert_eq!(failed(&proof), ["square-missing"]);
    assert_eq!(messages(&proof, "square-missing").len(), 2);
}

#[test]
fn a_rectangle_that_begins_at_another_corner_is_the_same() {
    let other = kurbo::BezPath::from_svg("M60 20 L0 20 L0 0 L60 0 Z").unwrap();
    let pdf = Book::new(A4)
        .furniture()
        .line(&other, Style::Cut, 20.0, 40.0)
        .pdf();
    let strap = kurbo::BezPath::from_svg("M0 0 L60 0 L60 20 L0 20 Z").unwrap();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("strap", &strap)]));
    assert_eq!(failed(&proof), [""; 0]);
}

#[test]
fn a_curve_cut_into_other_segments_is_the_same() {
    // De Casteljau: the two halves of a cubic are the cubic.
    use kurbo::ParamCurve;
    let whole = toe();
    let halves = whole
        .segments()
        .flat_map(|s| [s.subsegment(0.0..0.4), s.subsegment(0.4..1.0)]);
    let mut split = kurbo::BezPath::from_path_segments(halves);
    split.close_path();
    let pdf = Book::new(A4)
        .furniture()
        .line(&split, Style::Cut, 20.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("toe", &toe())]));
    assert_eq!(failed(&proof), [""; 0]);
    assert!(deviation(&proof) < 0.001, "{}", deviation(&proof));
}

#[test]
fn a_small_piece_shown_at_true_scale_in_the_text_does_not_make_a_plate_of_its_page() {
    let pdf = Book::new(A4)
        .typst("#at(20, 20)[The pieces]")
        .line(&toe(), Style::Cut, 20.0, 40.0)
        .next_page()
        .furniture()
        .turned_line(&toe(), Style::Cut, 1, 100.0, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("toe", &toe())]));
    assert_eq!(failed(&proof), [""; 0]);
    assert_eq!(proof.measured.plates, [2]);
}
