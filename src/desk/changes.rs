//! What differs between two states of a design, in short lines for a list.

use crate::edition::compare::{Comparison, PieceChange, TextChange};
use crate::edition::{Content, compare};
use serde_json::{Value, json};

/// More lines than this are not told one by one.
const MOST: usize = 40;

/// What differs from `old` to `new`: each with its `kind` (`piece`, `text`, `other`), the key of the piece
/// if it is one, and words.
pub(super) fn changes(old: &Content, new: &Content) -> Vec<Value> {
    let found = compare(old, new);
    let pieces = found.pieces.iter().filter_map(piece);
    let texts = found.text.iter().map(text);
    let others = others(&found).into_iter();
    let others = others.map(|words| json!({"kind": "other", "words": words}));
    pieces.chain(texts).chain(others).take(MOST).collect()
}

fn piece(change: &PieceChange) -> Option<Value> {
    let what = match &change.moved {
        Some(moved) => format!("moved by up to {:.2} mm, {}", moved.mm, moved.edge),
        None if change.cut_line > 0.0 => {
            format!("cut line moved by up to {:.2} mm", change.cut_line)
        }
        None if change.is_drawn_anew() || change.words => change.kind.word().to_string(),
        None => return None,
    };
    let words = format!(
        "{} {}, {}: {what}",
        change.number, change.title, change.size_title
    );
    Some(json!({"kind": "piece", "piece": change.piece, "words": words}))
}

fn text(change: &TextChange) -> Value {
    let place = match (&change.chapter, change.step) {
        (Some(chapter), Some(step)) => format!("{chapter}, step {step}: {}", change.head),
        (Some(chapter), None) => format!("{chapter}: {}", change.head),
        (None, _) => change.head.clone(),
    };
    json!({"kind": "text", "words": format!("{place} ({}) {}", change.language, change.kind.word())})
}

fn others(found: &Comparison) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    all.extend(found.sizes_added.iter().map(|s| format!("size {s} added")));
    all.extend(
        found
            .sizes_removed
            .iter()
            .map(|s| format!("size {s} removed")),
    );
    all.extend(
        found
            .materials
            .iter()
            .map(|m| format!("{} changed", m.what)),
    );
    let hashes = found.pictures.iter().chain(&found.look);
    all.extend(hashes.map(|h| format!("{} {}", h.name, h.kind.word())));
    all
}
