//! Slips of writing that make a reader stop: a length with two units or none, a sentence that stands twice.

use super::super::text::{Sentence, Word};
use super::super::{Subject, warning};
use super::lengths::in_words;
use super::words_have;
use crate::diagnostic::Diagnostics;
use std::collections::BTreeMap;

/// Shorter sentences may be said again, words.
const LONG_FROM: usize = 6;

/// ‘40 mm (1 1⁄2 in) mm’, ‘a gap of 40.’ Of the units in the list, ‘in’ and ‘m’ are left out: they may be
/// words.
pub(super) fn units(subject: &Subject, said: &mut Diagnostics) {
    for at in subject.text.all() {
        let words = &at.sentence.words;
        let twice = in_words(subject.lexicon, words)
            .into_iter()
            .find_map(|length| {
                let next = words.get(length.end)?;
                let behind = words[length.end - 1].marks[1];
                let goes_on = behind.is_none_or(|mark| mark.is_whitespace() || mark == ')')
                    && next.marks[0].is_none_or(char::is_whitespace);
                (goes_on && subject.lexicon.has_word("units", &next.lower))
                    .then_some((length.end, length.text))
            });
        let found = match twice {
            Some((word, length)) => Some((word, format!("‘{length}’ has a unit too many"))),
            None => bare(subject, words).map(|word| {
                let message = format!("the length ‘{}’ has no unit", words[word].text);
                (word, message)
            }),
        };
        if let Some((word, message)) = found {
            let remedy =
                "write each length with one unit, or ask for it in braces: it brings its own";
            said.push(warning("length-unit", &at.place(word), message, remedy));
        }
    }
}

/// A number at the end of its clause, behind what is measured and ‘of’.
fn bare(subject: &Subject, words: &[Word]) -> Option<usize> {
    let is = |list: &str, at: usize| words_have(subject.lexicon, list, &words[at..=at]);
    (2..words.len()).find(|at| {
        let word = &words[*at];
        let of = subject.lexicon.has_word("of", &words[at - 1].lower);
        let is_number = word.lower.chars().all(|c| c.is_ascii_digit());
        let ends = words.get(at + 1).is_none_or(|next| next.parted);
        let sign = matches!(word.marks[1], None | Some('.' | ',' | ';' | ':' | '!'));
        let joined = !(word.parted || words[at - 1].parted);
        is_number && ends && sign && joined && of && is("measured", at - 2)
    })
}

/// A long sentence of a step that stands in it twice, and two steps that are called the same.
pub(super) fn sentences(subject: &Subject, said: &mut Diagnostics) {
    let mut heads: BTreeMap<String, usize> = BTreeMap::new();
    for (chapter, section) in subject.text.sections() {
        let Some(step) = section.step else {
            continue;
        };
        let mut seen: Vec<String> = Vec::new();
        for sentence in &section.sentences {
            let words = in_one(sentence);
            let place = chapter.filled.place(sentence.at);
            if sentence.is_head {
                if let Some(other) = heads.insert(words, step) {
                    let message = format!("step {step} is called the same as step {other}");
                    let remedy = "say in the head what is done in this step and not in that one";
                    said.push(warning("sentence-twice", &place, message, remedy));
                }
            } else if sentence.words.len() >= LONG_FROM {
                if seen.contains(&words) {
                    let message = "the sentence stands in its step twice".to_string();
                    let remedy = "take one of them away";
                    said.push(warning("sentence-twice", &place, message, remedy));
                }
                seen.push(words);
            }
        }
    }
}

fn in_one(sentence: &Sentence) -> String {
    let words: Vec<&str> = sentence
        .words
        .iter()
        .map(|word| word.lower.as_str())
        .collect();
    words.join(" ")
}
