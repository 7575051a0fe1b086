//! The pieces shown together, as the booklet's list of pieces wants them: data and drawings.

use super::key::key;
use crate::language::Words;
use crate::piece::{Notch, Piece, SizedPieces};
use crate::plates::notch::LEAST_ALLOWANCE;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Width of the room of one piece in the list, three beside each other, or four where one would else
/// stand alone, mm.
const ACROSS: f64 = 50.0;
/// Its height where the pieces stand in one row, in two, in three and in more, mm: the list and the key
/// to lines fill a page, and no more.
const DOWN: [f64; 4] = [74.0, 50.0, 38.0, 30.0];

/// The list of pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Listing {
    /// Data for the template.
    pub data: Value,
    /// The drawings the data name.
    pub files: BTreeMap<String, Vec<u8>>,
}

/// All pieces of the last size, at one scale. `cloth` gives the printed name of each cloth.
pub fn listing(sizes: &[SizedPieces], cloth: &[(String, String)], words: &Words) -> Listing {
    let Some(sized) = sizes.last() else {
        return Listing {
            data: Value::Null,
            files: BTreeMap::new(),
        };
    };
    let list: Vec<&Piece> = sized.pieces.iter().collect();
    let across = if list.len() % 3 == 1 { 4 } else { 3 };
    let rows = list.len().div_ceil(across).clamp(1, DOWN.len());
    let figures = key(&list, ACROSS, DOWN[rows - 1], words);
    let scale = figures.first().map_or(1.0, |figure| figure.scale);
    let size = (sizes.len() > 1).then(|| words.size(&sized.title));
    let mut files = BTreeMap::new();
    let mut rows = Vec::new();
    for (piece, figure) in list.iter().zip(figures) {
        let path = format!("key/{}.svg", piece.number);
        rows.push(json!({
            "number": piece.number,
            "title": piece.title,
            "cuts": cuts(piece, cloth),
            "svg": format!("/{path}"),
            "alt": figure.alt,
            "w": figure.width,
            "h": figure.height,
        }));
        files.insert(path, figure.svg);
    }
    Listing {
        data: json!({"scale": scale, "size": size, "pieces": rows, "lines": lines(sizes)}),
        files,
    }
}

/// `2 wool felt, 2 cotton lawn`.
fn cuts(piece: &Piece, cloth: &[(String, String)]) -> String {
    let name = |key: &str| {
        cloth
            .iter()
            .find(|(k, _)| k == key)
            .map_or("", |(_, name)| name)
    };
    let words = piece
        .cuts
        .iter()
        .map(|cut| format!("{} {}", cut.count, name(&cut.material)));
    words.collect::<Vec<_>>().join(", ")
}

/// Which lines the pieces carry: the key explains no others.
fn lines(sizes: &[SizedPieces]) -> Value {
    use crate::design::LineKind;
    use crate::piece::MarkKind;
    let pieces = || sizes.iter().flat_map(|sized| &sized.pieces);
    let line = |wanted: LineKind| {
        pieces()
            .flat_map(|piece| &piece.marks)
            .any(|mark| matches!(&mark.kind, MarkKind::Line { kind, .. } if *kind == wanted))
    };
    let mark = |wanted: fn(&MarkKind) -> bool| {
        pieces()
            .flat_map(|piece| &piece.marks)
            .any(|mark| wanted(&mark.kind))
    };
    let button = |piece: &Piece| {
        piece
            .marks
            .iter()
            .any(|mark| matches!(mark.kind, MarkKind::Button { .. }))
    };
    let notch = |wanted: fn(&Notch) -> bool| {
        let mut all = pieces().flat_map(|piece| &piece.notches);
        all.any(wanted)
    };
    json!({
        "cut": true,
        "seam": pieces().any(|piece| piece.allowances.iter().any(|a| *a > 1e-9)),
        "fold": line(LineKind::Fold) || pieces().any(|piece| piece.fold.is_some()),
        "crease": line(LineKind::Fold),
        "on fold": pieces().any(|piece| piece.fold.is_some()),
        "stitching": line(LineKind::Stitching),
        "placing": line(LineKind::Placement) || pieces().any(button),
        "button": pieces().any(button),
        "grain": pieces().any(|piece| piece.grain.is_some()),
        "opening": mark(|kind| matches!(kind, MarkKind::Hole { .. } | MarkKind::Eyelet { .. })),
        "buttonhole": mark(|kind| matches!(kind, MarkKind::Buttonhole { .. })),
        "notch": notch(|_| true),
        "centre": notch(|notch| notch.centre),
        "tick": notch(|notch| notch.allowance < LEAST_ALLOWANCE),
    })
}
