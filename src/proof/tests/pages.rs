//! Page sizes, margins, blank pages, squares, fonts and tags.

use super::press::{A4, Book, Style, cut, intended, sole, toe};
use super::{failed, messages};
use crate::proof::{prove, reading};

#[test]
fn a_piece_3_mm_from_the_edge_is_reported_with_its_distance() {
    // The sole's box begins 0.0… mm left of its origin; half the stroke comes on top.
    let pdf = Book::new(A4)
        .furniture()
        .line(&sole(), Style::Cut, 3.5, 40.0)
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(vec![cut("sole", &sole())]));
    assert_eq!(failed(&proof), ["ink-margin"]);
    let told = messages(&proof, "ink-margin");
    assert!(
        told[0].contains("a line at 3.") && told[0].contains("10 mm must stay free"),
        "{told:?}"
    );
}

#[test]
fn ink_exactly_at_the_margin_passes() {
    let book = |x: f64| {
        let line = format!("#at({x}, 100, rect(width: 20mm, height: 20mm, fill: black))");
        Book::new(A4).furniture().typst(&line).pdf()
    };
    let wanted = intended(Vec::new());
    assert_eq!(failed(&prove(&book(10.0), "test.pdf", &wanted)), [""; 0]);
    assert_eq!(
        failed(&prove(&book(9.9), "test.pdf", &wanted)),
        ["ink-margin"]
    );
}

#[test]
fn a_tint_of_a_whole_page_of_text_is_no_ink_and_on_a_plate_it_is() {
    let wanted = intended(Vec::new());
    let tint = "#set page(fill: rgb(\"#FBF8F1\"))";
    let text = Book::new(A4).typst(tint).typst("#at(20, 40)[words]").pdf();
    assert_eq!(failed(&prove(&text, "test.pdf", &wanted)), [""; 0]);
    // nothing but the tint is a blank page
    let blank = Book::new(A4).typst(tint).typst("#pagebreak()").pdf();
    assert!(failed(&prove(&blank, "test.pdf", &wanted)).contains(&"blank-page"));
    let plate = Book::new(A4)
        .typst(tint)
        .furniture()
        .line(&sole(), Style::Cut, 20.0, 40.0)
        .pdf();
    let wanted = intended(vec![cut("sole", &sole())]);
    assert_eq!(failed(&prove(&plate, "test.pdf", &wanted)), ["ink-margin"]);
}

#[test]
fn pages_of_text_need_7_mm_and_pages_with_bleed_none() {
    let wanted = intended(Vec::new());
    let page = |set: &str, x: f64| {
        let line = format!("#at({x}, 40)[words]");
        Book::new(A4).typst(set).typst(&line).pdf()
    };
    assert_eq!(failed(&prove(&page("", 7.5), "test.pdf", &wanted)), [""; 0]);
    assert_eq!(
        failed(&prove(&page("", 6.5), "test.pdf", &wanted)),
        ["ink-margin"]
    );
    let bled = page("#set page(bleed: 3mm)", 0.0);
    assert_eq!(failed(&prove(&bled, "test.pdf", &wanted)), [""; 0]);
}

#[test]
fn white_shapes_and_clipped_ones_leave_no_ink_at_the_edge() {
    let pdf = Book::new(A4)
        .furniture()
        .typst("#at(0, 0, rect(width: 210mm, height: 12mm, fill: white))")
        .typst(
            "#at(20, 30, box(width: 40mm, height: 40mm, clip: true, \
             at(-30, -30, rect(width: 100mm, height: 100mm, fill: black))))",
        )
        .pdf();
    assert_eq!(
        failed(&prove(&pdf, "test.pdf", &intended(Vec::new()))),
        [""; 0]
    );
}

#[test]
fn letter_paper_is_not_a4() {
    // ANSI/ASME Y14.1, size A: 8.5 by 11 in.
    let letter = [215.9, 279.4];
    let pdf = Book::new(letter).typst("#at(20, 20)[words]").pdf();
    let proof = prove(&pdf, "test.pdf", &intended(Vec::new()));
    assert_eq!(failed(&proof), ["page-size"]);
    assert!(messages(&proof, "page-size")[0].contains("215.90 by 279.40 mm, not 210 by 297 mm"));
    let mut wanted = intended(Vec::new());
    wanted.page = letter;
    assert_eq!(failed(&prove(&pdf, "test.pdf", &wanted)), [""; 0]);
}

#[test]
fn the_trimmed_page_counts_not_the_sheet_with_bleed() {
    let pdf = Book::new(A4)
        .typst("#set page(bleed: 3mm)")
        .typst("#at(20, 20)[words]")
        .pdf();
    let reading = reading::read(&pdf).unwrap();
    let page = &reading.sheets[0];
    assert!(page.bleed);
    assert!((page.width - 210.0).abs() < 1e-3 && (page.height - 297.0).abs() < 1e-3);
    let ink = page
        .ink
        .iter()
        .map(|i| i.bounds.x0)
        .fold(f64::MAX, f64::min);
    assert!((20.0..20.6).contains(&ink), "{ink}");
}

#[test]
fn a_blank_page_is_reported() {
    let pdf = Book::new(A4)
        .typst("#at(20, 20)[words]")
        .next_page()
        .typst("#at(20, 20, rect(width: 30mm, height: 30mm, fill: white))")
        .next_page()
        .typst("#at(20, 20)[words]")
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(Vec::new()));
    assert_eq!(failed(&proof), ["blank-page"]);
    assert_eq!(super::failures(&proof).next().unwrap().page, Some(2));
}

#[test]
fn a_plate_without_one_of_its_squares_or_with_a_wrong_one_is_reported() {
    let book = |square: &str| {
        Book::new(A4)
            .typst("#at(15, 225, rect(width: 50mm, height: 50mm, stroke: 0.25mm))")
            .typst(square)
            .line(&toe(), Style::Cut, 20.0, 40.0)
            .pdf()
    };
    let wanted = intended(vec![cut("toe", &toe())]);
    let proof = prove(&book(""), "test.pdf", &wanted);
    assert_eq!(
        messages(&proof, "square-missing"),
        ["the test square of 50.8 mm is missing"]
    );
    let off = "#at(69, 225, rect(width: 50.83mm, height: 50.8mm, stroke: 0.25mm))";
    let proof = prove(&book(off), "test.pdf", &wanted);
    assert_eq!(failed(&proof), ["square-off"]);
    assert!(messages(&proof, "square-off")[0].contains("measures 50.8300 by 50.8000 mm"));
}

#[test]
fn a_page_of_text_with_some_frame_of_50_mm_is_no_plate() {
    let pdf = Book::new(A4)
        .typst("#at(20, 20)[words]")
        .typst("#at(20, 40, rect(width: 50.3mm, height: 49.6mm, stroke: 0.25mm))")
        .pdf();
    let proof = prove(&pdf, "test.pdf", &intended(Vec::new()));
    assert_eq!(failed(&proof), [""; 0]);
    assert!(proof.measured.plates.is_empty());
}

#[test]
fn title_language_tags_and_fonts_are_read() {
    let pdf = Book::new(A4).typst("#at(20, 20)[words]").pdf();
    let facts = reading::read(&pdf).unwrap().document;
    assert_eq!(facts.title.as_deref(), Some("Test shoe"));
    assert_eq!(facts.language.as_deref(), Some("en"));
    assert_eq!(facts.pdf_ua.as_deref(), Some("1"));
    assert!(facts.tagged && facts.shows_title);
    assert_eq!(facts.fonts.len(), 1);
    assert!(
        facts
            .fonts
            .iter()
            .all(|(name, embedded)| name.contains("Libertinus") && *embedded)
    );
}

#[test]
fn a_plain_pdf_written_by_hand_lacks_tags_and_fonts() {
    let content = "BT /F 12 Tf 100 700 Td (words) Tj ET";
    let pdf = by_hand("/MediaBox [0 0 595.2756 841.8898]", content);
    let proof = prove(&pdf, "test.pdf", &intended(Vec::new()));
    assert_eq!(failed(&proof), ["pdf-tags", "font-embedded"]);
    assert_eq!(messages(&proof, "pdf-tags").len(), 4);
    assert_eq!(
        messages(&proof, "font-embedded"),
        ["the font Helvetica is not embedded"]
    );
}

#[test]
fn rotation_and_user_unit_are_applied() {
    // ISO 32000-1, table 30: Rotate turns clockwise; UserUnit is the size of a unit in 1/72 in.
    // A rectangle 10 by 20 units, 72 units right of and above the lower left corner.
    let content = "72 72 10 20 re f";
    let boxes = "/MediaBox [0 0 300 400] /UserUnit 2";
    let unit = 2.0 * 25.4 / 72.0;
    let cases = [
        (0, [72.0, 308.0], [300.0, 400.0]),
        (90, [72.0, 72.0], [400.0, 300.0]),
        (180, [218.0, 72.0], [300.0, 400.0]),
        (270, [308.0, 218.0], [400.0, 300.0]),
    ];
    for (angle, corner, size) in cases {
        let pdf = by_hand(&format!("{boxes} /Rotate {angle}"), content);
        let page = &reading::read(&pdf).unwrap().sheets[0];
        let near = |a: f64, b: f64| (a - b * unit).abs() < 1e-9;
        assert!(
            near(page.width, size[0]) && near(page.height, size[1]),
            "{angle}"
        );
        let ink = page.ink[0].bounds;
        assert!(
            near(ink.x0, corner[0]) && near(ink.y0, corner[1]),
            "{angle}: {ink:?}"
        );
    }
}

/// A PDF of one page, after ISO 32000-1, annex H.
fn by_hand(page: &str, content: &str) -> Vec<u8> {
    let objects = [
        "<< /Type /Catalog /Pages 2 0 R >>".to_string(),
        "<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_string(),
        format!(
            "<< /Type /Page /Parent 2 0 R {page} /Contents 4 0 R \
             /Resources << /Font << /F 5 0 R >> >> >>"
        ),
        format!(
            "<< /Length {} >>\nstream\n{content}\nendstream",
            content.len()
        ),
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>".to_string(),
    ];
    super::broken::assembled(&objects)
}
