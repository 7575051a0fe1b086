//! Pieces that have another key in the newer edition, and are otherwise the same: known by their outlines.

use super::pieces::is_same_piece;
use crate::edition::record::{Content, PieceRecord};
use std::collections::BTreeMap;

/// The older content with the keys that the newer one has for the same pieces, and those keys: the newer
/// one, and the older one that stood for it.
pub(super) fn carried(old: &Content, new: &Content) -> (Content, BTreeMap<String, String>) {
    let names = names(old, new);
    let mut content = old.clone();
    for (key, before) in &names {
        rename(&mut content, before, key);
    }
    (content, names)
}

/// Keys of pieces, each once, in the order in which they first stand.
fn keys(content: &Content) -> Vec<&str> {
    let mut keys = Vec::new();
    for piece in content.sizes.iter().flat_map(|size| &size.pieces) {
        if !keys.contains(&piece.piece.as_str()) {
            keys.push(piece.piece.as_str());
        }
    }
    keys
}

/// Which keys came for keys that went. Of several pieces with one outline, those agree first that have the
/// same title, then those with the same number.
fn names(old: &Content, new: &Content) -> BTreeMap<String, String> {
    let (before, after) = (keys(old), keys(new));
    let mut gone: Vec<&str> = before.clone();
    gone.retain(|key| !after.contains(key));
    let mut came: Vec<&str> = after;
    came.retain(|key| !before.contains(key));
    let mut names = BTreeMap::new();
    let alike: [fn(&PieceRecord, &PieceRecord) -> bool; 3] = [
        |a, b| a.title == b.title,
        |a, b| a.number == b.number,
        |_, _| true,
    ];
    for is_alike in alike {
        came.retain(|key| {
            let found = gone
                .iter()
                .position(|other| is_one((old, other), (new, key), is_alike));
            let Some(at) = found else {
                return true;
            };
            names.insert((*key).to_string(), gone.remove(at).to_string());
            false
        });
    }
    names
}

/// Whether the piece is the same in every size, of which there is at least one that both have.
fn is_one(
    (old, old_key): (&Content, &str),
    (new, new_key): (&Content, &str),
    is_alike: fn(&PieceRecord, &PieceRecord) -> bool,
) -> bool {
    let mut shared = 0;
    for size in &new.sizes {
        let Some(before) = old.sizes.iter().find(|other| other.size == size.size) else {
            continue;
        };
        let one = before.pieces.iter().find(|piece| piece.piece == old_key);
        let other = size.pieces.iter().find(|piece| piece.piece == new_key);
        match (one, other) {
            (Some(one), Some(other)) if is_alike(one, other) && is_same_piece(one, other) => {
                shared += 1;
            }
            (None, None) => {}
            _ => return false,
        }
    }
    shared > 0
}

/// Gives the piece `before` the key `key`, wherever it is named.
fn rename(content: &mut Content, before: &str, key: &str) {
    let dotted = format!("{before}.");
    let renamed = |word: &str| match word.strip_prefix(&dotted) {
        Some(edge) => format!("{key}.{edge}"),
        None => word.to_string(),
    };
    for size in &mut content.sizes {
        for piece in size.pieces.iter_mut().filter(|piece| piece.piece == before) {
            piece.piece = key.to_string();
        }
        for seam in &mut size.seams {
            let words: Vec<String> = seam.seam.split(' ').map(renamed).collect();
            seam.seam = words.join(" ");
            seam.joins = seam.joins.each_ref().map(|side| renamed(side));
        }
    }
    for plate in content.pages.iter_mut().flat_map(|paper| &mut paper.plates) {
        for placed in plate.iter_mut().filter(|placed| placed.piece == before) {
            placed.piece = key.to_string();
        }
    }
    let (from, to) = (format!("pieces.{before}."), format!("pieces.{key}."));
    for text in &mut content.text {
        let words = std::mem::take(&mut text.words);
        let kept = words
            .into_iter()
            .map(|(path, words)| match path.strip_prefix(&from) {
                Some(rest) => (format!("{to}{rest}"), words),
                None => (path, words),
            });
        text.words = kept.collect();
    }
}
