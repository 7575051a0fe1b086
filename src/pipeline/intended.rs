//! What the proof is told of a finished file with plates: taken from the pieces and the plan of the plates,
//! never from what was set. Lengths in mm.

use super::finishing::labels;
use super::wording;
use crate::design::Design;
use crate::geometry::units::INCH;
use crate::piece::SizedPieces;
use crate::plates::PlateSet;
use crate::proof::{
    Intended, IntendedBookmark, IntendedLayer, IntendedLine, IntendedOutline, LayerHolds,
};

/// Nothing on a plate may stand nearer to the edge of the paper, mm (common practice: home
/// printers leave up to 6.7 mm unprinted; 10 mm is comfortable).
const PLATE_MARGIN: f64 = 10.0;

/// How far an outline or a side of a test square may be off on paper, mm.
const PAPER_TOLERANCE: f64 = 0.01;

/// What the PDF with `plates`, which hold the pieces of `sizes`, should be found to hold.
pub fn intended(sizes: &[SizedPieces], plates: &PlateSet, design: &Design) -> Intended {
    let words = &design.words;
    let paper = &plates.paper;
    let mut outlines = Vec::new();
    for sized in sizes {
        for piece in &sized.pieces {
            let outline = |line, path| IntendedOutline {
                piece: piece.key.clone(),
                title: piece.title.clone(),
                size: sized.size.clone(),
                line,
                path,
            };
            outlines.push(outline(IntendedLine::Cut, piece.cut_line.clone()));
            if piece.allowances.iter().any(|allowance| *allowance > 1e-9) {
                outlines.push(outline(IntendedLine::Seam, piece.outline.path()));
            }
        }
    }
    Intended {
        page: [paper.width, paper.height],
        outlines,
        squares: vec![50.0, 2.0 * INCH],
        // a large sheet is measured in two corners
        square_sets: if paper.is_large() { 2 } else { 1 },
        margin: PLATE_MARGIN,
        tolerance: PAPER_TOLERANCE,
        layers: Some(intended_layers(sizes, plates)),
        labels: labels(plates, 0, words),
        bookmarks: intended_bookmarks(sizes),
        words: wording::of_plates(sizes, plates, design),
    }
}

/// One layer for each size if there are several, then one for the allowances if there are any.
fn intended_layers(sizes: &[SizedPieces], plates: &PlateSet) -> Vec<IntendedLayer> {
    let several = sizes.len() > 1;
    let of_sizes = sizes.iter().filter(|_| several);
    let holds = of_sizes.map(|sized| LayerHolds::Size(sized.size.clone()));
    let names = plates.layers().into_iter();
    names
        .zip(holds.chain([LayerHolds::Allowances]))
        .map(|(name, holds)| IntendedLayer { name, holds })
        .collect()
}

/// One bookmark for each piece; with several sizes under one for its size.
fn intended_bookmarks(sizes: &[SizedPieces]) -> Vec<IntendedBookmark> {
    let mut all = Vec::new();
    for sized in sizes {
        let mut above = Vec::new();
        if sizes.len() > 1 {
            above.push(sized.title.clone());
            all.push(IntendedBookmark {
                titles: above.clone(),
                size: sized.size.clone(),
                piece: None,
            });
        }
        for piece in &sized.pieces {
            let title = format!("{} {}", piece.number, piece.title);
            all.push(IntendedBookmark {
                titles: [above.as_slice(), &[title]].concat(),
                size: sized.size.clone(),
                piece: Some(piece.key.clone()),
            });
        }
    }
    all
}
