//! Whether the steps cut as many of each piece as the list, and from the same cloth.

use super::super::clause::{denied, left_to_the_reader};
use super::super::names::{Mention, says};
use super::super::text::{At, Word};
use super::super::{Subject, error, warning};
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
        if left_to_the_reader(subject.lexicon, &at.sentence.words) {
            continue;
        }
        judge_cloths(subject, at, &mentions, &stuff, said);
        if !has("each") {
            judge_counts(subject, at, &mentions, &stuff, said);
        }
    }
}

/// Cloths that a sentence has its pieces cut from: each piece goes with the next cloth behind ‘from’, or
/// with the last one where the sentence begins with its cloth.
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
    let leads = pieces.iter().all(|piece| piece.from > first.from) && leads(subject, words, first);
    for piece in pieces {
        let behind = cloths.iter().find(|cloth| cloth.from > piece.from);
        let before = cloths.iter().rev().find(|cloth| cloth.from < piece.from);
        let cloth = if leads { before } else { behind };
        let Some(cloth) = cloth.filter(|c| !denied(subject.lexicon, words, c.from)) else {
            continue;
        };
        let spec = &design.pieces[piece.of];
        let cloth = &design.cloth[cloth.of].key;
        let cuts = &spec.cuts;
        if cuts.is_empty() || cuts.iter().any(|cut| cut.cloth == *cloth) {
            continue;
        }
        // ‘cut the flap once more from interfacing’: another piece of its shape
        let mut others = design.pieces.iter().flat_map(|other| &other.cuts);
        let further = subject.lexicon.list("further time");
        if says(further, words) && others.any(|cut| cut.cloth == *cloth) {
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
        said.push(warning(
            "cloth-disagrees",
            &at.place(piece.from),
            message,
            remedy,
        ));
    }
}

/// Whether the first cloth comes before what is cut from it: ‘from the linen cut’, ‘cut from linen’. In
/// ‘cut both outer pieces from linen and two linings’ it follows something else.
fn leads(subject: &Subject, words: &[Word], cloth: &Mention) -> bool {
    let is = |list: &str, at: usize| words_have(subject.lexicon, list, &words[at..=at]);
    let from = (0..cloth.from).rev().find(|at| is("from", *at));
    from.is_some_and(|from| {
        let cut = (0..words.len()).find(|at| is("cut", *at));
        from == 0 || cut.is_none_or(|cut| cut > from || cut + 1 == from)
    })
}

/// Numbers before pieces, and ‘twice’ behind them. Certain is a number only where the sentence names the
/// cloth too.
fn judge_counts(
    subject: &Subject,
    at: At<'_>,
    pieces: &[Mention],
    cloths: &[Mention],
    said: &mut Diagnostics,
) {
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
        let right = spec.cuts.is_empty() || may_be(spec).contains(&count);
        if right || !is_the_piece(subject, words, piece) {
            continue;
        }
        let total: u32 = spec.cuts.iter().map(|cut| cut.count).sum();
        let message = format!(
            "the step has {count} of ‘{}’ cut, and the list {total}",
            spec.title
        );
        let remedy = "change the number in the step, or in the piece's ‘cut:’";
        let listed = |cloth: &Mention| {
            let key = &subject.design.cloth[cloth.of].key;
            spec.cuts.iter().any(|cut| cut.cloth == *key)
        };
        let told = match cloths.iter().any(listed) {
            true => error,
            false => warning,
        };
        said.push(told(
            "count-disagrees",
            &at.place(piece.from),
            message,
            remedy,
        ));
    }
}

/// Whether a name stands for the piece itself: it is in the plural, or no further noun follows, as in
/// ‘the two front notches’.
fn is_the_piece(subject: &Subject, words: &[Word], piece: &Mention) -> bool {
    let lexicon = subject.lexicon;
    let last = &words[piece.to - 1];
    let plural = last.lower != last.noun && lexicon.has_habit("plural shows");
    let next = words.get(piece.to);
    plural
        || next.is_none_or(|next| {
            let pieces = words_have(lexicon, "pattern", std::slice::from_ref(next));
            next.parted || pieces || lexicon.has_word("behind a piece", &next.lower)
        })
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
    if let Some(number) = number_of_the(subject, words, earliest, piece) {
        return Some(number);
    }
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
        if lexicon.has_word("both", &word.lower) {
            return Some(2);
        }
        if let Some(number) = lexicon.number(&word.lower) {
            // a length is no number of pieces
            let next = words.get(at + 1).map_or("", |word| word.lower.as_str());
            let is_length = lexicon.has_word("units behind a number", next);
            return (!is_length).then_some(number);
        }
        let before = at.checked_sub(1).and_then(|n| words.get(n));
        let of_a_pair =
            before.is_some_and(|w| words_have(lexicon, "pair", std::slice::from_ref(w)));
        if lexicon.has_word("of", &word.lower) && of_a_pair {
            continue;
        }
        if word.parted || lexicon.has_word("ends a count", &word.lower) {
            return None;
        }
    }
    None
}

/// `2 of the front`; of several fronts it may be some.
fn number_of_the(subject: &Subject, words: &[Word], earliest: usize, piece: usize) -> Option<u32> {
    let lexicon = subject.lexicon;
    let before = words.get(piece.checked_sub(3)?.max(earliest)..piece)?;
    let [number, of, the] = before else {
        return None;
    };
    let is = |word: &Word, list: &str| words_have(lexicon, list, std::slice::from_ref(word));
    let single = words[piece].lower == words[piece].noun;
    let joined = !(of.parted || the.parted || words[piece].parted);
    (single && joined && is(of, "from") && is(the, "articles"))
        .then(|| lexicon.number(&number.lower))
        .flatten()
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
