//! What a proof costs.

use super::failed;
use super::press::{A4, Book, Style, cut, intended, many, seam};
use crate::proof::prove;
use kurbo::Shape;
use std::time::Instant;

#[test]
#[allow(
    clippy::print_stderr,
    reason = "the measured time is what this test is run for"
)]
fn a_booklet_of_20_pages_and_60_outlines_is_proofed_at_once() {
    let shapes = many(30);
    let mut book = Book::new(A4);
    for _ in 0..10 {
        book = book
            .typst("#at(20, 20, block(width: 170mm, lorem(600)))")
            .next_page();
    }
    for (index, trio) in shapes.chunks(3).enumerate() {
        if index > 0 {
            book = book.next_page();
        }
        book = book.furniture();
        for (column, shape) in trio.iter().enumerate() {
            let start = shape.bounding_box().origin();
            let x = 15.0 + 62.0 * column as f64 - start.x;
            book = book.line(shape, Style::Cut, x, 25.0 - start.y);
            book = book.line(shape, Style::Seam, x, 120.0 - start.y);
        }
    }
    let began = Instant::now();
    let pdf = book.pdf();
    let built = began.elapsed();
    let outlines = shapes.iter().enumerate().flat_map(|(i, shape)| {
        let name = format!("piece {i}");
        [cut(&name, shape), seam(&name, shape)]
    });
    let wanted = intended(outlines.collect());
    let began = Instant::now();
    let proof = prove(&pdf, "test.pdf", &wanted);
    let proofed = began.elapsed();
    assert_eq!(
        failed(&proof),
        [""; 0],
        "{:?}",
        super::messages(&proof, "ink-margin")
    );
    assert_eq!(proof.measured.pages, 20);
    assert_eq!(proof.measured.outlines.len(), 60);
    eprintln!(
        "{} kB: built in {built:?}, proofed in {proofed:?}",
        pdf.len() / 1000
    );
}
