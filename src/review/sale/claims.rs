//! What words for sale claim, on the cover as in the listing: sizes, stuff; and what of it the design has.

use super::super::Subject;
use super::super::clause::{denied, left_to_the_reader, sentence_of};
use super::super::names::{has, stands};
use super::super::text::Word;
use std::collections::BTreeSet;

/// How many sizes there are; left and right of one size count once.
pub(super) fn sizes(subject: &Subject) -> u32 {
    let declared: BTreeSet<&str> = subject
        .design
        .sizes
        .iter()
        .map(|s| s.declared.as_str())
        .collect();
    u32::try_from(declared.len()).unwrap_or(u32::MAX)
}

/// A number of sizes that words promise: `in three sizes`, and the number of the word.
pub(super) fn promised_sizes(subject: &Subject, words: &[Word]) -> Option<(u32, usize)> {
    let lexicon = subject.lexicon;
    (1..words.len()).find_map(|at| {
        let is_size = lexicon
            .list("size")
            .iter()
            .any(|phrase| stands(phrase, words, at));
        let from = at.saturating_sub(2);
        let number = (from..at)
            .rev()
            .find_map(|n| Some((lexicon.number(&words[n].lower)?, n)));
        number.filter(|_| {
            is_size
                && !words[at].lower.is_empty()
                && words[at].lower != lexicon.noun(&words[at].lower)
        })
    })
}

/// Whether the sentence says it, and neither denies it nor leaves it open.
pub(super) fn is_said(subject: &Subject, found: &[Word], at: usize) -> bool {
    let lexicon = subject.lexicon;
    let sentence = sentence_of(found, at);
    let elsewhere = has(lexicon.list("of other things"), sentence);
    !elsewhere && !denied(lexicon, found, at) && !left_to_the_reader(lexicon, sentence)
}

/// Stuff that words name and that the design has not, by its words.
pub(super) fn other_materials(subject: &Subject, found: &[Word]) -> Vec<String> {
    let design = subject.design;
    let lexicon = subject.lexicon;
    let mut own: Vec<String> = design
        .cloth
        .iter()
        .map(|cloth| cloth.name.clone())
        .collect();
    own.extend(
        design
            .cloth
            .iter()
            .map(|cloth| cloth.kind_words().to_string()),
    );
    own.extend(
        design
            .trims
            .iter()
            .flat_map(|trim| [trim.name.clone(), trim.kind.words().to_string()]),
    );
    own.extend(design.thread.iter().map(|thread| thread.name.clone()));
    own.extend(design.tools.iter().cloned());
    own.extend(design.pieces.iter().map(|piece| piece.title.clone()));
    own.push(design.title.clone());
    let known: BTreeSet<String> = own
        .iter()
        .flat_map(|name| lexicon.phrase(name).words)
        .map(|word| word.noun)
        .collect();
    let mut stuff: Vec<String> = Vec::new();
    for at in 0..found.len() {
        let mut list = lexicon.list("materials").iter();
        let Some(phrase) = list.find(|phrase| stands(phrase, found, at)) else {
            continue;
        };
        let is_known = phrase.words.iter().any(|word| {
            let part =
                |known: &String| lexicon.has_habit("compounds") && known.contains(&word.noun);
            known.contains(&word.noun) || known.iter().any(part)
        });
        let is_new = !is_known && !stuff.contains(&phrase.text);
        if is_new && is_said(subject, found, at) {
            stuff.push(phrase.text.clone());
        }
    }
    stuff
}
