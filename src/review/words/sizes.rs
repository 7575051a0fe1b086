//! Whether the sizes that the text names are sizes of the design.

use super::super::clause::{denied, left_to_the_reader};
use super::super::names::stands;
use super::super::text::Word;
use super::super::{Subject, warning};
use crate::diagnostic::Diagnostics;
use std::collections::BTreeSet;

/// A size in letters behind the word, or before it: `size XL`, `the XL size`.
pub(super) fn of_the_design(subject: &Subject, said: &mut Diagnostics) {
    let design = subject.design;
    let known: BTreeSet<String> = design
        .sizes
        .iter()
        .flat_map(|size| [&size.key, &size.declared, &size.title])
        .map(|name| name.to_lowercase())
        .collect();
    let mut told = BTreeSet::new();
    for at in subject.text.all() {
        let words = &at.sentence.words;
        let Some(number) = (0..words.len()).find(|n| names_a_size(subject, words, *n)) else {
            continue;
        };
        let name = &words[number];
        let is_asked =
            !denied(subject.lexicon, words, number) && !left_to_the_reader(subject.lexicon, words);
        if known.contains(&name.lower) || !is_asked || !told.insert(&name.lower) {
            continue;
        }
        let titles: Vec<&str> = design
            .sizes
            .iter()
            .map(|size| size.title.as_str())
            .collect();
        let message = format!(
            "the text speaks of the size ‘{}’, and the design has {}",
            name.text,
            titles.join(", ")
        );
        let remedy = "call the size as ‘sizes:’ does, or add it there";
        said.push(warning(
            "size-unknown-in-text",
            &at.place(number),
            message,
            remedy,
        ));
    }
}

/// Whether the word at `at` is the letters of a size beside the word ‘size’, and no hook's or button's.
fn names_a_size(subject: &Subject, words: &[Word], at: usize) -> bool {
    let list = subject.lexicon.list("size");
    let is_size = |n: usize| list.iter().any(|phrase| stands(phrase, words, n));
    let beside = |n: Option<usize>| n.is_some_and(|n| n < words.len() && is_size(n));
    let other = |n: usize| {
        words
            .get(n)
            .is_some_and(|word| !word.parted && is_thing(subject, word))
    };
    let behind = beside(at.checked_sub(1)) && !words[at].parted && !other(at + 1);
    let before = beside(Some(at + 1)) && !words[at + 1].parted && !other(at + 2);
    let mut letters = subject.lexicon.list("letters of sizes").iter();
    letters.any(|size| size.text == words[at].text) && (behind || before)
}

/// Whether a word is the noun of a tool or trim, which has sizes of its own.
fn is_thing(subject: &Subject, word: &Word) -> bool {
    let lists = ["tools", "tools with article", "materials"];
    let design = subject.design;
    let trims = design.trims.iter().map(|trim| &trim.name);
    let mut own = design.tools.iter().chain(trims);
    let phrases = lists.iter().flat_map(|list| subject.lexicon.list(list));
    phrases
        .into_iter()
        .any(|phrase| phrase.words.iter().any(|w| w.noun == word.noun))
        || own.any(|name| {
            let words = subject.lexicon.phrase(name).words;
            words.iter().any(|w| w.noun == word.noun)
        })
}
