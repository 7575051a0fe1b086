//! What moved from one edition to another: sizes, pieces, seams, materials, pages, text, pictures and
//! the look. Lengths in mm.

mod json;
mod pieces;
mod plates;
mod renamed;
mod texts;

pub use json::to_json;
pub use pieces::{EdgeChange, PieceChange, SeamChange};
pub use plates::{plates_anew, plates_moved};
pub use texts::{Kind, TextChange};

use super::record::{Content, FitRecord, HOUSE, HOUSE_WORDS, Listed, PaperRecord};
use super::version::Change;
use std::collections::{BTreeMap, BTreeSet};

/// All that differs between two contents.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Comparison {
    /// Titles of sizes that are new.
    pub sizes_added: Vec<String>,
    /// Titles of sizes that are there no more.
    pub sizes_removed: Vec<String>,
    /// Pieces of the sizes that both have, in the order of the new one.
    pub pieces: Vec<PieceChange>,
    /// Seams whose lengths or sides differ.
    pub seams: Vec<SeamChange>,
    /// What is bought or used otherwise.
    pub materials: Vec<ListChange>,
    /// Fit corrections that the old one had not.
    pub fit: Vec<FitRecord>,
    /// Chapters, steps and other words.
    pub text: Vec<TextChange>,
    /// Pictures, by path.
    pub pictures: Vec<HashChange>,
    /// Templates and typefaces, by path.
    pub look: Vec<HashChange>,
    /// Keys of the design's files that say something else, which may move nothing.
    pub keys: Vec<HashChange>,
    /// Papers, forms and languages that are sold, where they differ: old and new.
    pub sold: Vec<(&'static str, Vec<String>, Vec<String>)>,
    /// Pages by paper: old and new.
    pub pages: Vec<(String, usize, usize)>,
    /// Numbers of the plates, of the new one, with pieces whose lines differ, by paper.
    pub plates: Vec<(String, Vec<usize>)>,
    /// Plates that only have another number, by paper: the old one and the new one.
    pub plates_renumbered: Vec<(String, Vec<(usize, usize)>)>,
}

/// Something to buy whose words differ.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListChange {
    /// What it is: `cloth outer`.
    pub what: String,
    /// Words that are there no more.
    pub old: Vec<String>,
    /// Words that are new.
    pub new: Vec<String>,
}

/// Something known by its hash.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HashChange {
    /// Path or key.
    pub name: String,
    /// Whether it came, went or changed.
    pub kind: Kind,
}

/// What differs from `old` to `new`.
pub fn compare(old: &Content, new: &Content) -> Comparison {
    let as_kept = old;
    let (old, names) = renamed::carried(old, new);
    let old = &old;
    let has = |content: &Content, key: &str| content.sizes.iter().any(|s| s.size == key);
    let added = new.sizes.iter().filter(|size| !has(old, &size.size));
    let removed = old.sizes.iter().filter(|size| !has(new, &size.size));
    let pieces = pieces::pieces(old, new, &names);
    let hashes = |groups: &[&str]| -> Vec<HashChange> {
        groups
            .iter()
            .flat_map(|group| hashed(old, new, group))
            .collect()
    };
    Comparison {
        sizes_added: added.map(|size| size.title.clone()).collect(),
        sizes_removed: removed.map(|size| size.title.clone()).collect(),
        seams: pieces::seams(old, new),
        materials: materials(old, new),
        fit: new
            .fit
            .iter()
            .filter(|f| !has_fit(old, f))
            .cloned()
            .collect(),
        text: texts::texts(old, new),
        pictures: hashes(&["pictures"]),
        look: hashes(&["look"]),
        keys: hashes(&["design", "files"]),
        sold: sold(old, new),
        pages: pages(old, new),
        plates: plates::plates(new, &pieces),
        plates_renumbered: plates_renumbered(as_kept, new, &pieces),
        pieces,
    }
}

fn has_fit(content: &Content, fit: &FitRecord) -> bool {
    content.fit.iter().any(|other| other.is_same(fit))
}

fn materials(old: &Content, new: &Content) -> Vec<ListChange> {
    let words = |content: &Content, what: &str| -> Vec<String> {
        let found = content.materials.iter().find(|listed| listed.what == what);
        found.map_or(Vec::new(), |listed| listed.words.clone())
    };
    let gone = |listed: &&Listed| !new.materials.iter().any(|other| other.what == listed.what);
    let all = new
        .materials
        .iter()
        .chain(old.materials.iter().filter(gone));
    let mut changes = Vec::new();
    for listed in all {
        let (before, after) = (words(old, &listed.what), words(new, &listed.what));
        if before == after {
            continue;
        }
        let only = |own: &[String], other: &[String]| -> Vec<String> {
            own.iter()
                .filter(|word| !other.contains(word))
                .cloned()
                .collect()
        };
        changes.push(ListChange {
            what: listed.what.clone(),
            old: only(&before, &after),
            new: only(&after, &before),
        });
    }
    changes
}

/// What differs in a group of hashes. The words that pressfoot prints and its templates count once.
fn hashed(old: &Content, new: &Content, group: &str) -> Vec<HashChange> {
    let empty = BTreeMap::new();
    let of = |content: &'_ Content| content.hashes.get(group).cloned().unwrap_or(empty.clone());
    let (before, after) = (of(old), of(new));
    let names: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let change = |name: &String| {
        let kind = match (before.get(name), after.get(name)) {
            (None, _) => Kind::Added,
            (_, None) => Kind::Removed,
            (a, b) if a == b => return None,
            _ => Kind::Changed,
        };
        Some(HashChange {
            name: name.clone(),
            kind,
        })
    };
    names.into_iter().filter_map(change).collect()
}

fn sold(old: &Content, new: &Content) -> Vec<(&'static str, Vec<String>, Vec<String>)> {
    let (a, b) = (&old.sold, &new.sold);
    let all = [
        ("papers", &a.papers, &b.papers),
        ("forms", &a.forms, &b.forms),
        ("languages", &a.languages, &b.languages),
    ];
    let differ = all.into_iter().filter(|(_, before, after)| before != after);
    differ
        .map(|(what, before, after)| (what, before.clone(), after.clone()))
        .collect()
}

fn pages(old: &Content, new: &Content) -> Vec<(String, usize, usize)> {
    let of = |paper: &PaperRecord| {
        let before = old.pages.iter().find(|p| p.paper == paper.paper)?;
        let differ = before.pages != paper.pages;
        differ.then(|| (paper.paper.clone(), before.pages, paper.pages))
    };
    new.pages.iter().filter_map(of).collect()
}

fn plates_renumbered(
    old: &Content,
    new: &Content,
    pieces: &[PieceChange],
) -> Vec<(String, Vec<(usize, usize)>)> {
    let of = |paper: &PaperRecord| {
        let before = old.pages.iter().find(|p| p.paper == paper.paper)?;
        let moved = plates_moved(before, paper, pieces);
        (!moved.is_empty()).then(|| (paper.paper.clone(), moved))
    };
    new.pages.iter().filter_map(of).collect()
}

impl Comparison {
    /// Whether nothing that is printed differs.
    pub fn is_same(&self) -> bool {
        self.change() == Change::Nothing
    }

    /// Whether nothing of the design differs; pressfoot's own templates and words may.
    pub fn is_same_design(&self) -> bool {
        self.besides_look() == Change::Nothing && self.look.iter().all(is_of_the_house)
    }

    /// How much differs: what the number of a next edition should tell.
    pub fn change(&self) -> Change {
        match self.besides_look() {
            Change::Nothing if !self.look.is_empty() => Change::Words,
            change => change,
        }
    }

    /// How much differs besides the look.
    fn besides_look(&self) -> Change {
        let gone = |piece: &PieceChange| piece.kind == Kind::Removed;
        if !self.sizes_removed.is_empty() || self.pieces.iter().any(gone) {
            return Change::Removed;
        }
        let moved = !self.sizes_added.is_empty()
            || self.pieces.iter().any(PieceChange::is_drawn_anew)
            || !self.seams.is_empty()
            || !self.materials.is_empty();
        if moved {
            return Change::Geometry;
        }
        let same = self.pieces.is_empty()
            && self.text.is_empty()
            && self.pictures.is_empty()
            && self.keys.is_empty()
            && self.sold.is_empty();
        match same {
            true => Change::Nothing,
            false => Change::Words,
        }
    }
}

/// Whether it is a part of the look that comes with the program.
fn is_of_the_house(change: &HashChange) -> bool {
    change.name == HOUSE || change.name.starts_with(HOUSE_WORDS)
}

#[cfg(test)]
mod tests;
