//! Values in braces beside words that say another direction, and the same value for two.

use super::super::text::Chapter;
use super::super::{Subject, warning};
use crate::diagnostic::{Diagnostics, Place};
use std::collections::BTreeMap;

/// Sides that differ by less, mm, are alike: the words may be taken either way.
const ALIKE: f64 = 0.5;

/// A value of a piece as a text asks for it.
struct Value {
    /// Key of the piece and `width` or `height`.
    piece: String,
    side: String,
    /// Where it is filled in, and where that ends.
    at: usize,
    end: usize,
    place: Place,
}

/// ‘{{ wrap.height }} wide’, and ‘{{ base.width }} from side to side and {{ base.width }} from front to back’.
pub(super) fn directions(subject: &Subject, said: &mut Diagnostics) {
    for chapter in &subject.text.chapters {
        let values = values(subject, chapter);
        for value in &values {
            let other = match value.side.as_str() {
                "height" => "wide",
                _ => "high",
            };
            let behind = chapter.filled.text.get(value.end..).unwrap_or_default();
            let behind = behind.trim_start_matches([' ', '\n']);
            let word = behind.split(|c: char| !c.is_alphabetic()).next();
            let word = word.unwrap_or_default().to_lowercase();
            if subject.lexicon.has_word(other, &word) {
                let message = format!(
                    "‘{}.{}’ stands before the word ‘{word}’",
                    value.piece, value.side
                );
                let remedy = "ask for the other side of the piece, or change the word";
                said.push(warning("value-disagrees", &value.place, message, remedy));
            }
        }
        for section in &chapter.sections {
            for (number, sentence) in section.sentences.iter().enumerate() {
                let next = section.sentences.get(number + 1);
                let end = next.map_or(sentence.at + sentence.raw.len(), |next| next.at);
                let inside = values.iter().filter(|v| v.at >= sentence.at && v.at < end);
                let mut seen: BTreeMap<(&str, &str), usize> = BTreeMap::new();
                for value in inside {
                    let key = (value.piece.as_str(), value.side.as_str());
                    let times = seen.entry(key).or_default();
                    *times += 1;
                    if *times == 2 {
                        let message = format!(
                            "the sentence asks for ‘{}.{}’ twice",
                            value.piece, value.side
                        );
                        let remedy = "ask for the other side of the piece in one of the places";
                        said.push(warning("value-disagrees", &value.place, message, remedy));
                    }
                }
            }
        }
    }
}

/// The widths and heights of pieces that a chapter prints, but for pieces that are as wide as high.
fn values(subject: &Subject, chapter: &Chapter) -> Vec<Value> {
    let filled = &chapter.filled;
    let mut found = Vec::new();
    for (number, anchor) in filled.anchors.iter().enumerate().filter(|(_, a)| a.fixed) {
        let place = filled.place(anchor.offset);
        let line = place.source.text.lines().nth(place.line.saturating_sub(1));
        let tag = line.unwrap_or_default().chars();
        let tag: String = tag.skip(place.column.saturating_sub(1)).collect();
        let inner = tag
            .strip_prefix("{{")
            .and_then(|rest| rest.split_once("}}"));
        let Some((piece, side)) = inner.and_then(|(inner, _)| inner.trim().split_once('.')) else {
            continue;
        };
        let is_side = matches!(side, "width" | "height");
        let mut pieces = subject.sizes.iter().flat_map(|size| &size.pieces);
        let key = piece.replace('_', " ");
        let sized = pieces.find(|piece| piece.key == key);
        let differs = sized.is_some_and(|piece| {
            let edges = piece.outline.edges().iter();
            let boxes = edges.map(|edge| kurbo::Shape::bounding_box(&edge.curve));
            let whole = boxes.reduce(|a, b| a.union(b));
            whole.is_some_and(|whole| (whole.width() - whole.height()).abs() > ALIKE)
        });
        if is_side && differs {
            let next = filled.anchors.get(number + 1);
            found.push(Value {
                piece: piece.to_string(),
                side: side.to_string(),
                at: anchor.offset,
                end: next.map_or(filled.text.len(), |next| next.offset),
                place,
            });
        }
    }
    found
}
