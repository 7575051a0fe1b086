//! What the head and the lists of a translation say beside those of the original: the title, the age, where to
//! write to, the order of the sizes.

use super::super::lexicon::Lexicon;
use super::super::names::{has, stands};
use super::super::text::words;
use super::super::{Subject, warning};
use crate::diagnostic::Diagnostics;

/// Addresses that differ by no more letters are one, misspelt.
const SLIPS: usize = 3;

const REMEDY: &str = "say the same in every language";

/// Tells of what a translation of a design has otherwise.
pub(in crate::review) fn head(subject: &Subject, said: &mut Diagnostics) {
    let Some(own) = subject.design.original.as_deref() else {
        return;
    };
    let mut tell = |key: &str, text: &str, message: String| {
        let place = subject.text_place(key, text);
        said.push(warning("language-head-differs", &place, message, REMEDY));
    };
    let design = subject.design;
    if let (Some(contact), Some(other)) = (&own.contact, &design.contact)
        && contact != other
        && strsim::damerau_levenshtein(contact, other) <= SLIPS
    {
        let message = format!("‘{other}’ is nearly ‘{contact}’ of the design's own language");
        tell("contact", other, message);
    }
    if design.title == own.title && left_in_english(subject, &design.title) {
        let message = format!("the title ‘{}’ is not translated", design.title);
        tell("title", &design.title, message);
    }
    if let (Some(age), Some(other)) = (&own.age, &design.age) {
        let first = ages(Lexicon::of(&own.language), age);
        let second = ages(subject.lexicon, other);
        let same = |a: &f64| second.iter().any(|b| (a - b).abs() < 0.1);
        if !first.is_empty() && !second.is_empty() && !first.iter().any(same) {
            let message =
                format!("‘{other}’ names another age than ‘{age}’ in the design's own language");
            tell("age", other, message);
        }
    }
}

/// Whether a title is one that a language of capital nouns would not have: its last word, a noun, begins small. A
/// name of one word may be kept.
fn left_in_english(subject: &Subject, title: &str) -> bool {
    let mut words = title.split_whitespace();
    let last = words.next_back();
    let more = words.next().is_some();
    let small = last.is_some_and(|last| last.starts_with(char::is_lowercase));
    subject.lexicon.has_habit("capital nouns") && more && small
}

/// Ages that a line names, years.
fn ages(lexicon: &Lexicon, line: &str) -> Vec<f64> {
    let words = words(line, lexicon, |at| at);
    let is = |list: &str, at: usize| {
        let mut phrases = lexicon.list(list).iter();
        phrases.any(|phrase| stands(phrase, &words, at))
    };
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let Some(number) = lexicon.number(&word.lower).map(f64::from) else {
            continue;
        };
        let behind = at + 1..(at + 4).min(words.len());
        let [months, years] = ["months", "years"].map(|list| behind.clone().any(|n| is(list, n)));
        match months {
            true => found.push(number / 12.0),
            // ‘ein’ and ‘one’ count only where years follow
            false if years || number > 1.0 => found.push(number),
            false => {}
        }
    }
    found
}

/// Sizes whose titles stand in another order of small and large than those of the original.
pub(in crate::review) fn sizes(subject: &Subject, said: &mut Diagnostics) {
    let Some(own) = subject.design.original.as_deref() else {
        return;
    };
    let rank = |lexicon: &Lexicon, title: &str| {
        let words = words(title, lexicon, |at| at);
        let order = lexicon.list("order of sizes").iter();
        let ranks: Vec<usize> = order
            .enumerate()
            .filter(|(_, phrase)| has(std::slice::from_ref(*phrase), &words))
            .map(|(rank, _)| rank)
            .collect();
        match ranks.as_slice() {
            [rank] => Some(*rank),
            _ => None,
        }
    };
    let lexicon = Lexicon::of(&own.language);
    let pairs = own.sizes.iter().zip(&subject.design.sizes);
    let ranked: Vec<(usize, usize, &str)> = pairs
        .filter_map(|(mine, other)| {
            let ranks = (
                rank(lexicon, &mine.title)?,
                rank(subject.lexicon, &other.title)?,
            );
            Some((ranks.0, ranks.1, other.title.as_str()))
        })
        .collect();
    let turned = ranked.windows(2).find(|two| {
        let own = two[0].0.cmp(&two[1].0);
        let other = two[0].1.cmp(&two[1].1);
        own.is_ne() && own == other.reverse()
    });
    if let Some([first, second]) = turned {
        let message = format!(
            "the sizes ‘{}’ and ‘{}’ stand in another order than in the design's own language",
            first.2, second.2
        );
        let place = subject.text_place("sizes", first.2);
        said.push(warning("language-head-differs", &place, message, REMEDY));
    }
}
