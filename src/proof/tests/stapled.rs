//! Sheets laid out by hand in Typst, against their pages.

use super::press::Book;
use super::{failed, messages};
use crate::proof::stapled::{IntendedStapled, folded, prove_stapled};
use lopdf::{Dictionary, Document, Object};

const WANTED: IntendedStapled = IntendedStapled {
    trimmed: [200.0, 100.0],
    creep: 0.13,
    book: None,
};

#[test]
fn folding_gives_the_imposition_table() {
    // Saddle stitch of 16 pages, plain arithmetic: 16·1 / 2·15, 14·3 / 4·13, 12·5 / 6·11, 10·7 / 8·9.
    let table = [
        [16, 1],
        [2, 15],
        [14, 3],
        [4, 13],
        [12, 5],
        [6, 11],
        [10, 7],
        [8, 9],
    ];
    assert_eq!(folded(4), table.map(|pair| pair.map(|page| page - 1)));
}

/// Four pages of 100 x 100 mm, each with a square of another size.
fn pages() -> Vec<u8> {
    let mut book = Book::new([100.0, 100.0]);
    for (index, side) in [10, 15, 20, 25].iter().enumerate() {
        let mark = format!("#at(20, 20, rect(width: {side}mm, height: 12mm, fill: black))");
        book = if index == 0 {
            book
        } else {
            book.typst("#pagebreak()")
        };
        book = book.typst(&mark);
    }
    book.pdf()
}

/// What stands outside the trim of a sheet of 200 x 100 mm.
struct Edge {
    /// How much is trimmed off on each side, mm.
    trimmed_off: f64,
    /// Where the marks for folding stand, mm across.
    fold: f64,
}

const RIGHT_EDGE: Edge = Edge {
    trimmed_off: 12.0,
    fold: 100.0,
};

/// One sheet of 200 x 100 mm: on each side squares of these sizes, the second 100.0 mm further.
fn sheet(sides: [[u32; 2]; 2], off: f64) -> Vec<u8> {
    edged_sheet(sides, off, &RIGHT_EDGE)
}

fn edged_sheet(sides: [[u32; 2]; 2], off: f64, edge: &Edge) -> Vec<u8> {
    let bleed = format!("#set page(bleed: {}mm)", edge.trimmed_off);
    let mut book = Book::new([200.0, 100.0]).typst(&bleed);
    for (index, [left, right]) in sides.into_iter().enumerate() {
        let at = |x: f64, y: f64, width: f64, height: f64| {
            format!("#at({x}, {y}, rect(width: {width}mm, height: {height}mm, fill: black))")
        };
        book = if index == 0 {
            book
        } else {
            book.typst("#pagebreak()")
        };
        book = book
            .typst(&at(20.0 + off, 20.0, f64::from(left), 12.0))
            .typst(&at(120.0, 20.0, f64::from(right), 12.0))
            .typst(&at(edge.fold - 0.1, -4.5, 0.2, 4.0))
            .typst(&at(edge.fold - 0.1, 100.5, 0.2, 4.0));
    }
    let mut document = Document::load_mem(&book.pdf()).unwrap();
    let mut wishes = Dictionary::new();
    wishes.set("PrintScaling", Object::Name(b"None".to_vec()));
    wishes.set("DisplayDocTitle", Object::Boolean(true));
    let catalogue = document.catalog_mut().unwrap();
    catalogue.set("ViewerPreferences", Object::Dictionary(wishes));
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).unwrap();
    bytes
}

#[test]
fn fold_marks_beside_the_middle_and_ink_no_printer_reaches_are_told() {
    let pages = pages();
    let proof = |edge: &Edge| {
        let sheet = edged_sheet([[25, 10], [15, 20]], 0.0, edge);
        prove_stapled(&sheet, &pages, "sheets.pdf", &WANTED)
    };
    let askew = Edge {
        fold: 100.1,
        ..RIGHT_EDGE
    };
    assert_eq!(failed(&proof(&askew)), ["fold-mark"]);
    let narrow = Edge {
        trimmed_off: 10.0,
        ..RIGHT_EDGE
    };
    let narrow = proof(&narrow);
    assert_eq!(failed(&narrow), ["ink-margin"]);
    let told = messages(&narrow, "ink-margin");
    assert_eq!(
        told[0],
        "ink is 5.50 mm from the edge of the paper; 7 mm must stay free"
    );
}

#[test]
fn the_creep_of_each_sheet_is_measured() {
    // two sheets of eight pages: the inner one is moved by 0.13 mm, left halves to the right
    let mut book = Book::new([200.0, 100.0]).typst("#set page(bleed: 12mm)");
    let mut single = Book::new([100.0, 100.0]);
    for page in 0..8 {
        let mark = format!(
            "#at(20, 20, rect(width: {}mm, height: 12mm, fill: black))",
            10 + page
        );
        single = if page == 0 {
            single
        } else {
            single.next_page()
        };
        single = single.typst(&mark);
    }
    for (side, [left, right]) in folded(2).into_iter().enumerate() {
        let creep = if side < 2 { 0.0 } else { 0.13 };
        let at = |x: f64, page: usize| {
            format!(
                "#at({x}, 20, rect(width: {}mm, height: 12mm, fill: black))",
                10 + page
            )
        };
        book = if side == 0 { book } else { book.next_page() };
        book = book
            .typst(&at(20.0 + creep, left))
            .typst(&at(120.0 - creep, right));
    }
    let proof = prove_stapled(&book.pdf(), &single.pdf(), "sheets.pdf", &WANTED);
    let passed = proof
        .checks
        .iter()
        .filter(|c| c.code == "stapled-order" && c.passed);
    let told: Vec<&str> = passed.skip(1).map(|c| c.message.as_str()).collect();
    assert_eq!(
        told,
        [
            "pages 8 and 1 are on side 1, moved towards the fold by 0.000 mm",
            "pages 2 and 7 are on side 2, moved towards the fold by 0.000 mm",
            "pages 6 and 3 are on side 3, moved towards the fold by 0.130 mm",
            "pages 4 and 5 are on side 4, moved towards the fold by 0.130 mm",
        ]
    );
}

#[test]
fn a_sheet_that_holds_its_pages_passes_and_swapped_or_moved_ones_do_not() {
    let pages = pages();
    let proof = |sides, off| prove_stapled(&sheet(sides, off), &pages, "sheets.pdf", &WANTED);
    // pages 4 and 1 on the front, 2 and 3 on the back
    let right = proof([[25, 10], [15, 20]], 0.0);
    assert_eq!(failed(&right), [""; 0], "{:?}", right.checks);
    let swapped = proof([[25, 10], [20, 15]], 0.0);
    assert_eq!(failed(&swapped), ["stapled-order"]);
    assert_eq!(
        messages(&swapped, "stapled-order"),
        ["side 2 holds pages 3 and 2; folded, it should hold 2 and 3"]
    );
    let moved = proof([[25, 10], [15, 20]], 0.05);
    assert_eq!(failed(&moved), ["stapled-page"]);
}

#[test]
fn half_a_sheet_too_few_is_told() {
    let proof = prove_stapled(&pages(), &pages(), "sheets.pdf", &WANTED);
    assert!(failed(&proof).contains(&"stapled-order"));
}
