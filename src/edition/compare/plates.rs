//! The plates of an edition: which are printed again, and which only have another number.

use super::PieceChange;
use crate::edition::record::{Content, PaperRecord, PlacedRecord};
use std::collections::BTreeSet;

/// For each paper the numbers of the plates to print again.
pub(super) fn plates(new: &Content, pieces: &[PieceChange]) -> Vec<(String, Vec<usize>)> {
    let of = |paper: &PaperRecord| (paper.paper.clone(), plates_anew(paper, pieces));
    new.pages.iter().map(of).collect()
}

/// Numbers of the plates of `paper` with pieces that must be printed again.
pub fn plates_anew(paper: &PaperRecord, pieces: &[PieceChange]) -> Vec<usize> {
    let is_anew = |placed: &PlacedRecord| {
        let mut all = pieces.iter();
        all.any(|p| p.size == placed.size && p.piece == placed.piece && p.is_printed_again())
    };
    let numbered = paper.plates.iter().enumerate();
    let anew = numbered.filter(|(_, plate)| plate.iter().any(is_anew));
    anew.map(|(at, _)| at + 1).collect()
}

/// Plates of `new` that need not be printed again and had another number in `old`, the same paper of the
/// older edition: both numbers, the old one first. Each holds the same pieces in both.
pub fn plates_moved(
    old: &PaperRecord,
    new: &PaperRecord,
    pieces: &[PieceChange],
) -> Vec<(usize, usize)> {
    let known_as = |placed: &PlacedRecord| {
        let change = pieces
            .iter()
            .find(|change| change.size == placed.size && change.piece == placed.piece);
        let key = change.map_or(&placed.piece, PieceChange::old_key);
        (placed.size.clone(), key.clone())
    };
    let before: Vec<BTreeSet<(String, String)>> = old
        .plates
        .iter()
        .map(|plate| {
            plate
                .iter()
                .map(|p| (p.size.clone(), p.piece.clone()))
                .collect()
        })
        .collect();
    let anew = plates_anew(new, pieces);
    let mut moved = Vec::new();
    for (at, plate) in new.plates.iter().enumerate() {
        let held: BTreeSet<(String, String)> = plate.iter().map(known_as).collect();
        let is_it = |other: &BTreeSet<(String, String)>| !held.is_empty() && *other == held;
        if anew.contains(&(at + 1)) || before.get(at).is_some_and(is_it) {
            continue;
        }
        moved.extend(
            before
                .iter()
                .position(is_it)
                .map(|other| (other + 1, at + 1)),
        );
    }
    moved
}
