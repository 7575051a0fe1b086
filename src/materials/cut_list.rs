//! The cut list: for each cloth the pieces, how many of each, and how they lie.

use crate::design::Design;
use crate::piece::{Piece, SizedPieces};
use serde::Serialize;

/// What is cut from one cloth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClothCuts {
    /// Cloth key.
    pub key: String,
    /// Cloth as printed.
    pub cloth: String,
    /// The pieces in the order of their numbers.
    pub rows: Vec<CutRow>,
    /// Sum of the counts: how many pieces lie on the table in the end.
    pub count: u32,
}

/// One piece of a cut list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CutRow {
    /// Piece key.
    pub piece: String,
    /// Piece number.
    pub number: usize,
    /// Piece as printed.
    pub title: String,
    /// How many in all.
    pub count: u32,
    /// Half of them with the pattern turned over.
    pub mirrored: bool,
    /// Cut with an edge on the fold of the cloth.
    pub on_fold: bool,
    /// How they lie, in words; empty if there is nothing to say.
    pub how: String,
    /// Titles of the sizes that have the piece, if not all do.
    pub sizes: Vec<String>,
}

/// The cut list in the order of the design's cloths; a cloth of which nothing is cut is left out.
pub fn cut_list(design: &Design, sizes: &[SizedPieces]) -> Vec<ClothCuts> {
    let mut list = Vec::new();
    for cloth in &design.cloth {
        let rows: Vec<CutRow> = design
            .pieces
            .iter()
            .filter_map(|spec| row(&spec.key, &cloth.key, sizes))
            .collect();
        if !rows.is_empty() {
            let count = rows.iter().map(|r| r.count).sum();
            list.push(ClothCuts {
                key: cloth.key.clone(),
                cloth: cloth.name.clone(),
                rows,
                count,
            });
        }
    }
    list
}

fn row(piece: &str, cloth: &str, sizes: &[SizedPieces]) -> Option<CutRow> {
    let in_size = |sized: &SizedPieces| -> Option<Piece> {
        let found = sized.pieces.iter().find(|p| p.key == piece)?;
        found
            .cuts
            .iter()
            .any(|c| c.material == cloth)
            .then(|| found.clone())
    };
    let having: Vec<&SizedPieces> = sizes.iter().filter(|s| in_size(s).is_some()).collect();
    let piece = having.first().and_then(|s| in_size(s))?;
    let cut = piece.cuts.iter().find(|c| c.material == cloth)?;
    let all = having.len() == sizes.len();
    Some(CutRow {
        piece: piece.key.clone(),
        number: piece.number,
        title: piece.title.clone(),
        count: cut.count,
        mirrored: cut.mirrored,
        on_fold: piece.fold.is_some(),
        how: how(cut.count, cut.mirrored, piece.fold.is_some()),
        sizes: if all {
            Vec::new()
        } else {
            having.iter().map(|s| s.title.clone()).collect()
        },
    })
}

/// In words: `1 of them turned over`, `on the fold`.
fn how(count: u32, mirrored: bool, on_fold: bool) -> String {
    let turned = match count / 2 {
        _ if !mirrored => None,
        1 if count == 2 => Some("one of them turned over".to_string()),
        half => Some(format!("{half} of them turned over")),
    };
    let fold = on_fold.then(|| "on the fold".to_string());
    fold.into_iter()
        .chain(turned)
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests {
    use super::how;

    #[test]
    fn a_pair_says_that_one_is_turned_over() {
        assert_eq!(how(2, true, false), "one of them turned over");
        assert_eq!(how(4, true, false), "2 of them turned over");
        assert_eq!(how(1, false, true), "on the fold");
        assert_eq!(how(2, false, false), "");
    }
}
