//! Which pages of a plate set a buyer prints for one size, and for which cloths: told in the booklet.
//! It plans nothing itself; it reads the finished pages.

use super::sheet::Sheet;
use crate::piece::{Piece, SizedPieces};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// The pages of one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SizePages {
    /// Key of the size.
    pub size: String,
    /// The size as printed.
    pub title: String,
    /// Its pages, counted from 0 among those of the set.
    pub sheets: Vec<usize>,
    /// Numbers of its plates.
    pub plates: Vec<usize>,
    /// Its pages by the cloths that the pieces on them are cut from.
    pub groups: Vec<GroupPages>,
    /// Titles of other sizes on the same pages.
    pub shared: Vec<String>,
    /// Whether those are drawn over its own pieces.
    pub nested: bool,
}

/// The pages with pieces of one set of cloths.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GroupPages {
    /// Printed names of the cloths.
    pub cloths: Vec<String>,
    /// The pages, counted from 0.
    pub sheets: Vec<usize>,
}

/// Number of the set of cloths that `piece` is cut from, among those of `pieces`, by first use.
pub fn group(piece: &Piece, pieces: &[&Piece]) -> usize {
    let own = materials(piece);
    let mut sets: Vec<BTreeSet<&str>> = Vec::new();
    for other in pieces.iter().copied() {
        let set = materials(other);
        if !sets.contains(&set) {
            sets.push(set);
        }
    }
    sets.iter()
        .position(|set| *set == own)
        .unwrap_or(sets.len())
}

fn materials(piece: &Piece) -> BTreeSet<&str> {
    piece.cuts.iter().map(|cut| cut.material.as_str()).collect()
}

/// The plan of `sheets`, which hold the pieces of `sizes`; `cloth` gives names to keys of cloth.
pub fn plan(sheets: &[Sheet], sizes: &[SizedPieces], cloth: &[(String, String)]) -> Vec<SizePages> {
    let of = |size: &SizedPieces| {
        let own: Vec<usize> = pages(sheets, |s, _| s == size.size);
        let mut plates: Vec<usize> = own.iter().map(|i| sheets[*i].plate).collect();
        plates.dedup();
        let there = |other: &&SizedPieces| {
            other.size != size.size
                && pages(sheets, |s, _| s == other.size)
                    .iter()
                    .any(|page| own.contains(page))
        };
        let mut own_pieces = sheets.iter().flat_map(|s| &s.pieces);
        SizePages {
            nested: own_pieces.any(|p| p.sizes.len() > 1 && p.sizes.contains(&size.size)),
            size: size.size.clone(),
            title: size.title.clone(),
            plates,
            groups: groups(sheets, size, cloth),
            shared: sizes
                .iter()
                .filter(there)
                .map(|s| s.title.clone())
                .collect(),
            sheets: own,
        }
    };
    sizes.iter().map(of).collect()
}

/// Pages that hold a piece (size, key) of which `wanted` is true.
fn pages(sheets: &[Sheet], wanted: impl Fn(&str, &str) -> bool) -> Vec<usize> {
    let holds = |sheet: &Sheet| {
        let mut pieces = sheet.pieces.iter();
        pieces.any(|p| p.sizes.iter().any(|size| wanted(size, &p.piece)))
    };
    (0..sheets.len()).filter(|i| holds(&sheets[*i])).collect()
}

fn groups(sheets: &[Sheet], size: &SizedPieces, cloth: &[(String, String)]) -> Vec<GroupPages> {
    let mut groups: Vec<GroupPages> = Vec::new();
    let mut seen: Vec<BTreeSet<&str>> = Vec::new();
    for piece in &size.pieces {
        let set = materials(piece);
        if seen.contains(&set) {
            continue;
        }
        seen.push(set.clone());
        let names = cloth.iter().filter(|c| set.contains(c.0.as_str()));
        let own: Vec<&str> = size
            .pieces
            .iter()
            .filter(|p| materials(p) == set)
            .map(|p| p.key.as_str())
            .collect();
        groups.push(GroupPages {
            cloths: names.map(|c| c.1.clone()).collect(),
            sheets: pages(sheets, |s, p| s == size.size && own.contains(&p)),
        });
    }
    groups
}

impl SizePages {
    /// As data for the template.
    pub fn data(&self) -> Value {
        let group = |g: &GroupPages| json!({"cloths": g.cloths, "sheets": g.sheets});
        json!({
            "size": self.size,
            "title": self.title,
            "sheets": self.sheets,
            "plates": self.plates,
            "groups": self.groups.iter().map(group).collect::<Vec<_>>(),
            "shared": self.shared,
            "nested": self.nested,
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::piece::{Cut, Piece};
    use crate::plates::fixtures::{board, job, size};
    use crate::plates::plan;

    fn of(mut piece: Piece, material: &str) -> Piece {
        piece.cuts = vec![Cut {
            material: material.into(),
            count: 1,
            mirrored: false,
        }];
        piece
    }

    #[test]
    fn cloths_are_kept_apart_where_that_costs_no_plate() {
        // 4 boards of 80 x 70 mm fill a plate (2 columns, 2 rows within 180 x 171 mm): four of each
        // cloth, given in turns, are two plates either way
        let turns = ["outer", "lining"];
        let boards = (1..=8).map(|i| {
            let plain = board(i, &format!("b{i}"), 80.0, 70.0);
            of(plain, turns[i % 2])
        });
        let set = plan(&[size("one", "One size", "", boards.collect())], &job("a4"))
            .expect("the boards fit");
        assert_eq!(set.page_count(), 2);
        let [one] = set.plan() else {
            panic!("one size")
        };
        assert_eq!(one.sheets, [0, 1]);
        let mut pages: Vec<_> = one.groups.iter().map(|g| g.sheets.clone()).collect();
        pages.sort();
        assert_eq!(pages, [vec![0], vec![1]]);
        assert_eq!(one.groups[0].cloths, ["cotton lawn"]);
    }

    #[test]
    fn sizes_on_one_plate_are_said_to_share_it() {
        let small = size("s", "Small", "", vec![board(1, "a", 60.0, 40.0)]);
        let large = size("l", "Large", "", vec![board(1, "a", 70.0, 50.0)]);
        let set = plan(&[small, large], &job("a4")).expect("the boards fit");
        let [s, l] = set.plan() else {
            panic!("two sizes")
        };
        assert_eq!((&s.sheets[..], &l.sheets[..]), (&[0][..], &[0][..]));
        assert_eq!(
            (&s.shared[..], &l.shared[..]),
            (&["Large".to_string()][..], &["Small".to_string()][..])
        );
    }
}
