//! Words of the trade: whether the booklet explains them, and whether it explains none in vain.

use super::super::lexicon::{Phrase, PhraseWord};
use super::super::names::stands_in_any_form;
use super::super::{Subject, warning};
use crate::booklet::glossary::{all_words, glossary};
use crate::diagnostic::Diagnostics;
use crate::materials::Amount;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;

pub(super) fn words(subject: &Subject, said: &mut Diagnostics) {
    let explained = explained(subject);
    unexplained(subject, &explained, said);
    let own = &subject.design.look_up.glossary;
    for (word, _) in own {
        let has = explained
            .iter()
            .any(|known| known.eq_ignore_ascii_case(word));
        if !has {
            let message = format!("the glossary explains ‘{word}’, and the text never uses it");
            let remedy = "use the word in the text, or take it out of ‘glossary:’";
            let place = subject.place_below("glossary", word);
            said.push(warning("glossary-unused", &place, message, remedy));
        }
    }
}

/// The words that the booklet explains.
pub(super) fn explained(subject: &Subject) -> Vec<String> {
    let design = subject.design;
    let text = all_words(subject.prose, design, &printed(subject));
    // a list that cannot be read was told when the booklet was set
    let found = glossary(design, &text, &mut Diagnostics::default());
    found.words.into_iter().map(|(word, _)| word).collect()
}

/// What the program itself prints of the work.
fn printed(subject: &Subject) -> Map<String, Value> {
    let materials = subject.materials;
    let mut printed = Map::new();
    printed.insert("substitutes".into(), json!(materials.substitutes));
    printed.insert("thread".into(), json!(materials.thread));
    printed.insert("tools".into(), json!(materials.tools));
    // the drawing of a layout off the roll names its selvedge
    let roll = materials
        .bought
        .iter()
        .any(|bought| matches!(bought.amount, Amount::Length { .. }));
    printed.insert("layouts".into(), json!([{"roll": roll}]));
    printed
}

/// A word of the trade in a step that the booklet does not explain.
fn unexplained(subject: &Subject, explained: &[String], said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let heads = explained.iter().flat_map(|head| head.split(", "));
    let known: Vec<_> = heads.map(|head| lexicon.phrase(head)).collect();
    let pieces = subject.design.pieces.iter();
    let titles: BTreeSet<String> = pieces
        .flat_map(|piece| lexicon.phrase(&piece.title).words)
        .map(|word| word.noun)
        .collect();
    let mut told = BTreeSet::new();
    for at in subject.text.steps() {
        let words = &at.sentence.words;
        for from in 0..words.len() {
            let mut list = lexicon.list("trade words").iter();
            let written = |trade: &&Phrase| {
                let last = from + trade.words.len() - 1;
                let ends = |(n, word): (usize, &PhraseWord)| {
                    let start = word.lower.trim_end_matches(['e', 'n']);
                    words
                        .get(from + n)
                        .is_some_and(|word| word.lower.starts_with(start))
                };
                words.get(last).is_some() && trade.words.iter().enumerate().all(ends)
            };
            // a case is no casing, though their stems are the same
            let found = list.find(|trade| stands_in_any_form(trade, words, from) && written(trade));
            let Some(trade) = found else {
                continue;
            };
            let covers = |known: &Phrase| {
                known
                    .words
                    .iter()
                    .any(|k| trade.words.iter().any(|t| k.stem == t.stem))
            };
            let is_title = trade.words.iter().any(|word| titles.contains(&word.noun));
            if known.iter().any(covers) || is_title || !told.insert(trade.text.clone()) {
                continue;
            }
            let message = format!(
                "a step uses ‘{}’, and the booklet does not explain it",
                trade.text
            );
            let remedy = format!(
                "say what is done in plain words, or add ‘{}’ to ‘glossary:’",
                trade.text
            );
            said.push(warning(
                "word-unexplained",
                &at.place(from),
                message,
                &remedy,
            ));
        }
    }
}
