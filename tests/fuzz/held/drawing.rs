//! SVG drawings: of a piece, of the outlines of feet, and as a picture.

use super::rings;
use super::said::can_be_told;
use kurbo::BezPath;
use pressfoot::booklet::drawn_picture;
use pressfoot::design::drawing;
use pressfoot::diagnostic::{Diagnostics, SourceText};
use pressfoot::geometry::{Corner, Edge, Outline, curve, cut_line};
use pressfoot::trace;
use std::sync::Arc;

/// A turn of more than this, degrees, parts two edges.
const CORNER: f64 = 10.0;

/// Reads the drawing in `bytes` in all three ways.
pub fn check(bytes: &[u8]) {
    if let Ok([width, height]) = drawn_picture::size(bytes) {
        assert!(width > 0.0 && height > 0.0, "{width} by {height}");
        assert!(width.is_finite() && height.is_finite());
    }
    let mut said = Diagnostics::default();
    match trace::drawing::trace("foot.svg", bytes, None, &mut said) {
        Some(sheet) => sheet.shapes.iter().for_each(super::tracing::is_sound),
        None => assert!(said.has_errors(), "refused without a word"),
    }
    can_be_told(&said);
    if let Ok(text) = std::str::from_utf8(bytes) {
        piece(text);
    }
}

/// The drawing as one of a piece, with an allowance round it.
fn piece(text: &str) {
    let source = Arc::new(SourceText {
        path: "drawings/piece.svg".to_string(),
        text: text.to_string(),
    });
    let mut said = Diagnostics::default();
    match drawing::path(&source, "outline") {
        Ok(path) => {
            assert!(drawing::place_of(&source, "outline").is_some());
            cut(&path);
        }
        Err(refused) => said.push(refused),
    }
    can_be_told(&said);
}

fn cut(path: &BezPath) {
    let stretches = curve::corners(path, CORNER).into_iter().enumerate();
    let edges = stretches.map(|(number, curve)| Edge::new(format!("edge {number}"), curve));
    let Ok(outline) = Outline::new(edges.collect()) else {
        return;
    };
    // what a page never shows
    let bounds = outline.bounds();
    if bounds.width().max(bounds.height()) > 1e4 || outline.check_simple().is_err() {
        return;
    }
    let count = outline.edges().len();
    let corners = vec![Corner::Mitre { limit: 3.0 }; count];
    if let Ok(line) = cut_line(&outline, &vec![5.0; count], &corners, 1e-3) {
        rings::lies_round(&line, &outline);
    }
}
