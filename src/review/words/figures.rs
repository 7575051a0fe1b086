//! Figures and steps as the text refers to them.

use super::super::lexicon::Lexicon;
use super::super::names::stands;
use super::super::text::{Chapter, Figure, Section, Sentence, Word};
use super::super::{Subject, error, warning};
use crate::diagnostic::Diagnostics;
use std::collections::BTreeMap;

/// A figure may stand one step from where it is spoken of first.
const NEAR: usize = 1;

/// The references to one figure, by numbers of sections.
struct Referred {
    /// The section and sentence of the first one.
    first: (usize, usize),
    /// How many sections the nearest one is away from the figure.
    nearest: usize,
}

/// Each figure with a name is referred to, and its first reference stands by it.
pub(super) fn references(subject: &Subject, said: &mut Diagnostics) {
    let sections: Vec<_> = subject.text.sections().collect();
    let referred = referred(&sections);
    for (number, (_, section)) in sections.iter().enumerate() {
        for figure in &section.figures {
            let Some(name) = figure.name.as_deref() else {
                continue;
            };
            let words = name.replace('_', " ");
            let Some(referred) = referred.get(name) else {
                let message = format!("nothing in the text refers to the figure ‘{words}’");
                let remedy =
                    format!("write ‘({{{{ figure.{name} }}}})’ where one should look at it");
                let place = &figure.place;
                said.push(warning("figure-unreferred", place, message, &remedy));
                continue;
            };
            let (from, sentence) = referred.first;
            let (chapter, section) = sections[from];
            let is_far = number > from + NEAR || referred.nearest > NEAR;
            if section.step.is_some() && is_far {
                let sentence = section.sentences.get(sentence);
                let at = sentence.map_or(section.at, |sentence| sentence.at);
                let message = format!(
                    "the figure ‘{words}’ stands {} steps from where the text refers to it first",
                    number.abs_diff(from)
                );
                let remedy = "move the figure, or refer to it only in its own step";
                let place = chapter.filled.place(at);
                said.push(warning("figure-far", &place, message, remedy));
            }
        }
    }
}

/// The references of all sections, by the names of figures.
fn referred<'t>(sections: &[(&Chapter, &'t Section)]) -> BTreeMap<&'t str, Referred> {
    let home = |name: &str| {
        let holds = |figure: &Figure| figure.name.as_deref() == Some(name);
        let mut sections = sections.iter();
        sections.position(|(_, section)| section.figures.iter().any(holds))
    };
    let mut all: BTreeMap<&str, Referred> = BTreeMap::new();
    for (number, (_, section)) in sections.iter().enumerate() {
        let captions = section.figures.iter().flat_map(|figure| &figure.caption);
        for (place, sentence) in section.sentences.iter().chain(captions).enumerate() {
            for (name, _) in &sentence.figures {
                let distance = home(name).map_or(0, |home| home.abs_diff(number));
                let referred = all.entry(name).or_insert(Referred {
                    first: (number, place),
                    nearest: distance,
                });
                referred.nearest = referred.nearest.min(distance);
            }
        }
    }
    all
}

/// A caption that names pieces in its first sentence names one that is drawn; further sentences may speak of
/// what is left out.
pub(super) fn captions(subject: &Subject, said: &mut Diagnostics) {
    if !subject.lexicon.is_known() {
        return;
    }
    let names = subject.piece_names();
    for (_, section) in subject.text.sections() {
        for figure in section.figures.iter().filter(|figure| figure.drawn) {
            let drawn = drawn(subject, figure);
            // a shoe in the making shows more pieces than its block names
            if drawn.is_empty() || figure.shoe {
                continue;
            }
            let words = figure
                .caption
                .iter()
                .take(1)
                .flat_map(|s| names.find(&s.words));
            let named: Vec<usize> = words.map(|mention| mention.of).collect();
            let fits = |piece: &usize| drawn.contains(piece) || resembles(subject, *piece, &drawn);
            if named.is_empty() || named.iter().any(fits) {
                continue;
            }
            let titles = |pieces: &[usize]| {
                let titles = pieces
                    .iter()
                    .map(|i| format!("‘{}’", subject.design.pieces[*i].title));
                titles.collect::<Vec<_>>().join(", ")
            };
            let message = format!(
                "the caption speaks of {}, and the figure shows {}",
                titles(&named),
                titles(&drawn)
            );
            let remedy = "change the caption, or the figure's ‘pieces:’";
            said.push(warning("caption-disagrees", &figure.place, message, remedy));
        }
    }
}

/// Numbers of the pieces that a figure shows, those of its seam among them.
fn drawn(subject: &Subject, figure: &Figure) -> Vec<usize> {
    let named = figure.pieces.iter().filter_map(|key| subject.piece(key));
    let mut seams = subject.design.seams.iter();
    let seam = seams.find(|seam| Some(&seam.name) == figure.seam.as_ref());
    let joined = seam
        .into_iter()
        .flat_map(|seam| [&seam.join.piece, &seam.to.piece]);
    named
        .chain(joined.filter_map(|key| subject.piece(key)))
        .collect()
}

/// Whether the name of a piece is part of that of one that is drawn: a pocket, and a pocket lining.
fn resembles(subject: &Subject, piece: usize, drawn: &[usize]) -> bool {
    let title = |number: usize| subject.lexicon.phrase(&subject.design.pieces[number].title);
    let words = title(piece).words;
    let shares = |other: &usize| {
        let other = title(*other).words;
        words
            .iter()
            .any(|word| other.iter().any(|o| o.noun == word.noun))
    };
    drawn.iter().any(shares)
}

/// A step that is referred to by its number is there.
pub(super) fn steps(subject: &Subject, said: &mut Diagnostics) {
    let last = subject
        .text
        .sections()
        .filter_map(|(_, section)| section.step)
        .max();
    let last = last.unwrap_or(0);
    for at in subject.text.all() {
        for (word, number) in numbers_after(subject, "step", at.sentence) {
            if number == 0 || number > last {
                let message =
                    format!("the text refers to step {number}, and the last step is {last}");
                let remedy = "refer to the step by what is done in it, or correct its number";
                // ‘step 9 of the other booklet’ may be right
                let told = match stands_alone(subject.lexicon, &at.sentence.words, word) {
                    true => error,
                    false => warning,
                };
                said.push(told("step-reference", &at.place(word), message, remedy));
            } else if Some(number) == at.section.step && refers(subject, at.sentence, word) {
                let message = format!("step {number} sends to itself");
                let remedy = "refer to the step that is meant by what is done in it";
                said.push(warning("step-reference", &at.place(word), message, remedy));
            }
        }
    }
}

/// Whether words before a step's number send to it: ‘as in step four’.
fn refers(subject: &Subject, sentence: &Sentence, number: usize) -> bool {
    let before = &sentence.words[number.saturating_sub(4)..number];
    !sentence.is_head && super::words_have(subject.lexicon, "as in", before)
}

/// A figure whose number is typed by hand is there.
pub(super) fn typed(subject: &Subject, said: &mut Diagnostics) {
    let last = subject.prose.shown.len();
    for at in subject.text.all() {
        for (word, number) in numbers_after(subject, "figure", at.sentence) {
            if number > last {
                let message = format!(
                    "the text sends to figure {number}, and the booklet has {last} of its own"
                );
                let remedy = "give the figure a ‘name:’ and write ‘{{ figure.NAME }}’";
                said.push(warning("figure-number", &at.place(word), message, remedy));
            }
        }
    }
}

/// Numbers behind a word of `list`: `step 9`, `steps 3 to 5`, `step nine`.
fn numbers_after(subject: &Subject, list: &str, sentence: &Sentence) -> Vec<(usize, usize)> {
    let lexicon = subject.lexicon;
    let words = &sentence.words;
    let mut found = Vec::new();
    let is_link = |word: &Word| is_link(lexicon, word);
    for from in 0..words.len() {
        let is_word = lexicon
            .list(list)
            .iter()
            .any(|phrase| stands(phrase, words, from));
        // each step by itself, or one of them, is no reference
        let counted = from.checked_sub(1).is_some_and(|before| {
            let before = &words[before].lower;
            lexicon.number(before).is_some() || lexicon.has_word("each step", before)
        });
        if !is_word || counted {
            continue;
        }
        let mut at = from + 1;
        while let Some(word) = words.get(at) {
            let number = lexicon
                .number(&word.lower)
                .filter(|_| !followed_by_unit(lexicon, sentence, at));
            match number {
                // in ‘repeat step 3 10 times’ the second number is none of a step
                Some(_) if at > from + 1 && !is_link(&words[at - 1]) && !word.parted => break,
                Some(number) => found.push((at, number as usize)),
                None if is_link(word) => {}
                None => break,
            }
            at += 1;
        }
    }
    found
}

/// Whether a word stands between numbers of one row: ‘3 to 5’, ‘3 and 5’.
fn is_link(lexicon: &Lexicon, word: &Word) -> bool {
    let mut lists = ["and or", "up to"].into_iter();
    lists.any(|list| lexicon.has_word(list, &word.lower))
}

/// Whether nothing follows a number that could say of what it is the number.
fn stands_alone(lexicon: &Lexicon, words: &[Word], number: usize) -> bool {
    let next = words.get(number + 1);
    next.is_none_or(|next| next.parted || is_link(lexicon, next))
}

/// Whether a length or a thing is counted there: ‘step one by one’, ‘in steps 5 mm wide’.
fn followed_by_unit(lexicon: &Lexicon, sentence: &Sentence, at: usize) -> bool {
    let next = sentence
        .words
        .get(at + 1)
        .map_or("", |word| word.lower.as_str());
    lexicon.has_word("counted after", next) || sentence.words[at].lower.contains(['.', '/', '⁄'])
}
