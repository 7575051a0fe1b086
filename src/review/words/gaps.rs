//! Whether the gap for turning is as long wherever it is spoken of, and closed in the end. Lengths in mm.

use super::super::names::has;
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::lengths::{Length, in_words};
use super::words_have;
use crate::diagnostic::Diagnostics;

/// Two lengths of one gap may differ by this, mm, or as a share of the longer one: they are rounded.
const WITHIN: f64 = 1.0;
const SHARE: f64 = 0.04;

/// Each length that is told of the gap is one that it was left open by.
pub(super) fn lengths(subject: &Subject, said: &mut Diagnostics) {
    let steps: Vec<At<'_>> = subject.text.steps().collect();
    let left: Vec<Length> = steps.iter().flat_map(|at| left_open(subject, at)).collect();
    if left.is_empty() {
        return;
    }
    for at in &steps {
        for length in spoken_of(subject, at) {
            let same = |other: &Length| {
                let off = (other.mm - length.mm).abs();
                off <= WITHIN.max(SHARE * other.mm.max(length.mm))
            };
            if !left.iter().any(same) {
                let message = format!(
                    "the gap is {} here, and {} where it is left open",
                    length.text, left[0].text
                );
                let remedy = "ask for one value in braces in both places";
                said.push(warning(
                    "gap-disagrees",
                    &at.place(length.word),
                    message,
                    remedy,
                ));
            }
        }
    }
}

/// Lengths that a sentence leaves open.
fn left_open(subject: &Subject, at: &At<'_>) -> Vec<Length> {
    let words = &at.sentence.words;
    let leaves = words_have(subject.lexicon, "leave", words);
    let names =
        words_have(subject.lexicon, "open", words) || words_have(subject.lexicon, "gap", words);
    let is_left = leaves && names;
    in_words(subject.lexicon, words)
        .into_iter()
        .filter(|_| is_left)
        .collect()
}

/// Lengths of which a sentence that leaves nothing open says that the gap has them.
fn spoken_of(subject: &Subject, at: &At<'_>) -> Vec<Length> {
    let words = &at.sentence.words;
    if words_have(subject.lexicon, "leave", words) {
        return Vec::new();
    }
    let is_gap = |word: Option<&Word>| {
        word.is_some_and(|word| words_have(subject.lexicon, "gap", std::slice::from_ref(word)))
    };
    let lengths = in_words(subject.lexicon, words);
    let of_gap = |number: &usize| {
        let length = &lengths[*number];
        // both units may stand before the gap
        let last = lengths
            .get(number + 1)
            .filter(|next| next.word == length.end);
        let end = last.map_or(length.end, |last| last.end);
        let of = length
            .word
            .checked_sub(1)
            .map(|at| words[at].lower.as_str());
        let before = length.word.checked_sub(2).and_then(|at| words.get(at));
        is_gap(words.get(end))
            || (of.is_some_and(|of| subject.lexicon.has_word("of", of)) && is_gap(before))
    };
    let found: Vec<usize> = (0..lengths.len()).filter(of_gap).collect();
    found
        .into_iter()
        .map(|number| lengths[number].clone())
        .collect()
}

/// What is turned through a gap is closed afterwards: a later sentence speaks of the gap or of what is open,
/// or sews all round.
pub(super) fn closed(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let steps: Vec<At<'_>> = subject
        .text
        .steps()
        .filter(|at| !at.sentence.is_head)
        .collect();
    let turned = steps.iter().rposition(|at| {
        let words = &at.sentence.words;
        ["turn", "through", "gap"]
            .iter()
            .all(|list| words_have(lexicon, list, words))
    });
    let Some(turned) = turned else {
        return;
    };
    let closes = |words: &[Word]| {
        let lists = ["gap", "opening", "shut", "close", "whole", "round", "open"];
        lists.iter().any(|list| has(lexicon.list(list), words))
    };
    let words = &steps[turned].sentence.words;
    let gap = (0..words.len()).rev();
    let gap = gap
        .into_iter()
        .find(|at| words_have(lexicon, "gap", &words[*at..=*at]));
    let rest = words
        .get(gap.map_or(words.len(), |at| at + 1)..)
        .unwrap_or_default();
    let later = steps[turned + 1..]
        .iter()
        .any(|at| closes(&at.sentence.words));
    if !closes(rest) && !later {
        let message = "the work is turned through the gap, and no step closes it".to_string();
        let remedy = "say how the gap is sewn closed";
        let place = steps[turned].place(gap.unwrap_or(0));
        said.push(warning("gap-left-open", &place, message, remedy));
    }
}
