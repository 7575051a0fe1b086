//! Files with text only: sizes of type, thickness of lines, inks, bleed.

use super::messages;
use super::press::{A4, Book};
use crate::proof::{IntendedText, Proof, prove_text};

const WANTED: IntendedText = IntendedText {
    page: A4,
    smallest_points: None,
    black_only: false,
    bleed: None,
    thinnest_points: None,
    book: None,
};

/// The proof of a page with `body`, set after `set`.
fn proof(set: &str, body: &str, wanted: &IntendedText) -> Proof {
    let pdf = Book::new(A4).typst(set).typst(body).pdf();
    prove_text(&pdf, "test.pdf", wanted)
}

fn told(set: &str, body: &str, wanted: &IntendedText, code: &str) -> Vec<String> {
    messages(&proof(set, body, wanted), code)
}

#[test]
fn running_text_that_is_too_small_is_reported_with_its_size() {
    let wanted = IntendedText {
        smallest_points: Some(18.0),
        ..WANTED
    };
    let words = |size: f64| format!("#at(30, 30, text(size: {size}pt)[Words])");
    let passed = proof("", &words(18.0), &wanted);
    let right = "no letter of the running text is smaller than 18.00 points";
    assert!(passed.checks.iter().any(|c| c.passed && c.message == right));
    let small = told("", &words(17.5), &wanted, "type-size");
    assert!(
        small[0].starts_with("a letter of the running text has 17.50 points"),
        "{small:?}"
    );
    // small on the page although the type is large: it was scaled down
    let scaled = "#at(30, 30, scale(50%, reflow: true, text(size: 20pt)[Words]))";
    let small = told("", scaled, &wanted, "type-size");
    assert!(small[0].contains("has 10.00 points"), "{small:?}");
}

#[test]
fn letters_in_pictures_may_be_small() {
    let wanted = IntendedText {
        smallest_points: Some(18.0),
        ..WANTED
    };
    let figure = "#at(30, 30, figure(alt: \"a shoe with the letter A\", text(size: 9pt)[A]))";
    assert_eq!(told("", figure, &wanted, "type-size"), [""; 0]);
}

#[test]
fn lines_thinner_than_the_print_shop_prints_are_reported() {
    let wanted = IntendedText {
        thinnest_points: Some(0.25),
        ..WANTED
    };
    let line = |width: f64| format!("#at(30, 30, line(length: 20mm, stroke: {width}pt))");
    assert_eq!(told("", &line(0.25), &wanted, "press-line-thin"), [""; 0]);
    let thin = told("", &line(0.2), &wanted, "press-line-thin");
    assert!(
        thin[0].starts_with("a line is as thin as 0.20 points"),
        "{thin:?}"
    );
    let squeezed = "#at(30, 30, scale(x: 30%, line(length: 20mm, stroke: 0.5pt)))";
    assert_eq!(told("", squeezed, &wanted, "press-line-thin").len(), 1);
}

#[test]
fn letters_in_colours_for_screens_or_in_several_inks_are_reported() {
    let wanted = IntendedText {
        black_only: true,
        ..WANTED
    };
    let words = |fill: &str| format!("#at(30, 30, text(fill: {fill})[Words])");
    for fill in [
        "cmyk(0%, 0%, 0%, 100%)",
        "cmyk(0%, 90%, 80%, 10%)",
        "cmyk(0%, 0%, 0%, 40%)",
    ] {
        assert_eq!(
            told("", &words(fill), &wanted, "not-black"),
            [""; 0],
            "{fill}"
        );
    }
    let rich = told(
        "",
        &words("cmyk(60%, 55%, 50%, 100%)"),
        &wanted,
        "not-black",
    );
    assert_eq!(
        rich,
        ["letters are painted in a black of several inks, which blurs letters"]
    );
    let screen = told("", &words("rgb(20, 20, 20)"), &wanted, "not-black");
    let converted =
        "letters are painted in a colour for screens, which a print shop has to convert";
    assert_eq!(screen, [converted]);
}

#[test]
fn a_bleed_of_another_width_and_letters_near_the_trim_are_reported() {
    let wanted = IntendedText {
        bleed: Some(3.0),
        ..WANTED
    };
    let words = |x: f64| format!("#at({x}, 30)[Words]");
    let set = |bleed: u32| format!("#set page(bleed: {bleed}mm)");
    assert_eq!(told(&set(3), &words(30.0), &wanted, "page-boxes"), [""; 0]);
    assert_eq!(told(&set(3), &words(30.0), &wanted, "ink-margin"), [""; 0]);
    let narrow = told(&set(2), &words(30.0), &wanted, "page-boxes");
    assert!(narrow[0].ends_with("2.00 mm below, not 3 mm"), "{narrow:?}");
    let near = told(&set(3), &words(2.0), &wanted, "ink-margin");
    assert!(near[0].contains("mm from the trim"), "{near:?}");
}

#[test]
fn a_file_that_is_no_pdf_is_reported() {
    let proof = prove_text(b"words", "test.pdf", &WANTED);
    assert_eq!(messages(&proof, "pdf-unreadable").len(), 1);
}
