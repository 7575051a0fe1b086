//! The text with which the pattern is offered, `listing.md`: what it promises is in the booklet.

use super::super::names::{has, stands};
use super::super::text::{Word, words};
use super::super::{Subject, error, warning};
use super::claims::{is_said, other_materials, promised_sizes, sizes};
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
    let remedy = "correct the listing, or the design";
    let facts = [
        other_title(subject, &source.text),
        other_sizes(subject, &found),
        papers(subject, &found),
        languages(subject, &found),
        edition(subject, &found),
        stuff(subject, &found),
    ];
    for fact in facts.into_iter().flatten() {
        let told = if fact.is_sure { error } else { warning };
        said.push(told(
            "listing-disagrees",
            &place(fact.at),
            fact.message,
            remedy,
        ));
    }
}

/// What the listing says otherwise.
struct Fact {
    /// Byte of the listing.
    at: usize,
    message: String,
    /// Whether a number or name of the design says otherwise, and not only a word that may mean something else.
    is_sure: bool,
}

/// A listing with a head that names the design nowhere by its title.
fn other_title(subject: &Subject, text: &str) -> Option<Fact> {
    let plain = |text: &str| -> String {
        let letters = text.chars().filter(|c| c.is_alphanumeric());
        letters.flat_map(char::to_lowercase).collect()
    };
    let head = text.lines().find_map(|line| line.strip_prefix("# "))?;
    let title = &subject.design.title;
    let further = subject.design.translations.iter();
    let titles = further.filter_map(|told| told.texts.get("title"));
    let mut titles = titles.chain([title]);
    let names = |title: &String| plain(text).contains(&plain(title));
    (!titles.any(names)).then(|| Fact {
        at: text.find("# ").unwrap_or(0),
        message: format!(
            "the listing is headed ‘{}’, and the design is called ‘{title}’",
            head.trim()
        ),
        is_sure: false,
    })
}

/// ‘In three sizes’ is a promise, ‘three sizes of’ something is none.
fn other_sizes(subject: &Subject, found: &[Word]) -> Option<Fact> {
    let (promised, word) = promised_sizes(subject, found)?;
    let count = sizes(subject);
    let lower = |at: usize| found.get(at).map(|w| w.lower.as_str());
    let of = |at: usize| lower(at).is_some_and(|word| subject.lexicon.has_word("of", word));
    let of_something = (word + 1..word + 4).any(of);
    let there = match count {
        1 => "there is one".to_string(),
        more => format!("there are {more}"),
    };
    (promised != count && !of_something && is_said(subject, found, word)).then(|| Fact {
        at: found[word].at,
        message: format!("the listing promises {promised} sizes, and {there}"),
        is_sure: false,
    })
}

fn stuff(subject: &Subject, found: &[Word]) -> Option<Fact> {
    let stuff = other_materials(subject, found);
    let named = |word: &&Word| stuff.iter().any(|s| s.contains(&word.noun));
    let first = found.iter().find(named);
    (!stuff.is_empty()).then(|| Fact {
        at: first.map_or(0, |word| word.at),
        message: format!(
            "the listing names {}, which the booklet does not",
            stuff.join(" and ")
        ),
        is_sure: false,
    })
}

/// Entries of a list that are written `key = words, words`, with the first place where their words are said,
/// and are no part of another name: `german`, not ‘German wool’.
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
        let here = |at: &usize| {
            let phrase = phrases.iter().find(|phrase| stands(phrase, found, *at));
            let behind = phrase.and_then(|phrase| found.get(*at + phrase.words.len()));
            let alone = behind.is_none_or(|word| {
                let closes = lexicon.list("of the booklet");
                word.parted || word.follows_line || has(closes, std::slice::from_ref(word))
            });
            phrase.is_some() && alone && is_said(subject, found, *at)
        };
        named.extend(
            (0..found.len())
                .find(here)
                .map(|at| (key.trim(), found[at].at)),
        );
    }
    named
}

fn papers(subject: &Subject, found: &[Word]) -> Option<Fact> {
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
    Some(Fact {
        at,
        message,
        is_sure: false,
    })
}

fn languages(subject: &Subject, found: &[Word]) -> Option<Fact> {
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
    Some(Fact {
        at,
        message,
        is_sure: false,
    })
}

/// An edition that is named by its number, unless the right one is named too. A version may be that of a
/// program: it is one of the pattern only if it has a full stop in it, as all of them have.
fn edition(subject: &Subject, found: &[Word]) -> Option<Fact> {
    let edition = &subject.design.edition;
    let is = |list: &str, at: usize| {
        let mut phrases = subject.lexicon.list(list).iter();
        phrases.any(|phrase| stands(phrase, found, at))
    };
    let numbers = (0..found.len()).filter_map(|at| {
        let number = found.get(at + 1)?;
        let in_figures = number.lower.starts_with(|c: char| c.is_ascii_digit());
        let is_named = is("edition", at) || (is("version", at) && number.lower.contains('.'));
        (in_figures && is_named).then_some(number)
    });
    let numbers: Vec<&Word> = numbers.collect();
    let same = |number: &&Word| {
        number.lower == *edition || edition.starts_with(&format!("{}.", number.lower))
    };
    let number = numbers.first().filter(|_| !numbers.iter().any(same))?;
    Some(Fact {
        at: number.at,
        message: format!(
            "the listing names edition {}, and this is edition {edition}",
            number.text
        ),
        is_sure: number.lower.matches('.').count() == 2,
    })
}
