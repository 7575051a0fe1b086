//! What a buyer would see and a look at the outlines alone would not: paint over them, an outline
//! twice, outlines of no piece.

use super::press::{A4, Book, Style, circle, cut, intended, seam, sole, square, toe};
use super::{failed, messages};
use crate::proof::prove;

fn plate() -> Book {
    Book::new(A4)
        .furniture()
        .line(&toe(), Style::Cut, 40.0, 40.0)
}

fn codes(book: Book) -> Vec<&'static str> {
    let proof = prove(&book.pdf(), "test.pdf", &intended(vec![cut("toe", &toe())]));
    failed(&proof)
}

#[test]
fn paint_over_an_outline_hides_it() {
    let covers = [
        "#at(20, 30, rect(width: 170mm, height: 120mm, fill: white))",
        // the toe's upper edge reaches its highest point at 76, 40
        "#at(74, 38, rect(width: 4mm, height: 4mm, fill: white))",
        "#at(30, 45, rect(width: 30mm, height: 30mm, fill: rgb(200, 190, 180)))",
        "#at(30, 45, rect(width: 30mm, height: 30mm, fill: black))",
        "#place(top + left, line(start: (30mm, 60mm), end: (120mm, 60mm), stroke: 3mm + white))",
    ];
    for cover in covers {
        let codes = codes(plate().typst(cover));
        assert_eq!(codes, ["piece-hidden"], "{cover}");
    }
    let proof = prove(
        &plate().typst(covers[1]).pdf(),
        "test.pdf",
        &intended(vec![cut("toe", &toe())]),
    );
    let told = messages(&proof, "piece-hidden");
    assert!(
        told[0].contains("the cut line of toe in size small"),
        "{told:?}"
    );
    assert!(told[0].contains("on page 1 from 7"), "{told:?}");
}

#[test]
fn paint_under_an_outline_beside_it_or_in_its_ink_hides_nothing() {
    let under = Book::new(A4)
        .furniture()
        .typst("#at(30, 35, rect(width: 100mm, height: 70mm, fill: white))")
        .line(&toe(), Style::Cut, 40.0, 40.0);
    assert_eq!(codes(under), [""; 0]);
    let beside = [
        "#at(62, 85, rect(width: 20mm, height: 20mm, fill: white))",
        // a notch in the line's own ink
        "#at(75, 39.9, rect(width: 2mm, height: 2mm, fill: black))",
        // frosted so thinly that the line is seen through it
        "#at(20, 30, rect(width: 170mm, height: 120mm, fill: rgb(100%, 100%, 100%, 10%)))",
        "#at(20, 30, rect(width: 170mm, height: 120mm, stroke: 0.2mm))",
    ];
    for beside in beside {
        assert_eq!(codes(plate().typst(beside)), [""; 0], "{beside}");
    }
    // white that bares a fold, with the fold drawn over it
    let fold = plate()
        .typst("#place(top + left, line(start: (95mm, 92mm), end: (110mm, 81mm), stroke: 0.9mm + white))")
        .typst("#place(top + left, line(start: (95mm, 92mm), end: (110mm, 81mm), stroke: 0.3mm))");
    assert_eq!(codes(fold), [""; 0]);
}

#[test]
fn a_clip_that_is_no_rectangle_may_hide_anything() {
    let text = "#at(40, 40, box(width: 120mm, height: 100mm, radius: 40mm, clip: true, \
                image(\"line-0.svg\", width: 72mm, alt: \"a line\")))";
    let book = Book::new(A4)
        .line(&toe(), Style::Seam, 40.0, 160.0)
        .furniture()
        .typst(text);
    assert_eq!(codes(book), ["piece-missing"]);
}

#[test]
fn an_outline_drawn_twice_is_once_too_often() {
    let twice = plate().line(&toe(), Style::Cut, 43.0, 40.0);
    let proof = prove(
        &twice.pdf(),
        "test.pdf",
        &intended(vec![cut("toe", &toe())]),
    );
    assert_eq!(failed(&proof), ["piece-twice"]);
    let told = messages(&proof, "piece-twice");
    assert!(told[0].contains("drawn once more on page 1"), "{told:?}");
    // two pieces of one shape are drawn twice in all
    let twice = plate().line(&toe(), Style::Cut, 43.0, 120.0);
    let wanted = intended(vec![cut("left", &toe()), cut("right", &toe())]);
    assert_eq!(failed(&prove(&twice.pdf(), "test.pdf", &wanted)), [""; 0]);
}

#[test]
fn a_cut_line_of_no_piece_is_reported() {
    let stray = plate().line(&sole(), Style::Cut, 120.0, 100.0);
    let proof = prove(
        &stray.pdf(),
        "test.pdf",
        &intended(vec![cut("toe", &toe())]),
    );
    assert_eq!(failed(&proof), ["stray-outline"]);
    let told = messages(&proof, "stray-outline");
    assert!(
        told[0].contains("at 120.0 mm across, 100.0 mm down"),
        "{told:?}"
    );
}

#[test]
fn squares_marks_and_lines_of_other_pieces_are_no_stray_outlines() {
    let book = plate()
        .line(&toe(), Style::Seam, 40.0, 40.0)
        .typst("#at(60, 120, circle(radius: 4mm, stroke: 0.25mm))")
        .typst("#at(80, 120, rect(width: 20mm, height: 8mm, stroke: 0.2mm))")
        .typst("#at(129, 225, rect(width: 50mm, height: 50mm, stroke: 0.4mm))")
        .line(&circle(4.0), Style::Seam, 130.0, 120.0)
        .line(&square(12.0), Style::Seam, 150.0, 120.0);
    let wanted = intended(vec![cut("toe", &toe()), seam("toe", &toe())]);
    assert_eq!(failed(&prove(&book.pdf(), "test.pdf", &wanted)), [""; 0]);
}

#[test]
fn an_outline_too_pale_to_follow_is_missing() {
    for style in [Style::Pale, Style::Faint] {
        let book = Book::new(A4).furniture().line(&toe(), style, 40.0, 40.0);
        let wanted = ["piece-missing", "low-contrast"];
        assert_eq!(codes(book), wanted, "{style:?}");
    }
}
