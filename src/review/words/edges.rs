//! Whether a step names the edges that its figure draws: of a hem, a gap, an edge that is gathered, a row of
//! stitches. Edges have names in the design's own language alone. Lengths in mm.

use super::super::clause::denied;
use super::super::names::{first_of, has};
use super::super::text::{At, Figure, Word};
use super::super::{Subject, warning};
use super::lengths::in_words;
use super::words_have;
use crate::diagnostic::{Diagnostics, Place};
use crate::figure::flat::request::{FlatRequest, Scene};
use crate::piece::Piece;
use std::collections::BTreeSet;

/// A depth that is said may differ by this from the allowance that is drawn, mm: it is rounded.
const WITHIN: f64 = 1.0;

/// A shorter share of a piece's longest edge is no long edge, a longer one no short edge.
const LONG: f64 = 0.8;

/// How many words behind the gap may say where it is.
const REACH: usize = 12;

const REMEDY: &str = "name the edge that is drawn, or change the figure";

/// A figure of a hem along an edge whose allowance is not as deep as the step says, while that of another is.
pub(super) fn hems(subject: &Subject, said: &mut Diagnostics) {
    for (figure, flat, sentences) in with_text(subject) {
        let Scene::Hem { piece, edge, .. } = &flat.scene else {
            continue;
        };
        let depths: Vec<f64> = sentences
            .iter()
            .flat_map(|at| depths(subject, at))
            .collect();
        let near = |drawn: f64| depths.iter().any(|said| (said - drawn).abs() <= WITHIN);
        let mut fits = depths.is_empty();
        let mut other: Option<String> = None;
        for sized in sized(subject, &piece.piece.text) {
            for (drawn, allowance) in sized.outline.edges().iter().zip(&sized.allowances) {
                match drawn.name == edge.text {
                    // the text may speak of one of two turns
                    true => fits |= near(*allowance) || near(*allowance / 2.0),
                    false if near(*allowance) => other = Some(drawn.name.clone()),
                    false => {}
                }
            }
        }
        if let (false, Some(other)) = (fits, other) {
            let message = format!(
                "the figure turns the edge ‘{}’ down, and as deep as the step says is the \
                 allowance of ‘{other}’",
                edge.text
            );
            tell(&figure.place, message, said);
        }
    }
}

/// Lengths of a sentence that are said to be deep, mm; of a value in both units both.
fn depths(subject: &Subject, at: &At<'_>) -> Vec<f64> {
    let words = &at.sentence.words;
    let lengths = in_words(subject.lexicon, words);
    let is_deep = |end: usize| {
        let word = words.get(end);
        word.is_some_and(|word| words_have(subject.lexicon, "deep", std::slice::from_ref(word)))
    };
    let mut found = Vec::new();
    for (number, length) in lengths.iter().enumerate() {
        let next = lengths.get(number + 1);
        let end = next
            .filter(|next| next.word == length.end)
            .map_or(length.end, |next| next.end);
        if is_deep(length.end) || is_deep(end) {
            found.push(length.mm);
        }
    }
    found
}

/// A gap that the text leaves in another edge than the figure.
pub(super) fn gaps(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    for (figure, flat, sentences) in with_text(subject) {
        let Some((opening, piece)) = flat.opening.as_ref().zip(first_piece(subject, figure)) else {
            continue;
        };
        for at in &sentences {
            let words = &at.sentence.words;
            let gap = first_of(lexicon.list("opening"), words);
            let Some((_, gap)) = gap.filter(|_| words_have(lexicon, "leave", words)) else {
                continue;
            };
            let behind = &words[gap + 1..(gap + REACH).min(words.len())];
            let named = named_edges(subject, &piece, behind, true);
            if let Some(other) = named.first()
                && !named.contains(&opening.edge.text)
            {
                let message = format!(
                    "the text leaves the gap in the edge ‘{other}’, and the figure in ‘{}’",
                    opening.edge.text
                );
                tell(&at.place(gap), message, said);
            }
        }
    }
}

/// A long edge in the text, and a short one in the figure, or the other way round.
pub(super) fn long_and_short(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    for (figure, flat, sentences) in with_text(subject) {
        let has = |list: &str| {
            let mut bodies = sentences.iter();
            bodies.any(|at| words_have(lexicon, list, &at.sentence.words))
        };
        let (long, short) = (has("long edge"), has("short edge"));
        let (Some(piece), true) = (first_piece(subject, figure), long != short) else {
            continue;
        };
        let edges = [
            flat.gather.as_ref().map(|gather| &gather.edge),
            flat.opening.as_ref().map(|opening| &opening.edge),
        ];
        let lengths = piece.outline.edges().iter().map(|edge| edge.length());
        let [most, least] = [f64::max, f64::min].map(|of| lengths.clone().reduce(of));
        let (Some(most), Some(least)) = (most, least) else {
            continue;
        };
        for named in edges.into_iter().flatten() {
            let mut all = piece.outline.edges().iter();
            let Some(edge) = all.find(|edge| edge.name == named.text) else {
                continue;
            };
            let wrong = match long {
                true => edge.length() < LONG * most,
                false => least < LONG * edge.length(),
            };
            if wrong {
                let [text, drawn] = match long {
                    true => ["long", "short"],
                    false => ["short", "long"],
                };
                let message = format!(
                    "the step speaks of a {text} edge, and the figure draws ‘{}’, a {drawn} one",
                    named.text
                );
                tell(&figure.place, message, said);
            }
        }
    }
}

/// A sentence that sews edges and sends to a figure that draws the row along some of them, and not along all.
pub(super) fn rows(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    for (figure, flat, sentences) in with_text(subject) {
        let [row] = flat.stitching.as_slice() else {
            continue;
        };
        let key = row.piece.as_ref().map(|piece| piece.text.as_str());
        let piece = key.and_then(|key| sized(subject, key).next().cloned());
        let Some(piece) = piece.or_else(|| first_piece(subject, figure)) else {
            continue;
        };
        let drawn: BTreeSet<&str> = row.edges.iter().map(|edge| edge.text.as_str()).collect();
        for at in &sentences {
            let words = &at.sentence.words;
            let mut figures = at.sentence.figures.iter();
            let until = figures.find(|(name, _)| Some(name) == figure.name.as_ref());
            let Some((_, until)) = until.filter(|_| !drawn.is_empty()) else {
                continue;
            };
            let before = &words[..(*until).min(words.len())];
            let Some((_, sew)) = first_of(lexicon.list("sew"), before) else {
                continue;
            };
            let named = named_edges(subject, &piece, &before[sew + 1..], false);
            let is_drawn = |edge: &&String| drawn.contains(edge.as_str());
            let other = named.iter().find(|edge| !is_drawn(edge));
            if let Some(other) = other.filter(|_| named.iter().any(|edge| is_drawn(&edge))) {
                let message = format!(
                    "the step sews along the edge ‘{other}’, and the figure draws no stitches there"
                );
                tell(&at.place(sew), message, said);
            }
        }
    }
}

/// Figures that are drawn flat in the design's own language, with the sentences of their steps.
fn with_text<'s>(subject: &'s Subject) -> Vec<(&'s Figure, &'s FlatRequest, Vec<At<'s>>)> {
    let mut found = Vec::new();
    if subject.design.original.is_some() {
        return found;
    }
    for (chapter, section) in subject.text.sections().filter(|(_, s)| s.step.is_some()) {
        for figure in &section.figures {
            let Some(flat) = figure.flat() else {
                continue;
            };
            let sentences = section.body().map(|sentence| At {
                chapter,
                section,
                sentence,
            });
            found.push((figure, flat, sentences.collect()));
        }
    }
    found
}

/// A piece in all its sizes.
fn sized<'s>(subject: &'s Subject, key: &'s str) -> impl Iterator<Item = &'s Piece> {
    let pieces = subject.sizes.iter().flat_map(|size| &size.pieces);
    pieces.filter(move |piece| piece.key == key)
}

/// The first piece that a figure draws, in the first size that has it.
fn first_piece(subject: &Subject, figure: &Figure) -> Option<Piece> {
    let keys = figure.pieces.iter();
    let known = keys.filter(|key| subject.piece(key).is_some());
    let found = known.filter_map(|key| sized(subject, key).next());
    found.into_iter().next().cloned()
}

/// Edges of a piece that words name, each once. One that stands behind a word for a place is passed over unless
/// `places` are asked for; both sides are the left and the right one.
fn named_edges(subject: &Subject, piece: &Piece, words: &[Word], places: bool) -> Vec<String> {
    let lexicon = subject.lexicon;
    let mut found: Vec<String> = Vec::new();
    let edges = piece.outline.edges();
    let is_place = |at: usize| {
        let before = &words[at.saturating_sub(2)..at];
        before
            .iter()
            .any(|word| lexicon.has_word("elsewhere", &word.lower))
    };
    let is_side = |noun: &str| {
        let mut sides = lexicon.list("side").iter();
        sides.any(|side| side.words.iter().any(|word| word.noun == noun))
    };
    for edge in edges {
        let name = lexicon.phrase(&edge.name);
        let [name] = name.words.as_slice() else {
            continue;
        };
        let here = |at: &usize| {
            let word = &words[*at];
            let next = words.get(at + 1);
            // a right side is one of the cloth
            let of_cloth =
                next.is_some_and(|next| !next.parted && is_side(&lexicon.noun(&next.lower)));
            word.lower == name.lower && !of_cloth && !denied(lexicon, words, *at)
        };
        let mut all = (0..words.len()).filter(here);
        if all.any(|at| places || !is_place(at)) {
            found.push(edge.name.clone());
        }
    }
    if has(lexicon.list("sides of a piece"), words) {
        let sides = edges
            .iter()
            .filter(|edge| matches!(edge.name.as_str(), "left" | "right"));
        found.extend(sides.map(|edge| edge.name.clone()));
    }
    found.dedup();
    found
}

fn tell(place: &Place, message: String, said: &mut Diagnostics) {
    said.push(warning("figure-disagrees", place, message, REMEDY));
}
