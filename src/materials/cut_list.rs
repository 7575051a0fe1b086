//! The cut list: for each cloth the pieces, how many of each, and how they lie.

use crate::design::Design;
use crate::language::Words;
use crate::piece::SizedPieces;
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
    /// How they lie, in words; empty if there is nothing to say of any piece of the cloth.
    pub how: String,
    /// Titles of the sizes that have the piece, if not all do.
    pub sizes: Vec<String>,
}

/// The cut list in the order of the design's cloths; a cloth of which nothing is cut is left out.
pub fn cut_list(design: &Design, sizes: &[SizedPieces]) -> Vec<ClothCuts> {
    let mut list = Vec::new();
    for cloth in &design.cloth {
        let mut rows: Vec<CutRow> = design
            .pieces
            .iter()
            .flat_map(|spec| rows(design, &spec.key, &cloth.key, sizes))
            .collect();
        tell_the_plain(&mut rows, &design.words);
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

/// The rows of one piece: one if it is cut alike in all sizes that have it. Sizes for the left and the
/// right foot share a row: both together are cut as often as a mirrored pair.
fn rows(design: &Design, piece: &str, cloth: &str, sizes: &[SizedPieces]) -> Vec<CutRow> {
    let mut rows: Vec<CutRow> = Vec::new();
    let each_foot = design.sizes.iter().any(|size| size.only.is_some());
    for (size, sized) in design.sizes.iter().zip(sizes) {
        let found = sized.pieces.iter().find(|p| p.key == piece);
        let cut = found.and_then(|p| Some((p, p.cuts.iter().find(|c| c.material == cloth)?)));
        let Some((piece, cut)) = cut else {
            continue;
        };
        let (count, mirrored) = match size.only {
            Some(_) => (2 * cut.count, true),
            None => (cut.count, cut.mirrored),
        };
        let alike = |row: &&mut CutRow| row.count == count && row.mirrored == mirrored;
        match rows.iter_mut().find(alike) {
            Some(row) => row.sizes.push(sized.title.clone()),
            None => rows.push(CutRow {
                piece: piece.key.clone(),
                number: piece.number,
                title: piece.title.clone(),
                count,
                mirrored,
                on_fold: piece.fold.is_some(),
                how: how(count, mirrored, piece.fold.is_some(), &design.words),
                sizes: vec![sized.title.clone()],
            }),
        }
    }
    for row in &mut rows {
        // Where some feet have patterns of their own, every pair is one right and one left.
        if row.mirrored && each_foot {
            let each = row.count as usize / 2;
            row.how = design.words.count("materials.pair", each, &[]);
        }
        if row.sizes.len() == sizes.len() {
            row.sizes.clear();
        }
    }
    rows
}

/// Beside pieces that lie in a way of their own the others are told too: nothing would read as forgotten.
fn tell_the_plain(rows: &mut [CutRow], words: &Words) {
    let is_told = |row: &CutRow| !row.how.is_empty() || !row.sizes.is_empty();
    if !rows.iter().any(is_told) {
        return;
    }
    for row in rows.iter_mut().filter(|row| !is_told(row)) {
        row.how = words.get("materials.as drawn").to_string();
    }
}

/// In words: `1 of them turned over`, `on the fold`.
fn how(count: u32, mirrored: bool, on_fold: bool, words: &Words) -> String {
    let half = count as usize / 2;
    let turned = mirrored.then(|| words.count("materials.turned", half, &[]));
    let fold = on_fold.then(|| words.get("materials.on fold").to_string());
    fold.into_iter()
        .chain(turned)
        .collect::<Vec<_>>()
        .join(", ")
}

#[cfg(test)]
mod tests {
    use super::{CutRow, how, tell_the_plain};
    use crate::language::Words;

    #[test]
    fn plain_pieces_are_told_where_others_are() {
        let row = |how: &str, sizes: &[&str]| CutRow {
            piece: "a".into(),
            number: 1,
            title: "A".into(),
            count: 1,
            mirrored: false,
            on_fold: false,
            how: how.into(),
            sizes: sizes.iter().map(ToString::to_string).collect(),
        };
        let told = |mut rows: Vec<CutRow>| -> Vec<String> {
            tell_the_plain(&mut rows, &Words::default());
            rows.into_iter().map(|row| row.how).collect()
        };
        let plain = || row("", &[]);
        assert_eq!(
            told(vec![plain(), row("on the fold", &[])]),
            ["as drawn", "on the fold"]
        );
        assert_eq!(told(vec![plain(), plain()]), ["", ""]);
        // "only in Small" says enough
        assert_eq!(told(vec![row("", &["Small"]), plain()]), ["", "as drawn"]);
    }

    #[test]
    fn a_pair_says_that_one_is_turned_over() {
        assert_eq!(
            how(2, true, false, &Words::default()),
            "one of them turned over"
        );
        assert_eq!(
            how(4, true, false, &Words::default()),
            "2 of them turned over"
        );
        assert_eq!(how(1, false, true, &Words::default()), "on the fold");
        assert_eq!(how(2, false, false, &Words::default()), "");
    }
}
