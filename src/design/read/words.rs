//! `template/words/TAG.yaml`: a design's own words in a language, beside or instead of the program's.

use super::Reading;
use super::names;
use super::node::{Entry as Line, Kind, Node};
use super::words_kept;
use super::yaml;
use crate::diagnostic::{Diagnostic, Place};
use crate::language::plural::Plural;
use crate::language::table::Entry;
use crate::language::{COMPLETE, Words, phrase, primary};
use std::collections::{BTreeMap, BTreeSet};

/// The words of the language `tag`, which is named at `place`: the program's with those of the design.
/// Where neither has all, that is said.
pub(super) fn read(tag: &str, place: &Place, reading: &mut Reading<'_>) -> Words {
    let path = format!("template/words/{tag}.yaml");
    let source = reading.folder.text(&path);
    let tree = source
        .as_ref()
        .and_then(|source| yaml::tree(source, &source.text, 0, reading.diagnostics));
    let own = tree.map(|tree| entries(tag, &tree, reading));
    let own = own.unwrap_or_default();
    if !COMPLETE.contains(&primary(tag)) {
        tell_of_missing(tag, &own, place, reading);
    }
    Words::with(tag, &own)
}

/// The entries by `group.key`; what is none is reported.
fn entries(tag: &str, tree: &Node, reading: &mut Reading<'_>) -> BTreeMap<String, Entry> {
    let mut own = BTreeMap::new();
    for group in lines(tree, "a group of words", reading) {
        for line in lines(&group.value, "a key of words", reading) {
            let key = format!("{}.{}", group.key, line.key);
            if let Some(entry) = checked(&key, line, reading) {
                words_kept::check(tag, &key, &entry, &line.value.place, reading);
                own.insert(key, entry);
            }
        }
    }
    own
}

fn lines<'n>(node: &'n Node, what: &str, reading: &mut Reading<'_>) -> &'n [Line] {
    let Kind::Mapping(lines) = &node.kind else {
        if !node.is_null() {
            let message = format!("{what} is wanted here, not {}", node.words());
            let remedy = "write it as in the tables of words: ‘booklet:’, below it ‘page: page’";
            reading.error("wrong-type", &node.place, message, remedy);
        }
        return &[];
    };
    reading.duplicates(lines);
    lines
}

/// The entry of a line, if the program knows its key and fills its places.
fn checked(key: &str, line: &Line, reading: &mut Reading<'_>) -> Option<Entry> {
    let Some(english) = Words::english(key) else {
        let known: Vec<&str> = Words::keys().collect();
        let message = format!("‘{key}’ is no key of the words that are printed");
        let remedy = names::suggestion(key, &known);
        reading.error("unknown-key", &line.place, message, remedy);
        return None;
    };
    let entry = match (&line.value.kind, english) {
        (Kind::List(items), Entry::List(_)) => {
            let texts = items.iter().map(|item| reading.text(item, "a word"));
            Some(Entry::List(texts.collect::<Option<_>>()?))
        }
        (Kind::Mapping(forms), Entry::Forms(_)) => plural_forms(forms, reading),
        (Kind::Scalar(_), Entry::Text(_) | Entry::Forms(_)) => {
            Some(Entry::Text(whole(&line.value, reading)?))
        }
        _ => None,
    };
    let Some(entry) = entry else {
        let message = format!("‘{key}’ is written in another way");
        let remedy = match english {
            Entry::Text(_) => "write one text",
            Entry::List(_) => "write a list of texts",
            Entry::Forms(_) => "write a text for each form: {one: …, other: …}",
        };
        reading.error("wrong-type", &line.value.place, message, remedy);
        return None;
    };
    check_places(key, &entry, english, &line.value.place, reading);
    Some(entry)
}

/// The words as they are written, with the space at their ends: some are put on to others.
fn whole(node: &Node, reading: &mut Reading<'_>) -> Option<String> {
    reading.text(node, "the words")?;
    let text = &node.scalar()?.text;
    Some(text.trim_matches('\n').to_string())
}

fn plural_forms(lines: &[Line], reading: &mut Reading<'_>) -> Option<Entry> {
    let mut forms = BTreeMap::new();
    for line in lines {
        let form = Plural::ALL
            .into_iter()
            .find(|form| form.name() == line.key)?;
        forms.insert(form, whole(&line.value, reading)?);
    }
    forms
        .contains_key(&Plural::Other)
        .then_some(Entry::Forms(forms))
}

/// A place that the program does not fill would be printed with its braces.
fn check_places(
    key: &str,
    entry: &Entry,
    english: &Entry,
    place: &Place,
    reading: &mut Reading<'_>,
) {
    let texts = english.texts();
    let known: BTreeSet<&str> = texts.iter().flat_map(|text| phrase::places(text)).collect();
    for text in entry.texts() {
        for name in phrase::places(text) {
            let counts = matches!(english, Entry::Forms(_)) && ["n", "number"].contains(&name);
            if counts || known.contains(name) {
                continue;
            }
            let message = format!("nothing is filled in at {{{name}}} of ‘{key}’");
            let named: Vec<String> = known.iter().map(|name| format!("{{{name}}}")).collect();
            let remedy = match named.is_empty() {
                true => "take the braces away".to_string(),
                false => format!("its places are {}", named.join(", ")),
            };
            reading.error("unknown-place", place, message, remedy);
        }
    }
}

fn tell_of_missing(
    tag: &str,
    own: &BTreeMap<String, Entry>,
    place: &Place,
    reading: &mut Reading<'_>,
) {
    let missing: Vec<&str> = Words::keys()
        .filter(|key| !own.contains_key(*key))
        .collect();
    let Some(first) = missing.first() else {
        return;
    };
    let message = format!(
        "there are no words in ‘{tag}’ for ‘{first}’ and {} other keys; they are printed in English",
        missing.len() - 1
    );
    let remedy = format!("give them in template/words/{tag}.yaml, under the keys of the tables");
    let told = Diagnostic::warning("missing-translation", Some(place), message);
    reading.diagnostics.push(told.remedy(remedy));
}
