//! The text with which the pattern is offered, `listing.md`: what it promises is in the booklet.

use super::super::names::{has, stands};
use super::super::text::{Word, words};
use super::super::{Subject, error};
use super::promises::{promised_sizes, sizes};
use crate::diagnostic::{Diagnostics, Place};
use std::collections::BTreeSet;

pub(in crate::review) fn agrees(subject: &Subject, said: &mut Diagnostics) {
    let Some(source) = subject.listing.as_ref() else {
        return;
    };
    let found = words(&source.text, subject.lexicon, |at| at);
    let place = |offset: usize| {
        let before = &source.text[..source.text.floor_char_boundary(offset)];
        let line = before.rfind('\n').map_or(0, |at| at + 1);
        Place {
            source: source.clone(),
            line: before.matches('\n').count() + 1,
            column: before[line..].chars().count() + 1,
        }
    };
    let mut tell = |at: usize, message: String| {
        let remedy = "correct the listing, or the design";
        said.push(error("listing-disagrees", &place(at), message, remedy));
    };
    if let Some((promised, word)) = promised_sizes(subject, &found)
        && promised != sizes(subject)
    {
        let message = format!(
            "the listing promises {promised} sizes, and there are {}",
            sizes(subject)
        );
        tell(found[word].at, message);
    }
    if let Some((at, message)) = papers(subject, &found) {
        tell(at, message);
    }
    if let Some((at, message)) = languages(subject, &found) {
        tell(at, message);
    }
    if let Some((at, message)) = edition(subject, &found) {
        tell(at, message);
    }
    let stuff = other_materials(subject, &found);
    if !stuff.is_empty() {
        let message = format!(
            "the listing names {}, which the booklet does not",
            stuff.join(" and ")
        );
        let first = found
            .iter()
            .find(|word| stuff.iter().any(|s| s.contains(&word.noun)));
        tell(first.map_or(0, |word| word.at), message);
    }
}

/// Entries of a list that are written `key = words, words`, with the first place of their words.
fn entries<'l>(subject: &Subject<'l>, list: &str, found: &[Word]) -> Vec<(&'l str, usize)> {
    let lexicon = subject.lexicon;
    let read = lexicon
        .list(list)
        .iter()
        .filter_map(|entry| entry.text.split_once('='));
    let mut named = Vec::new();
    for (key, words) in read {
        let phrases: Vec<_> = words
            .split(',')
            .map(|words| lexicon.phrase(words))
            .collect();
        let here = |at: &usize| phrases.iter().any(|phrase| stands(phrase, found, *at));
        named.extend(
            (0..found.len())
                .find(here)
                .map(|at| (key.trim(), found[at].at)),
        );
    }
    named
}

fn papers(subject: &Subject, found: &[Word]) -> Option<(usize, String)> {
    let sold: BTreeSet<&str> = subject
        .design
        .papers
        .iter()
        .map(|(p, _)| p.key.as_str())
        .collect();
    let either = sold.contains("either");
    let named = entries(subject, "papers", found);
    let other = named
        .into_iter()
        .find(|(key, _)| !(sold.contains(key) || (either && matches!(*key, "a4" | "letter"))));
    let (key, at) = other?;
    let sold: Vec<&str> = sold.into_iter().collect();
    let message = format!(
        "the listing promises the paper {key}, and there is {}",
        sold.join(", ")
    );
    Some((at, message))
}

fn languages(subject: &Subject, found: &[Word]) -> Option<(usize, String)> {
    let design = subject.design;
    let further = design
        .translations
        .iter()
        .map(|translation| translation.language.as_str());
    let spoken: Vec<&str> = std::iter::once(design.language.as_str())
        .chain(further)
        .collect();
    let is_spoken = |key: &str| spoken.iter().any(|tag| tag.split('-').next() == Some(key));
    let named = entries(subject, "languages", found);
    let (key, at) = named.into_iter().find(|(key, _)| !is_spoken(key))?;
    let message = format!(
        "the listing promises the language ‘{key}’, and there is {}",
        spoken.join(", ")
    );
    Some((at, message))
}

/// An edition that is named by its number.
fn edition(subject: &Subject, found: &[Word]) -> Option<(usize, String)> {
    let list = subject.lexicon.list("edition");
    let edition = &subject.design.edition;
    let at = (0..found.len()).find(|at| list.iter().any(|phrase| stands(phrase, found, *at)))?;
    let number = found
        .get(at + 1)
        .filter(|word| word.lower.starts_with(|c: char| c.is_ascii_digit()))?;
    let same = number.lower == *edition || edition.starts_with(&format!("{}.", number.lower));
    (!same).then(|| {
        let message = format!(
            "the listing names edition {}, and this is edition {edition}",
            number.text
        );
        (number.at, message)
    })
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
            let part = |known: &String| lexicon.language == "de" && known.contains(&word.noun);
            known.contains(&word.noun) || known.iter().any(part)
        });
        let denied = has(lexicon.list("not"), &found[at.saturating_sub(3)..at]);
        if !is_known && !denied && !stuff.contains(&phrase.text) {
            stuff.push(phrase.text.clone());
        }
    }
    stuff
}
