//! Sheets laid out by hand in Typst, against their pages.

use super::press::Book;
use super::{failed, messages};
use crate::proof::stapled::{IntendedStapled, folded, prove_stapled};

const WANTED: IntendedStapled = IntendedStapled {
    trimmed: [200.0, 100.0],
    creep: 0.13,
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

/// One sheet of 200 x 100 mm: on each side squares of these sizes, the second 100.0 mm further.
fn sheet(sides: [[u32; 2]; 2], off: f64) -> Vec<u8> {
    let mut book = Book::new([200.0, 100.0]);
    for (index, [left, right]) in sides.into_iter().enumerate() {
        let at = |x: f64, side: u32| {
            format!("#at({x}, 20, rect(width: {side}mm, height: 12mm, fill: black))")
        };
        book = if index == 0 {
            book
        } else {
            book.typst("#pagebreak()")
        };
        book = book.typst(&at(20.0 + off, left)).typst(&at(120.0, right));
    }
    book.pdf()
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
    assert_eq!(failed(&proof), ["stapled-order"]);
}
