//! What can be told apart on a page: contrast, dashes of sizes, squares in opposite corners.

use super::press::{A4, Book, Style, cut, intended, sole, toe};
use super::{failed, messages};
use crate::proof::{Intended, IntendedOutline, Proof, prove};
use kurbo::Affine;

fn proof_of(book: Book, wanted: &Intended) -> Proof {
    prove(&book.pdf(), "test.pdf", wanted)
}

fn page(lines: &[&str]) -> Proof {
    let book = lines
        .iter()
        .fold(Book::new(A4), |book, line| book.typst(line));
    proof_of(book, &intended(Vec::new()))
}

fn contrast(proof: &Proof) -> String {
    let mut all = proof.checks.iter().filter(|c| c.code == "low-contrast");
    all.next().unwrap().message.clone()
}

#[test]
fn text_needs_4_5_and_lines_3() {
    // WCAG 2, contrast ratio against white, worked out by hand: 767676 4.5422, 777777 4.4781,
    // 949494 3.0335, 959595 2.9953
    let text = |grey: &str| page(&[&format!("#at(20, 20, text(fill: rgb(\"{grey}\"))[words])")]);
    let right = text("767676");
    assert_eq!(failed(&right), [""; 0]);
    assert!(contrast(&right).contains("4.54:1"), "{}", contrast(&right));
    let wrong = text("777777");
    assert_eq!(failed(&wrong), ["low-contrast"]);
    assert!(contrast(&wrong).contains("4.47:1"), "{}", contrast(&wrong));

    let line = |grey: &str| {
        page(&[&format!(
            "#at(20, 20, line(length: 60mm, stroke: 1mm + rgb(\"{grey}\")))"
        )])
    };
    assert_eq!(failed(&line("949494")), [""; 0]);
    assert_eq!(failed(&line("959595")), ["low-contrast"]);
}

#[test]
fn what_lies_under_the_text_counts_and_what_lies_elsewhere_does_not() {
    let word = "#at(30, 30, text(fill: rgb(\"767676\"))[words])";
    let tint = |x: f64| format!("#at({x}, 20, rect(width: 60mm, height: 30mm, fill: luma(90%)))");
    assert_eq!(failed(&page(&[&tint(20.0), word])), ["low-contrast"]);
    assert_eq!(failed(&page(&[&tint(120.0), word])), [""; 0]);
    // white laid over the tint is what the word stands on
    let white = "#at(25, 25, rect(width: 40mm, height: 20mm, fill: white))";
    assert_eq!(failed(&page(&[&tint(20.0), white, word])), [""; 0]);
    // a thin wash of black is a tint, too
    let wash = "#at(20, 20, rect(width: 60mm, height: 30mm, fill: rgb(0, 0, 0, 10%)))";
    assert_eq!(failed(&page(&[wash, word])), ["low-contrast"]);
}

#[test]
fn pale_by_transparency_is_pale() {
    let word = "#at(30, 30, text(fill: rgb(0, 0, 0, 40%))[words])";
    assert_eq!(failed(&page(&[word])), ["low-contrast"]);
}

#[test]
fn white_words_on_the_paper_are_told() {
    let proof = page(&[
        "#at(20, 20)[words]",
        "#at(30, 40, text(fill: white)[words])",
    ]);
    assert_eq!(failed(&proof), ["low-contrast"]);
}

#[test]
fn white_words_on_black_marks_off_the_page_and_a_stamp_are_excepted() {
    let proof = page(&[
        "#at(20, 20)[words]",
        "#at(25, 35, rect(width: 30mm, height: 9mm, fill: black))",
        "#at(30, 40, text(fill: white)[words])",
        "#at(-3000, -3000, rect(width: 20mm, height: 9mm, stroke: 1mm + luma(95%)))",
        "#at(30, 90, text(size: 40pt, fill: rgb(0, 0, 0, 0%), stroke: 0.5pt + luma(80%))[stamp])",
    ]);
    assert_eq!(failed(&proof), [""; 0]);
}

#[test]
fn a_line_that_ends_in_its_own_arrowhead_or_edges_its_own_shape_stands_out() {
    let proof = page(&[
        "#at(20, 40, polygon(fill: black, (0mm, 0mm), (6mm, -2mm), (6mm, 2mm)))",
        "#at(20, 40, line(length: 60mm, stroke: 0.3mm))",
        "#at(20, 80, rect(width: 30mm, height: 30mm, fill: luma(20%), stroke: 0.5mm + luma(20%)))",
    ]);
    assert_eq!(failed(&proof), [""; 0]);
}

fn sized(size: &str, scale: f64) -> IntendedOutline {
    let mut outline = cut("sole", &(Affine::scale(scale) * sole()));
    outline.size = size.to_string();
    outline
}

fn nested(small: Style, large: Style, apart: f64) -> Proof {
    let (one, other) = (sized("small", 1.0), sized("large", 1.2));
    let book = Book::new(A4)
        .furniture()
        .line(&one.path, small, 40.0, 60.0)
        .line(&other.path, large, 36.0 + apart, 52.0);
    proof_of(book, &intended(vec![one, other]))
}

#[test]
fn sizes_over_each_other_need_dashes_of_their_own() {
    let (long, short) = (Style::Dashed("5 1.5"), Style::Dashed("2 1.5"));
    assert_eq!(failed(&nested(Style::Cut, Style::Cut, 0.0)), ["same-dash"]);
    assert_eq!(failed(&nested(long, long, 0.0)), ["same-dash"]);
    let told = messages(&nested(long, long, 0.0), "same-dash");
    assert!(
        told[0].contains("sole in sizes small and large"),
        "{told:?}"
    );
    assert_eq!(failed(&nested(long, short, 0.0)), [""; 0]);
    assert_eq!(failed(&nested(Style::Cut, short, 0.0)), [""; 0]);
    // side by side they are told apart by their place
    assert_eq!(failed(&nested(Style::Cut, Style::Cut, 80.0)), [""; 0]);
}

/// A plate with the usual squares and a second set at `x`, `y`.
fn second_squares(second: Option<[f64; 2]>) -> Proof {
    let mut book = Book::new(A4)
        .furniture()
        .line(&toe(), Style::Cut, 20.0, 140.0);
    if let Some([x, y]) = second {
        let next = x + 55.0;
        book = book
            .typst(&format!(
                "#at({x}, {y}, rect(width: 50mm, height: 50mm, stroke: 0.25mm))"
            ))
            .typst(&format!(
                "#at({next}, {y}, rect(width: 50.8mm, height: 50.8mm, stroke: 0.25mm))"
            ));
    }
    let mut wanted = intended(vec![cut("toe", &toe())]);
    wanted.square_sets = 2;
    // the first set stands in the lower left; the second square of it must not cross the middle
    wanted.page = A4;
    proof_of(book, &wanted)
}

#[test]
fn a_large_sheet_needs_its_squares_in_opposite_quarters() {
    // A4 is 105 mm to its middle: both squares of the first set have their middles left of it
    assert_eq!(failed(&second_squares(None)), ["square-missing"]);
    assert_eq!(failed(&second_squares(Some([94.0, 20.0]))), [""; 0]);
    let beneath = second_squares(Some([12.0, 20.0]));
    assert_eq!(failed(&beneath), ["square-corners"]);
    let all = second_squares(Some([94.0, 20.0])).measured.squares;
    assert_eq!(all.len(), 4);
    assert!(all.iter().all(|s| (s.width - s.side).abs() < 0.01));
}
