//! Whether the text says of the allowance what is drawn.

use super::super::names::has;
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::lengths::{Length, in_words};
use super::words_have;
use crate::design::Part;
use crate::diagnostic::Diagnostics;

/// A typed allowance may differ by this from a drawn one, mm: 1.5 cm is said for 5/8 in.
const WITHIN: f64 = 0.9;

pub(super) fn as_drawn(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.is_known() {
        return;
    }
    let drawn = drawn(subject);
    let names = subject.piece_names();
    let cloths = subject.cloth_names();
    let remedy = "say what is drawn, or change the ‘allowance:’ of the pieces";
    // a fitting sheet, of which a chapter to look up may speak, has none
    let before = subject
        .text
        .all()
        .filter(|at| at.chapter.part != Part::LookUp);
    for at in before.filter(|at| !at.sentence.is_head) {
        let words = &at.sentence.words;
        if !words_have(subject.lexicon, "allowance", words) {
            continue;
        }
        let single = !names.find(words).is_empty() || !cloths.find(words).is_empty();
        if !drawn.is_empty() && !single_subject(subject, words, single) && left_out(subject, words)
        {
            let message = "the text says that the pieces have no allowance, and one is drawn";
            said.push(warning(
                "allowance-text",
                &at.place(0),
                message.into(),
                remedy,
            ));
        } else if drawn.is_empty() && !single && is_included(subject, words) {
            let message = "the text says that an allowance is drawn, and no piece has one";
            said.push(warning(
                "allowance-text",
                &at.place(0),
                message.into(),
                remedy,
            ));
        } else if let Some(length) = typed_other(subject, at, &drawn) {
            let message = format!(
                "the text says {} of allowance, and no edge has so much",
                length.text
            );
            said.push(warning("allowance-text", &at.place(0), message, remedy));
        }
    }
}

/// All allowances that are drawn, mm.
fn drawn(subject: &Subject) -> Vec<f64> {
    let pieces = subject.sizes.iter().flat_map(|size| &size.pieces);
    let allowances = pieces.flat_map(|piece| piece.allowances.iter().copied());
    let mut all: Vec<f64> = allowances.filter(|allowance| *allowance > 1e-6).collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    all
}

/// Whether the sentence speaks of one piece or cloth, or of some edge, not of the pieces at all.
fn single_subject(subject: &Subject, words: &[Word], named: bool) -> bool {
    let near = allowance_at(subject, words);
    let before = &words[near.saturating_sub(6)..near];
    let general =
        words_have(subject.lexicon, "pattern", before) || words_have(subject.lexicon, "add", words);
    named && !general
}

fn allowance_at(subject: &Subject, words: &[Word]) -> usize {
    let list = subject.lexicon.list("allowance");
    super::super::names::first_of(list, words).map_or(0, |(_, at)| at)
}

/// ‘the pieces have no seam allowance’, ‘add a seam allowance’, ‘allowances are not included’.
fn left_out(subject: &Subject, words: &[Word]) -> bool {
    let lexicon = subject.lexicon;
    let at = allowance_at(subject, words);
    let before = &words[at.saturating_sub(3)..at];
    let clause = &words[at.saturating_sub(8)..at];
    let behind = &words[at..(at + 6).min(words.len())];
    let none = has(lexicon.list("no allowance"), before) && has(lexicon.list("pattern"), clause);
    let added = &words[at.saturating_sub(6)..at];
    // what is added to an allowance is something else
    let elsewhere = added
        .iter()
        .any(|word| lexicon.has_word("a place", &word.lower));
    let adds =
        has(lexicon.list("add"), added) && !elsewhere && !has(lexicon.list("not"), &words[..at]);
    let not_included = has(lexicon.list("included"), behind) && has(lexicon.list("not"), behind);
    none || adds || not_included
}

fn is_included(subject: &Subject, words: &[Word]) -> bool {
    let lexicon = subject.lexicon;
    let at = allowance_at(subject, words);
    has(
        lexicon.list("included"),
        &words[at..(at + 6).min(words.len())],
    ) && !has(lexicon.list("not"), words)
}

/// A length beside the word that is typed by hand and that no edge has. What is trimmed, folded or
/// measured from somewhere is none.
fn typed_other(subject: &Subject, at: At<'_>, drawn: &[f64]) -> Option<Length> {
    let words = &at.sentence.words;
    let lexicon = subject.lexicon;
    let allowance = allowance_at(subject, words);
    let around = &words[allowance.saturating_sub(5)..(allowance + 6).min(words.len())];
    if drawn.is_empty() || has(lexicon.list("reduce"), around) {
        return None;
    }
    let lengths = in_words(subject.lexicon, around);
    let typed = |length: &Length| {
        let word = &around[length.word];
        let place = at.chapter.filled.place(word.at);
        let line = place
            .source
            .text
            .lines()
            .nth(place.line.saturating_sub(1))
            .unwrap_or("");
        let column: String = line.chars().skip(place.column.saturating_sub(1)).collect();
        !column.starts_with("{{")
    };
    let is_drawn = |length: &Length| drawn.iter().any(|mm| (mm - length.mm).abs() <= WITHIN);
    lengths
        .into_iter()
        .find(|length| typed(length) && !is_drawn(length))
}
