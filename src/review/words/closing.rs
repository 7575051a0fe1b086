//! Whether the work is turned before its gap is closed, and whether a gap was left at all.

use super::super::names::{has, stands_in_any_form};
use super::super::text::{At, Word};
use super::super::{Subject, warning};
use crate::diagnostic::{Diagnostics, Place};

/// What a sentence does to a gap, in the order of its words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Deed {
    /// It is left open, or spoken of.
    Left,
    /// The work is turned through it.
    TurnedThrough,
    /// The work is turned right side out.
    Turned,
    Closed,
}

pub(super) fn turned_before_closed(subject: &Subject, said: &mut Diagnostics) {
    let (mut open, mut any) = (0_usize, false);
    // a gap that was closed before any was left
    let mut early: Option<Place> = None;
    // a gap that was closed although nothing was turned through it
    let mut vain: Option<Place> = None;
    let mut used = false;
    let mut told = 0;
    for at in subject.text.steps().filter(|at| !at.sentence.is_head) {
        for (deed, word) in deeds(subject, at) {
            match deed {
                Deed::Left => {
                    if let Some(place) = early.take().filter(|_| !any) {
                        let message = "a gap is sewn closed before a step leaves one open";
                        let remedy = "leave the gap first, and close it when the work is turned";
                        let code = "closed-before-turned";
                        said.push(warning(code, &place, message.into(), remedy));
                    }
                    (open, any, used, vain) = (open + 1, true, false, None);
                }
                Deed::Closed => {
                    match any {
                        true if !used => vain = Some(at.place(word)),
                        false if early.is_none() => early = Some(at.place(word)),
                        _ => {}
                    }
                    open = open.saturating_sub(1);
                }
                Deed::Turned | Deed::TurnedThrough if vain.is_some() && open == 0 => {
                    let message = "the gap is sewn closed before the work is turned through it";
                    let remedy = "turn the work first, and close the gap afterwards";
                    said.push(warning(
                        "closed-before-turned",
                        vain.as_ref().unwrap_or(&at.place(word)),
                        message.into(),
                        remedy,
                    ));
                    (vain, used) = (None, true);
                    told += 1;
                }
                Deed::TurnedThrough if !any && told == 0 => {
                    let message = "the work is turned through a gap that no step leaves open";
                    let remedy = "say before where the seam is left open, and how wide";
                    said.push(warning(
                        "closed-before-turned",
                        &at.place(word),
                        message.into(),
                        remedy,
                    ));
                    told += 1;
                }
                Deed::Turned | Deed::TurnedThrough => used = true,
            }
        }
    }
}

fn deeds(subject: &Subject, at: At<'_>) -> Vec<(Deed, usize)> {
    let lexicon = subject.lexicon;
    let words = &at.sentence.words;
    let is = |list: &str, number: usize| {
        let mut phrases = lexicon.list(list).iter();
        phrases.any(|phrase| stands_in_any_form(phrase, words, number))
    };
    let near = |list: &str, number: usize, reach: usize| {
        let from = number.saturating_sub(reach);
        let to = (number + reach + 1).min(words.len());
        (from..to).find(|n| is(list, *n))
    };
    let mut deeds = Vec::new();
    for number in 0..words.len() {
        if is("leave", number) && (number..(number + 14).min(words.len())).any(|n| is("open", n)) {
            deeds.push((Deed::Left, number));
        } else if is("gap", number) {
            let turned = near("through", number, 4).filter(|n| *n < number);
            let closes = closes(subject, words, number);
            match (turned, closes) {
                (Some(through), _) if turns(subject, words, through) => {
                    deeds.push((Deed::TurnedThrough, through))
                }
                (_, Some(word)) => deeds.push((Deed::Closed, word.max(number))),
                _ => {}
            }
            if turned.is_none() && closes.is_none() && mentions_new_gap(subject, words, number) {
                deeds.push((Deed::Left, number));
            }
        } else if is("opening", number) && closes(subject, words, number).is_some() {
            deeds.push((Deed::Closed, number));
        } else if is("but", number) && has(lexicon.list("sew"), words) {
            deeds.push((Deed::Left, number));
        } else if is("turn", number)
            && (number..(number + 8).min(words.len())).any(|n| is("right side out", n))
        {
            deeds.push((Deed::Turned, number));
        }
    }
    deeds.sort_by_key(|(_, number)| *number);
    deeds
}

/// Whether the sentence turns the work, or draws it through.
fn turns(subject: &Subject, words: &[Word], through: usize) -> bool {
    let turn = subject.lexicon.list("turn");
    has(turn, &words[..through]) || has(turn, &words[through..])
}

/// Where the gap at `number` is closed: a word for sewing before it and ‘closed’ behind it, or a word for
/// closing before it.
fn closes(subject: &Subject, words: &[Word], number: usize) -> Option<usize> {
    let lexicon = subject.lexicon;
    let denied = has(
        lexicon.list("not"),
        &words[number.saturating_sub(5)..number],
    );
    let before = &words[number.saturating_sub(5)..number];
    let after = &words[number + 1..(number + 8).min(words.len())];
    let shut = |words: &[Word]| {
        let mut list = lexicon.list("shut").iter();
        list.any(|shut| words.iter().any(|word| word.lower == shut.words[0].lower))
    };
    let sewn = has(lexicon.list("sew"), before);
    let closing = has(lexicon.list("close"), before);
    let closed = sewn && shut(after) || closing || (has(lexicon.list("sew"), after) && shut(after));
    (closed && !denied).then_some(number)
}

/// Whether a gap is spoken of as one that is made: ‘with a gap of’, ‘a gap remains’.
fn mentions_new_gap(subject: &Subject, words: &[Word], number: usize) -> bool {
    let article = number.checked_sub(1).and_then(|before| words.get(before));
    let new = article.is_some_and(|word| {
        subject.lexicon.has_word("a new", &word.lower)
            || subject.lexicon.number(&word.lower).is_some()
    });
    new || has(subject.lexicon.list("leave"), words)
}
