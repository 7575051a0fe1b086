//! What the page of pieces and lines is told: the pieces as they were drawn small, and which lines
//! and marks the design has, so that the key explains no others.

use crate::design::LineKind;
use crate::piece::{MarkKind, Piece, SizedPieces};
use serde_json::{Value, json};

/// A piece drawn small for the key.
#[derive(Debug, Clone, PartialEq)]
pub struct KeyPiece {
    /// Its number in the design.
    pub number: usize,
    /// As printed.
    pub title: String,
    /// How many are cut from what, e.g. `2 wool felt, 2 cotton lawn`.
    pub cuts: String,
    /// Path of the drawing among the booklet's files.
    pub path: String,
    /// The drawing in words.
    pub alt: String,
    /// Width and height of the drawing, mm on paper.
    pub size: [f64; 2],
}

/// Width of the text block, mm.
const BLOCK: f64 = 162.0;
/// Space between two pieces, mm.
const BETWEEN: f64 = 6.0;
/// Height of the tallest piece, mm.
const HIGHEST: f64 = 44.0;

/// Pieces in a row: as many as leave no single one over.
fn across(count: usize) -> usize {
    match count {
        0..=4 => count.max(1),
        _ if count % 3 == 1 => 4,
        _ => 3,
    }
}

/// Room for the drawing of each of `count` pieces, mm: those drawn to fit it are printed at the scale
/// they were drawn at.
pub fn key_room(count: usize) -> [f64; 2] {
    // Not a cast of anything that could be large: at most 4.
    let across = f64::from(u8::try_from(across(count)).unwrap_or(4));
    [BLOCK / across - BETWEEN, HIGHEST]
}

/// The entry `key` of `data.json`. `scale_words` says at which size and scale the pieces are drawn.
pub fn key(pieces: &[KeyPiece], scale_words: &str, sizes: &[SizedPieces]) -> Value {
    let piece = |p: &KeyPiece| {
        json!({
            "number": p.number,
            "title": p.title,
            "cuts": p.cuts,
            "svg": format!("/{}", p.path.trim_start_matches('/')),
            "alt": p.alt,
            "w": p.size[0],
            "h": p.size[1],
        })
    };
    json!({
        "across": across(pieces.len()),
        "scale_words": scale_words,
        "pieces": pieces.iter().map(piece).collect::<Vec<_>>(),
        "lines": lines(sizes),
    })
}

fn lines(sizes: &[SizedPieces]) -> Value {
    let any = |has: &dyn Fn(&Piece) -> bool| sizes.iter().flat_map(|s| &s.pieces).any(has);
    let line = |wanted: LineKind| {
        any(&|piece| {
            piece.marks.iter().any(|mark| match &mark.kind {
                MarkKind::Line { kind, .. } => *kind == wanted,
                MarkKind::Button { .. } => wanted == LineKind::Placement,
                _ => false,
            })
        })
    };
    json!({
        "cut": true,
        "seam": any(&|piece| piece.allowances.iter().any(|allowance| *allowance > 0.0)),
        "fold": any(&|piece| piece.fold.is_some()) || line(LineKind::Fold),
        "stitching": line(LineKind::Stitching),
        "placing": line(LineKind::Placement),
        "grain": any(&|piece| piece.grain.is_some()),
        "notch": any(&|piece| !piece.notches.is_empty()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_row_holds_a_single_piece() {
        for count in 1..60 {
            let row = across(count);
            let last = (count - 1) % row + 1;
            assert!(
                row <= 4 && (last > 1 || count == 1 || count % 12 == 1),
                "{count}"
            );
        }
    }

    #[test]
    fn four_pieces_have_a_quarter_of_the_block_each() {
        assert_eq!(key_room(4), [34.5, 44.0]);
        assert_eq!(key_room(6), [48.0, 44.0]);
        assert_eq!(key_room(0), [156.0, 44.0]);
    }
}
