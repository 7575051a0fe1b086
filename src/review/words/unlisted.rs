//! Whether the steps ask for what nobody was told to have: tools, materials, pieces.

use super::super::clause::{denied, left_to_the_reader};
use super::super::lexicon::{Lexicon, Phrase, PhraseWord};
use super::super::names::{stands, stands_in_any_form};
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use super::words_have;
use crate::diagnostic::Diagnostics;
use std::collections::BTreeSet;

/// A tool that no line of the list holds.
pub(super) fn tools(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let listed = listed(subject);
    let mut told = BTreeSet::new();
    for at in subject.text.steps().filter(|at| !at.sentence.is_caution) {
        let words = &at.sentence.words;
        for from in 0..words.len() {
            let sure = lexicon
                .list("tools")
                .iter()
                .find(|tool| stands(tool, words, from));
            let noun = lexicon.list("tools with article").iter();
            let noun = noun.into_iter().find(|tool| {
                let article = from.checked_sub(1).and_then(|before| words.get(before));
                let is_article = |word: &Word| is_one(subject, "articles", word);
                stands(tool, words, from) && article.is_some_and(is_article)
            });
            let Some(tool) = sure.or(noun) else {
                continue;
            };
            let is_listed = tool
                .words
                .last()
                .is_some_and(|word| listed.contains(&word.noun));
            if !is_listed && asks_for(subject, words, from) && told.insert(tool.text.clone()) {
                let message = format!(
                    "a step asks for the tool ‘{}’, which is not on the list",
                    called(subject, words, from, tool)
                );
                let remedy = "add it to ‘tools:’, or do without it";
                said.push(warning("tool-unlisted", &at.place(from), message, remedy));
            }
        }
    }
}

/// Whether the sentence asks for the thing at `at`, and does not only compare with it, or say of whom it is.
fn asks_for(subject: &Subject, words: &[Word], at: usize) -> bool {
    let lexicon = subject.lexicon;
    !denied(lexicon, words, at)
        && !left_to_the_reader(lexicon, words)
        && !words_have(lexicon, "only spoken of", words)
        && !has_none(lexicon, &words[at..])
}

/// Whether it is said behind a thing that there is none.
fn has_none(lexicon: &Lexicon, behind: &[Word]) -> bool {
    behind.iter().enumerate().any(|(number, word)| {
        let of = behind
            .get(number + 1)
            .is_some_and(|next| lexicon.has_word("of", &next.lower));
        lexicon.has_word("none", &word.lower) && !of
    })
}

/// What a thing is called in a message: as the list has it; where nouns have capitals, with those of the text.
fn called(subject: &Subject, words: &[Word], from: usize, thing: &Phrase) -> String {
    if !subject.lexicon.has_habit("capital nouns") {
        return thing.text.clone();
    }
    let written = words.iter().skip(from).take(thing.words.len());
    let written: Vec<&str> = written.map(|word| word.text.as_str()).collect();
    written.join(" ")
}

/// Whether a word is one of a list, in any form.
fn is_one(subject: &Subject, list: &str, word: &Word) -> bool {
    let mut phrases = subject.lexicon.list(list).iter();
    phrases.any(|phrase| phrase.words.len() == 1 && phrase.words[0].lower == word.lower)
}

/// Nouns of everything that the design names: lists, pieces, edges, marks, notes, its words for buyers.
fn listed(subject: &Subject) -> BTreeSet<String> {
    let design = subject.design;
    let mut copy = design.clone();
    let mut words = Vec::new();
    crate::design::translated::each_text(&mut copy, &mut |_, text| words.push(text.clone()));
    let own = design.original.as_deref().unwrap_or(design);
    for piece in &own.pieces {
        words.push(piece.key.clone());
        words.extend(piece.notches.iter().map(|notch| notch.name.clone()));
        words.extend(piece.edge_allowances.iter().map(|(edge, ..)| edge.clone()));
        if let crate::design::ShapeSpec::Drawn { edges, .. } = &piece.shape {
            words.extend(edges.iter().map(|edge| edge.name.clone()));
        }
    }
    words.extend(own.seams.iter().map(|seam| seam.name.clone()));
    words.extend(
        own.trims
            .iter()
            .flat_map(|trim| [trim.key.clone(), trim.kind.words().to_string()]),
    );
    words.extend(
        own.cloth
            .iter()
            .flat_map(|cloth| [cloth.key.clone(), cloth.kind_words().to_string()]),
    );
    words.extend(own.measures.iter().map(|(name, _)| name.clone()));
    words.extend(design.look_up.glossary.iter().map(|(word, _)| word.clone()));
    if own.shoe.is_some() {
        // the upper and its parts come with the shoe
        words.extend(["upper", "tongue", "strap", "insole"].map(String::from));
    }
    let phrases = words
        .iter()
        .flat_map(|text| subject.lexicon.phrase(text).words);
    phrases.map(|word| word.noun).collect()
}

/// Stuff that is neither cloth nor trim nor tool of the design.
pub(super) fn materials(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let listed = listed(subject);
    let mut told = BTreeSet::new();
    for at in subject.text.steps().filter(|at| !at.sentence.is_caution) {
        let words = &at.sentence.words;
        let spared = spared(subject, words);
        for from in (0..words.len()).filter(|from| !spared.contains(from)) {
            let mut list = lexicon.list("materials").iter();
            let Some(stuff) = list.find(|stuff| stands(stuff, words, from)) else {
                continue;
            };
            let is_listed = stuff
                .words
                .iter()
                .any(|word| has_noun(subject, &listed, &word.noun));
            let asked_for = asks_for(subject, words, from) && !is_verb(subject, words, from);
            if is_listed || !asked_for {
                continue;
            }
            if told.insert(stuff.text.clone()) {
                let message = format!(
                    "a step uses ‘{}’, which is on no list of materials",
                    called(subject, words, from, stuff)
                );
                let remedy = "add it to ‘cloth:’ or ‘trims:’, or leave it out of the step";
                said.push(warning(
                    "material-unlisted",
                    &at.place(from),
                    message,
                    remedy,
                ));
            }
        }
    }
}

/// Whether the design names a noun; in a language of compounds also as a part of one.
fn has_noun(subject: &Subject, listed: &BTreeSet<String>, noun: &str) -> bool {
    let compound = |known: &String| {
        let [short, long] = if known.len() < noun.len() {
            [known.as_str(), noun]
        } else {
            [noun, known.as_str()]
        };
        // ‘klein’ is no sort of ‘Leinen’: what is left must be a word, too
        let is_part = long.starts_with(short) || long.ends_with(short);
        let rest = long.chars().count() - short.chars().count();
        short.chars().count() > 3 && is_part && (rest == 0 || rest >= 3)
    };
    listed.contains(noun) || (subject.lexicon.has_habit("compounds") && listed.iter().any(compound))
}

/// Numbers of words that only look like stuff.
fn spared(subject: &Subject, words: &[Word]) -> BTreeSet<usize> {
    let mut spared = BTreeSet::new();
    for phrase in subject.lexicon.list("not materials") {
        let found = (0..words.len()).filter(|from| stands_in_any_form(phrase, words, *from));
        for from in found {
            // what a scrap is of is meant too
            spared.extend(from..=from + phrase.words.len());
        }
    }
    spared
}

/// Whether the word at `from` is rather done than used: the first of its sentence, or behind ‘to’ or
/// ‘and’, and followed by an article.
fn is_verb(subject: &Subject, words: &[Word], from: usize) -> bool {
    let next = words.get(from + 1);
    let then = next.is_some_and(|word| {
        is_one(subject, "articles", word) || subject.lexicon.has_word("behind a verb", &word.lower)
    });
    let before = from.checked_sub(1).and_then(|before| words.get(before));
    let leads = before.is_none_or(|word| subject.lexicon.has_word("before a verb", &word.lower));
    subject.lexicon.has_habit("verbs as nouns") && then && leads
}

/// A piece as many patterns have it, and this one has not.
pub(super) fn pieces(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let listed = listed(subject);
    let mut told = BTreeSet::new();
    for at in subject.text.steps().filter(|at| !at.sentence.is_caution) {
        let words = &at.sentence.words;
        for from in 0..words.len() {
            let sewn = words_have(lexicon, "join", words);
            let when_sewn = lexicon.list("pieces when sewn").iter().filter(|_| sewn);
            let mut list = lexicon.list("pieces").iter().chain(when_sewn);
            let Some(piece) = list.find(|piece| stands(piece, words, from)) else {
                continue;
            };
            let last = &piece.words[piece.words.len() - 1].noun;
            // the front panel of a design whose piece is the front
            let title = |word: &PhraseWord| piece.words.len() > 1 && is_title(subject, &word.noun);
            let is_known = has_noun(subject, &listed, last) || piece.words.iter().any(title);
            let asked_for = asks_for(subject, words, from);
            if is_known || !asked_for || belongs_to_somebody(subject, at, from) {
                continue;
            }
            if told.insert(last.clone()) {
                let message = format!(
                    "a step speaks of ‘{}’, and the design has no such piece",
                    called(subject, words, from, piece)
                );
                let remedy = nearest(subject, &piece.text);
                said.push(warning(
                    "piece-unknown-in-text",
                    &at.place(from),
                    message,
                    &remedy,
                ));
            }
        }
    }
}

/// Whether a noun is the last one of a piece's title.
fn is_title(subject: &Subject, noun: &str) -> bool {
    let mut pieces = subject.design.pieces.iter();
    pieces.any(|piece| {
        let title = subject.lexicon.phrase(&piece.title);
        title.words.iter().any(|word| word.noun == noun)
    })
}

/// Whether it is a part of the doll or of somebody, or something done: ‘her arm’, ‘the doll's leg’, ‘hood
/// the doll’.
fn belongs_to_somebody(subject: &Subject, at: At<'_>, from: usize) -> bool {
    let words = &at.sentence.words;
    let around = &words[from.saturating_sub(4)..(from + 4).min(words.len())];
    let is_body = around.iter().any(|word| {
        let owner = word
            .lower
            .trim_end_matches("'s")
            .trim_end_matches("’s")
            .to_string();
        let noun = subject.lexicon.noun(&owner);
        let mut bodies = subject.lexicon.list("body parts").iter();
        bodies.any(|body| body.words[0].noun == noun)
    });
    is_body || is_verb(subject, words, from)
}

fn nearest(subject: &Subject, name: &str) -> String {
    let titles: Vec<&str> = subject
        .design
        .pieces
        .iter()
        .map(|p| p.title.as_str())
        .collect();
    let distance = |title: &&&str| strsim::damerau_levenshtein(&title.to_lowercase(), name);
    let near = titles
        .iter()
        .min_by_key(distance)
        .filter(|title| distance(title) <= 2);
    match near {
        Some(near) => format!("did you mean ‘{near}’?"),
        None => format!("its pieces are {}", titles.join(", ")),
    }
}
