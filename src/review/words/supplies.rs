//! Whether what is bought is used: trims, tools, cloths.

use super::super::lexicon::Lexicon;
use super::super::names::{has, head_noun};
use super::super::text::Word;
use super::super::{Subject, warning};
use crate::design::{Trim, TrimKind};
use crate::diagnostic::Diagnostics;

pub(super) fn each_is_used(subject: &Subject, said: &mut Diagnostics) {
    if !subject.text.has_steps() || !subject.lexicon.is_known() {
        return;
    }
    let words: Vec<Word> = all_words(subject);
    for trim in &subject.design.trims {
        if !names_trim(subject, trim, &words) {
            let message = format!("no step says what becomes of the trim ‘{}’", trim.name);
            let remedy = "say in a step where it goes, or take it off the list";
            said.push(warning("trim-unmentioned", &trim.place, message, remedy));
        } else if matches!(trim.kind, TrimKind::Eyelet | TrimKind::Snap) && !is_set(subject, trim) {
            let message = format!(
                "the steps speak of the trim ‘{}’, and none sets it",
                trim.name
            );
            let remedy = "say in a step how it is set, and with which tool";
            said.push(warning("trim-unmentioned", &trim.place, message, remedy));
        }
    }
    for tool in &subject.design.tools {
        if !names_tool(subject, tool, &words) {
            let message = format!("the list has the tool ‘{tool}’, and the text never uses it");
            let remedy = "say in a step what it is for, or take it off the list";
            let place = subject.place_below("tools", tool);
            said.push(warning("tool-unmentioned", &place, message, remedy));
        }
    }
    if subject.design.original.is_none() {
        cloths(subject, &words, said);
    }
}

/// The words of all chapters, captions among them. A head or caption ends with a mark.
fn all_words(subject: &Subject) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    let mut add = |sentence: &super::Sentence| {
        let start = words.len();
        words.extend(sentence.words.iter().cloned());
        if let Some(first) = words.get_mut(start) {
            first.parted = true;
        }
    };
    subject.text.all().for_each(|at| add(at.sentence));
    for (_, section) in subject.text.sections() {
        let captions = section.figures.iter().flat_map(|figure| &figure.caption);
        captions.for_each(&mut add);
    }
    words
}

/// Whether a trim is called by its noun, its short name or its kind.
fn names_trim(subject: &Subject, trim: &Trim, words: &[Word]) -> bool {
    let lexicon = subject.lexicon;
    let noun = head_noun(&trim.name, lexicon);
    let own = subject.design.original.is_none();
    let key = own.then(|| lexicon.phrase(&trim.key));
    let kind = lexicon.phrase(trim.kind.words());
    let has_kind = lexicon.has_habit("words of the files") && trim.kind != TrimKind::Other;
    let kinds = [has_kind.then_some(kind), key];
    noun.is_some_and(|noun| {
        words
            .iter()
            .any(|word| same_noun(lexicon, &word.noun, &noun))
    }) || kinds
        .into_iter()
        .flatten()
        .any(|phrase| has(&[phrase], words))
}

/// Whether a step says how a trim is set: it names it, and a word for setting stands in the same step. What goes
/// through an eyelet, or closes with a snap, was not said to set it.
fn is_set(subject: &Subject, trim: &Trim) -> bool {
    let lexicon = subject.lexicon;
    let noun = head_noun(&trim.name, lexicon);
    let steps = subject.text.sections().filter(|(_, s)| s.step.is_some());
    steps.into_iter().any(|(_, section)| {
        let mut sentences = section.sentences.iter();
        sentences.any(|sentence| {
            let mut words = sentence.words.iter();
            let same = |word: &Word| {
                let noun = noun.as_ref();
                noun.is_some_and(|noun| same_noun(lexicon, &word.noun, noun))
            };
            has(lexicon.list("fixing"), &sentence.words) && words.any(same)
        })
    })
}

/// Whether two nouns are one; in a language of compounds also a part of one.
fn same_noun(lexicon: &Lexicon, word: &str, noun: &str) -> bool {
    let part = |short: &str, long: &str| short.chars().count() > 3 && long.ends_with(short);
    let starts = |short: &str, long: &str| short.chars().count() > 3 && long.starts_with(short);
    let compound = || part(word, noun) || part(noun, word) || starts(word, noun);
    word == noun || (lexicon.has_habit("compounds") && compound())
}

/// Whether one of the things that a line of the list names is spoken of, or done with.
fn names_tool(subject: &Subject, tool: &str, words: &[Word]) -> bool {
    let lexicon = subject.lexicon;
    let nouns = nouns_of_tool(subject, tool);
    let implied = lexicon
        .list("implied")
        .iter()
        .filter_map(|entry| entry.text.split_once('='));
    let mut does: Vec<String> = Vec::new();
    for (noun, verbs) in implied {
        if nouns.contains(&lexicon.noun(noun.trim())) {
            does.extend(verbs.split_whitespace().map(|verb| lexicon.stem(verb)));
        }
    }
    nouns.is_empty()
        || words.iter().any(|word| {
            let called = |noun: &String| same_noun(lexicon, &word.noun, noun);
            nouns.iter().any(called) || does.contains(&word.stem)
        })
}

/// The nouns of the things that a line of the list names: the last word of each part.
fn nouns_of_tool(subject: &Subject, tool: &str) -> Vec<String> {
    let lexicon = subject.lexicon;
    let mut rest = tool.to_lowercase();
    for word in [" or ", " and ", " oder ", " und ", ", ", "(", ";"] {
        rest = rest.replace(word, "|");
    }
    let parts = rest.split('|').filter(|part| !part.trim().is_empty());
    parts.filter_map(|part| head_noun(part, lexicon)).collect()
}

/// A cloth from which nothing is cut. A bias strip may come from it, or the text may cut it by itself.
fn cloths(subject: &Subject, words: &[Word], said: &mut Diagnostics) {
    let design = subject.design;
    let names = subject.cloth_names();
    let mut spoken = names.find(words);
    for words in design
        .trims
        .iter()
        .flat_map(|trim| [Some(&trim.name), trim.note.as_ref()])
    {
        let phrase = words.map_or("", String::as_str);
        let found = super::super::text::words(phrase, subject.lexicon, |at| at);
        spoken.extend(names.find(&found));
    }
    for (number, cloth) in design.cloth.iter().enumerate() {
        let mut cuts = design.pieces.iter().flat_map(|piece| &piece.cuts);
        let is_cut = cuts.any(|cut| cut.cloth == cloth.key);
        let is_named = spoken.iter().any(|mention| mention.of == number);
        if !is_cut && !is_named {
            let message = format!("no piece is cut from ‘{}’", cloth.name);
            let remedy = "name it in the ‘cut:’ of a piece, or take it off the list";
            said.push(warning("cloth-unused", &cloth.place, message, remedy));
        }
    }
}
