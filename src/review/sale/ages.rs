//! Whether the finished thing is safe for those whom the design names. Ages in years, lengths in mm.

use super::super::names::{first_of, stands, stands_in_any_form};
use super::super::text::{Word, words};
use super::super::{Subject, error};
use crate::design::TrimKind;
use crate::diagnostic::Diagnostics;

/// Children under three put everything into their mouths: no small parts for them (EN 71-1, 5.1; 16 CFR
/// 1501.2).
const SMALL_PARTS: f64 = 3.0;

/// For children under three a cord on a toy is no longer than 220 mm (EN 71-1, 5.4; from memory).
const LONGEST_CORD: f64 = 220.0;

/// A design for young children has neither small hard parts nor long cords.
pub(in crate::review) fn safe(subject: &Subject, said: &mut Diagnostics) {
    let Some(age) = subject.design.age.as_deref() else {
        return;
    };
    let found = words(age, subject.lexicon, |at| at);
    let Some(youngest) = youngest(subject, &found, age).filter(|age| *age < SMALL_PARTS) else {
        return;
    };
    let place = subject.text_place("age", age);
    let said_where = match &subject.design.original {
        Some(_) => format!(" in language ‘{}’", subject.design.language),
        None => String::new(),
    };
    let cords: Vec<&str> = long_cords(subject);
    let small = small_parts(subject);
    let besides = match small.is_empty() {
        true => String::new(),
        false => format!("; small parts are {}", small.join(", ")),
    };
    let whom = match youngest > 0.0 {
        true if youngest < 2.0 => format!("children of {} months", (12.0 * youngest).round()),
        true => format!("children of {youngest} years"),
        false => "babies".to_string(),
    };
    if !cords.is_empty() {
        let message = format!(
            "it is said{said_where} to be for {whom}, and it has a cord on which a child can be strangled: {}{besides}",
            cords.join(", ")
        );
        let remedy = "say in ‘age:’ that it is not for children under three, or leave the cord out";
        said.push(error("age-long-cord", &place, message, remedy));
    } else if !small.is_empty() {
        let message = format!(
            "it is said{said_where} to be for {whom}, who can choke on small parts: {}",
            small.join(", ")
        );
        let remedy =
            "say in ‘age:’ that it is not for children under three, or leave the parts out";
        said.push(error("age-small-parts", &place, message, remedy));
    }
}

/// The youngest child that an age line allows; `None` if it names none, or keeps the young away.
fn youngest(subject: &Subject, words: &[Word], text: &str) -> Option<f64> {
    let mut allowed: Option<f64> = None;
    for sentence in text.split(['.', ';', '!']) {
        let found = super::super::text::words(sentence, subject.lexicon, |at| at);
        let refused = first_of(subject.lexicon.list("not for"), &found).is_some();
        if refused {
            continue;
        }
        let open = open_ages(sentence);
        let numbers = ages(subject, &found);
        // a doll's cradle may be made for children over eight
        let is_young = is_young(subject, &found, "young")
            || (numbers.is_empty() && is_young(subject, &found, "places of the young"));
        let least = numbers
            .into_iter()
            .chain(is_young.then_some(0.0))
            .chain(open)
            .min_by(f64::total_cmp);
        allowed = match (allowed, least) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
    }
    allowed.filter(|_| !words.is_empty())
}

/// Whether a word of a list for young children stands there that is none for a doll: ‘to dress a baby doll’.
fn is_young(subject: &Subject, words: &[Word], list: &str) -> bool {
    let lexicon = subject.lexicon;
    let is = |list: &str, at: usize| {
        let mut phrases = lexicon.list(list).iter();
        phrases.any(|phrase| stands_in_any_form(phrase, words, at))
    };
    let near =
        |at: usize| (at.saturating_sub(2)..(at + 2).min(words.len())).any(|n| is("of a doll", n));
    (0..words.len()).any(|at| is(list, at) && !near(at))
}

/// Ages from which on it is meant: `0+`.
fn open_ages(sentence: &str) -> Vec<f64> {
    let all = sentence.split(|c: char| c.is_whitespace() || "()[],".contains(c));
    let open = all.filter_map(|word| word.strip_suffix('+')?.parse().ok());
    open.collect()
}

/// Ages in a sentence: `from one year on`, `18 months`, `over eight`.
fn ages(subject: &Subject, words: &[Word]) -> Vec<f64> {
    let lexicon = subject.lexicon;
    let is = |list: &str, at: usize| {
        let mut phrases = lexicon.list(list).iter();
        phrases.any(|phrase| stands(phrase, words, at))
    };
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let Some(number) = lexicon.number(&word.lower) else {
            continue;
        };
        let behind =
            (at + 1..(at + 4).min(words.len())).find(|n| is("months", *n) || is("years", *n));
        let before = at > 0 && (at.saturating_sub(3)..at).any(|n| is("over", n));
        match behind {
            Some(n) if is("months", n) => found.push(f64::from(number) / 12.0),
            Some(_) => found.push(f64::from(number)),
            None if before => found.push(f64::from(number)),
            None => {}
        }
    }
    found
}

fn long_cords<'s>(subject: &'s Subject<'_>) -> Vec<&'s str> {
    let design = subject.design;
    let trims = design.trims.iter().filter(|trim| {
        matches!(trim.kind, TrimKind::Cord | TrimKind::Ribbon) && trim.length.is_some()
    });
    let long = trims.filter(|trim| {
        let length = longest(subject, &trim.key);
        length.is_none_or(|length| length > LONGEST_CORD)
    });
    long.map(|trim| trim.name.as_str()).collect()
}

/// The longest cut of a trim in any size, if it is known.
fn longest(subject: &Subject, key: &str) -> Option<f64> {
    let lengths = subject.trims.iter().filter(|trim| trim.key == key);
    let lengths = lengths.flat_map(|trim| trim.lines.iter().map(|line| line.length_mm));
    lengths.max_by(f64::total_cmp)
}

fn small_parts(subject: &Subject) -> Vec<String> {
    let trims = subject.design.trims.iter();
    let small = trims.filter(|trim| {
        let fits = trim
            .width
            .is_none_or(|width| trim.kind.fits_small_parts(width));
        trim.small_part || (trim.kind.is_hard() && fits)
    });
    small.map(|trim| trim.name.clone()).collect()
}
