//! Slips of the pen: names that are spelt nearly right, and words that stand twice.

use super::super::text::{At, Word};
use super::super::{Subject, warning};
use crate::diagnostic::{Diagnostics, Place};
use std::collections::{BTreeMap, BTreeSet};

/// Shorter names are one letter from too many other words.
const SHORTEST: usize = 4;

/// A word that is one slip from a name of the design, and is itself no word of the language: one letter
/// too many, too few, another one, or two that changed places (Damerau and Levenshtein).
pub(super) fn names(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.is_known() {
        return;
    }
    let names = name_words(subject);
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let all: Vec<At<'_>> = subject.text.all().collect();
    for word in all.iter().flat_map(|at| &at.sentence.words) {
        *counts.entry(&word.lower).or_default() += 1;
    }
    let explained: BTreeSet<String> = explained(subject);
    let mut told = BTreeSet::new();
    for at in &all {
        for (number, word) in at.sentence.words.iter().enumerate() {
            let often = counts
                .get(word.lower.as_str())
                .is_some_and(|count| *count > 1);
            let known = |noun: &str| subject.lexicon.is_common(noun) || explained.contains(noun);
            if often || !is_plain(word) || known(&word.lower) || known(&word.noun) {
                continue;
            }
            // another ending of the same word is no slip
            let is_form = |name: &str| subject.lexicon.stem(name) == word.stem;
            let near = |(name, _): &&(String, String)| is_slip(word, name) && !is_form(name);
            let Some((name, what)) = names.iter().find(near) else {
                continue;
            };
            if told.insert(word.lower.clone()) {
                let message = format!("‘{}’ is nearly ‘{name}’, of {what}", word.text);
                let remedy = "spell it as the design does, or use another word";
                said.push(warning(
                    "piece-misspelt",
                    &at.place(number),
                    message,
                    remedy,
                ));
            }
        }
    }
}

fn is_plain(word: &Word) -> bool {
    word.lower.chars().count() >= SHORTEST && word.lower.chars().all(char::is_alphabetic)
}

/// Whether `word` is one slip from `name` or from its plural.
fn is_slip(word: &Word, name: &str) -> bool {
    let near = |other: &str| {
        let whole = word.noun != *other && word.lower != *other;
        whole && strsim::damerau_levenshtein(&word.lower, other) == 1
    };
    let stem_is_same = word.lower.starts_with(name) || name.starts_with(word.lower.as_str());
    let plural = format!("{name}s");
    let alike =
        word.lower.chars().next() == name.chars().next() || transposed_start(&word.lower, name);
    alike && !stem_is_same && word.lower != plural && (near(name) || near(&plural))
}

/// Whether the first two letters changed places.
fn transposed_start(word: &str, name: &str) -> bool {
    let first = |text: &str| text.chars().take(2).collect::<Vec<char>>();
    let [a, mut b] = [first(word), first(name)];
    b.reverse();
    a == b
}

/// Words of the names of pieces, seams, cloths and trims, with what they are names of.
fn name_words(subject: &Subject) -> Vec<(String, String)> {
    let design = subject.design;
    let own = design.original.is_none();
    let mut names: Vec<(String, String)> = Vec::new();
    let mut add = |name: &str, what: String| {
        let words = name
            .split(|c: char| !c.is_alphabetic())
            .map(str::to_lowercase);
        for word in words.filter(|word| word.chars().count() >= SHORTEST) {
            if !names.iter().any(|(known, _)| *known == word) {
                names.push((word, what.clone()));
            }
        }
    };
    for piece in &design.pieces {
        add(&piece.title, format!("the piece ‘{}’", piece.title));
    }
    for seam in design.seams.iter().filter(|_| own) {
        add(&seam.name, format!("the seam ‘{}’", seam.name));
    }
    for cloth in &design.cloth {
        add(&cloth.name, format!("the cloth ‘{}’", cloth.name));
    }
    for trim in &design.trims {
        add(&trim.name, format!("the trim ‘{}’", trim.name));
    }
    names
}

/// Words that the booklet explains, and those of its own lists.
fn explained(subject: &Subject) -> BTreeSet<String> {
    let mut words: Vec<String> = Vec::new();
    let mut copy = subject.design.clone();
    crate::design::translated::each_text(&mut copy, &mut |_, text| words.push(text.clone()));
    words.extend(
        subject
            .design
            .look_up
            .glossary
            .iter()
            .map(|(word, _)| word.clone()),
    );
    let found = super::glossary::explained(subject);
    words.extend(found);
    let split = words
        .iter()
        .flat_map(|text| text.split(|c: char| !c.is_alphabetic()));
    split.map(str::to_lowercase).collect()
}

/// A word that stands twice in a row, in the chapters and in the words of the design.
pub(super) fn doubled(subject: &Subject, said: &mut Diagnostics) {
    for at in subject.text.all() {
        if let Some(number) = twice(subject, &at.sentence.words) {
            tell(&at.sentence.words[number].text, &at.place(number), said);
        }
    }
    for (path, text) in subject.own_texts() {
        let words = super::super::text::words(&text, subject.lexicon, |at| at);
        if let Some(number) = twice(subject, &words) {
            tell(&words[number].text, &subject.text_place(&path, &text), said);
        }
    }
}

fn tell(word: &str, place: &Place, said: &mut Diagnostics) {
    let message = format!("the word ‘{word}’ stands twice in a row");
    said.push(warning(
        "word-twice",
        place,
        message,
        "take one of them away",
    ));
}

/// Number of the second of two like words without a mark between them.
fn twice(subject: &Subject, words: &[Word]) -> Option<usize> {
    let allowed = subject.lexicon.list("doubled");
    let may = |word: &Word| {
        allowed
            .iter()
            .any(|phrase| phrase.words[0].lower == word.lower)
    };
    let same = |number: &usize| {
        let [first, second] = [&words[number - 1], &words[*number]];
        let is_word = second.lower.chars().all(char::is_alphabetic);
        first.lower == second.lower
            && is_word
            && second.lower.chars().count() > 1
            && !second.parted
            && !second.joined
            && !may(second)
    };
    (1..words.len()).find(same)
}
