//! Whether the steps cut as many of each piece as the list, and from the same cloth.

use super::super::names::Mention;
use super::super::text::{At, Word};
use super::super::{Subject, error};
use super::words_have;
use crate::design::PieceSpec;
use crate::diagnostic::Diagnostics;
use std::collections::BTreeSet;

/// How far before a piece its number may stand: `two small round linings`.
const REACH: usize = 3;

pub(super) fn pieces_and_cloths(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.is_known() {
        return;
    }
    let pieces = subject.piece_names();
    let cloths = subject.cloth_names();
    for at in subject.text.steps().filter(|at| !at.sentence.is_head) {
        let has = |list: &str| words_have(subject.lexicon, list, &at.sentence.words);
        if !has("cut") || has("cut away") {
            continue;
        }
        let mut mentions = pieces.find(&at.sentence.words);
        let stuff = cloths.find(&at.sentence.words);
        // a piece whose name is in that of a cloth is not meant
        mentions.retain(|m| {
            !stuff
                .iter()
                .any(|cloth| cloth.from <= m.from && m.to <= cloth.to)
        });
        judge_cloths(subject, at, &mentions, &stuff, said);
        if !has("each") {
            judge_counts(subject, at, &mentions, said);
        }
    }
}

/// Cloths that a sentence has its pieces cut from: each piece goes with the next cloth behind ‘from’, or
/// with the last one where the cloth comes first.
fn judge_cloths(
    subject: &Subject,
    at: At<'_>,
    pieces: &[Mention],
    cloths: &[Mention],
    said: &mut Diagnostics,
) {
    let design = subject.design;
    let words = &at.sentence.words;
    let from = |cloth: &&Mention| {
        let before = &words[cloth.from.saturating_sub(2)..cloth.from];
        words_have(subject.lexicon, "from", before)
    };
    let cloths: Vec<&Mention> = cloths.iter().filter(from).collect();
    let Some(first) = cloths.first() else {
        return;
    };
    let leads = pieces.iter().all(|piece| piece.from > first.from);
    for piece in pieces {
        let behind = cloths.iter().find(|cloth| cloth.from > piece.from);
        let before = cloths.iter().rev().find(|cloth| cloth.from < piece.from);
        let Some(cloth) = (if leads { before } else { behind }) else {
            continue;
        };
        let spec = &design.pieces[piece.of];
        let cloth = &design.cloth[cloth.of].key;
        let cuts = &spec.cuts;
        if cuts.is_empty() || cuts.iter().any(|cut| cut.cloth == *cloth) {
            continue;
        }
        let name = |key: &str| {
            let found = design.cloth.iter().find(|cloth| cloth.key == key);
            found.map_or_else(|| key.to_string(), |cloth| cloth.name.clone())
        };
        let listed: Vec<String> = cuts.iter().map(|cut| name(&cut.cloth)).collect();
        let message = format!(
            "the step cuts ‘{}’ from {}, and the list from {}",
            spec.title,
            name(cloth),
            listed.join(" and ")
        );
        let remedy = "change the cloth in the step, or in the piece's ‘cut:’";
        said.push(error(
            "cloth-disagrees",
            &at.place(piece.from),
            message,
            remedy,
        ));
    }
}

/// Numbers before pieces, and ‘twice’ behind them.
fn judge_counts(subject: &Subject, at: At<'_>, pieces: &[Mention], said: &mut Diagnostics) {
    let words = &at.sentence.words;
    let counted: Vec<Option<u32>> = pieces
        .iter()
        .enumerate()
        .map(|(n, piece)| {
            let earliest = n.checked_sub(1).map_or(0, |before| pieces[before].to);
            let next = pieces.get(n + 1).map_or(words.len(), |next| next.from);
            number_before(subject, words, earliest, piece.from)
                .or_else(|| times_behind(subject, words, piece.to, next))
        })
        .collect();
    // ‘one’ tells a number only beside others: one is cut, then the other
    let counts_up = counted.iter().flatten().any(|count| *count > 1);
    for (piece, count) in pieces.iter().zip(counted) {
        let Some(count) = count.filter(|count| *count > 1 || counts_up) else {
            continue;
        };
        let spec = &subject.design.pieces[piece.of];
        if spec.cuts.is_empty() || may_be(spec).contains(&count) {
            continue;
        }
        let total: u32 = spec.cuts.iter().map(|cut| cut.count).sum();
        let message = format!(
            "the step has {count} of ‘{}’ cut, and the list {total}",
            spec.title
        );
        let remedy = "change the number in the step, or in the piece's ‘cut:’";
        said.push(error(
            "count-disagrees",
            &at.place(piece.from),
            message,
            remedy,
        ));
    }
}

/// Numbers that are right for a piece: all of it, or what one cloth gives.
fn may_be(spec: &PieceSpec) -> BTreeSet<u32> {
    let single = spec.cuts.iter().map(|cut| cut.count);
    let mut right: BTreeSet<u32> = single.clone().collect();
    right.insert(single.sum());
    right
}

/// The number that stands at most some words before a piece, with nothing but adjectives between.
fn number_before(subject: &Subject, words: &[Word], earliest: usize, piece: usize) -> Option<u32> {
    let lexicon = subject.lexicon;
    let from = piece.saturating_sub(REACH).max(earliest);
    for at in (from..piece).rev() {
        let word = &words[at];
        let is_pair = words_have(lexicon, "pair", std::slice::from_ref(word));
        if is_pair {
            let before = at.checked_sub(1).and_then(|n| words.get(n));
            let pairs = before
                .and_then(|word| lexicon.number(&word.lower))
                .unwrap_or(1);
            return Some(2 * pairs);
        }
        if matches!(word.lower.as_str(), "both" | "beide" | "beiden") {
            return Some(2);
        }
        if let Some(number) = lexicon.number(&word.lower) {
            // a length is no number of pieces
            let next = words.get(at + 1).map_or("", |word| word.lower.as_str());
            let is_length = matches!(next, "mm" | "cm" | "in" | "inch" | "inches" | "yd" | "m");
            return (!is_length).then_some(number);
        }
        let before = at.checked_sub(1).and_then(|n| words.get(n));
        let of_a_pair =
            before.is_some_and(|w| words_have(lexicon, "pair", std::slice::from_ref(w)));
        if word.lower == "of" && of_a_pair {
            continue;
        }
        if word.parted
            || matches!(
                word.lower.as_str(),
                "and" | "und" | "or" | "oder" | "of" | "from" | "the"
            )
        {
            return None;
        }
    }
    None
}

/// ‘twice’ or ‘three times’ soon behind a piece.
fn times_behind(subject: &Subject, words: &[Word], piece: usize, next: usize) -> Option<u32> {
    let behind = &words[piece..next.min(piece + 2).min(words.len())];
    match behind.first() {
        Some(first) if first.parted => None,
        _ if words_have(subject.lexicon, "twice", behind) => Some(2),
        _ if words_have(subject.lexicon, "thrice", behind) => Some(3),
        _ => None,
    }
}
