//! The words that a booklet explains: of the lists at hand, those that its text uses. Words that only
//! an explanation uses are explained too. A list is YAML: `words`, each with `word`, `also` (other
//! forms), `same` (other words for it), `as` (the only forms) and `means`; and `units`, each with `short` and `means`.

mod index;
#[cfg(test)]
mod tests;

use super::Prose;
use crate::design::Design;
use crate::design::weight::{self, Limit};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use index::{Index, plain};
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// Lists of the house by language.
const HOUSE: &[(&str, &str)] = &[
    ("en", include_str!("../../templates/words/glossary.en.yaml")),
    ("de", include_str!("../../templates/words/glossary.de.yaml")),
];

/// The same, read when they are first asked for.
static READ: [OnceLock<House>; HOUSE.len()] = [const { OnceLock::new() }; HOUSE.len()];

/// Words of a list that is read: the house has under a hundred.
const MOST: usize = 500;

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    #[serde(default)]
    words: Vec<Word>,
    #[serde(default)]
    units: Vec<Unit>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Word {
    word: String,
    #[serde(default)]
    also: Vec<String>,
    /// Other words for the same, which are printed too.
    #[serde(default)]
    same: Vec<String>,
    /// The only forms, where the word alone means other things too.
    #[serde(default, rename = "as")]
    only: Vec<String>,
    means: String,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Unit {
    short: String,
    means: String,
}

/// The words of a design's own: of its chapters, its cloths and its pieces.
fn own_words(prose: &Prose, design: &Design) -> String {
    let mut text = prose.words.clone();
    let notes = design
        .cloth
        .iter()
        .filter_map(|cloth| cloth.note.as_deref());
    let pieces = design.pieces.iter();
    let pieces = pieces.flat_map(|piece| [Some(piece.title.as_str()), piece.note.as_deref()]);
    for words in notes.chain(pieces.flatten()) {
        text.push('\n');
        text.push_str(words);
    }
    text
}

/// Those, and what the program prints: lengths and amounts of `data`, for their units, and what it says
/// itself of the work.
pub fn all_words(prose: &Prose, design: &Design, data: &Map<String, Value>) -> String {
    let mut text = own_words(prose, design);
    for part in [
        "sizes",
        "materials",
        "trims",
        "thread",
        "amounts",
        "cut_list",
    ] {
        if let Some(value) = data.get(part) {
            add_strings(value, &mut text, &|words| {
                words.contains(|c: char| c.is_ascii_digit())
            });
        }
    }
    for part in ["substitutes", "thread", "tools"] {
        if let Some(value) = data.get(part) {
            add_strings(value, &mut text, &|_| true);
        }
    }
    let layouts = data.get("layouts").and_then(Value::as_array);
    if layouts.is_some_and(|layouts| layouts.iter().any(|layout| layout["roll"] == true)) {
        text.push('\n');
        text.push_str(design.words.get("figures.selvedge"));
    }
    text
}

/// Adds the strings that are `wanted`; keys are not printed.
fn add_strings(value: &Value, text: &mut String, wanted: &dyn Fn(&str) -> bool) {
    match value {
        Value::String(words) if wanted(words) => {
            text.push('\n');
            text.push_str(words);
        }
        Value::Array(list) => list.iter().for_each(|v| add_strings(v, text, wanted)),
        Value::Object(map) => map.values().for_each(|v| add_strings(v, text, wanted)),
        _ => {}
    }
}

/// A list of the house.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct House {
    /// Endings with which a word of the language is the same word. Other forms are given as `also`.
    endings: Vec<String>,
    words: Vec<Word>,
    units: Vec<Unit>,
}

impl House {
    /// The list of a language; for one that has none, the endings of English and no words.
    fn of(language: &str) -> Self {
        let read = |wanted: &str| -> Option<&Self> {
            let at = HOUSE.iter().position(|(key, _)| *key == wanted)?;
            let list = || serde_yaml::from_str(HOUSE[at].1).unwrap_or_default();
            Some(READ[at].get_or_init(list))
        };
        read(language).cloned().unwrap_or_else(|| Self {
            endings: read("en").map_or_else(Vec::new, |english| english.endings.clone()),
            ..Self::default()
        })
    }
}

impl Word {
    /// The forms by which it is found.
    fn forms(&self) -> impl Iterator<Item = &String> {
        let all = self.also.iter().chain(&self.same).chain([&self.word]);
        let any = all.filter(move |_| self.only.is_empty());
        any.chain(&self.only)
    }

    /// What stands before the meaning: the words for it that `text`, whose words are in `index`, uses, or
    /// the word itself.
    fn head(&self, text: &str, index: &Index) -> String {
        let all = std::iter::once(&self.word).chain(&self.same);
        let used: Vec<&str> = all
            .filter(|w| index.has(text, w))
            .map(String::as_str)
            .collect();
        match used.is_empty() {
            true => self.word.clone(),
            false => used.join(", "),
        }
    }
}

/// What is explained in one booklet.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Glossary {
    /// Words and meanings, by the alphabet.
    pub words: Vec<(String, String)>,
    /// Short forms of units and what they stand for, in the order of the list.
    pub units: Vec<(String, String)>,
}

impl Glossary {
    /// As the template takes it.
    pub fn data(&self) -> Value {
        let pairs = |list: &[(String, String)]| -> Vec<Value> {
            list.iter()
                .map(|(word, means)| json!([word, means]))
                .collect()
        };
        json!({"words": pairs(&self.words), "units": pairs(&self.units)})
    }
}

/// The unit of the second test square, by which every booklet tells how to measure a print.
const SQUARES: &str = "in";

/// Path of the list that all designs of one designer share.
fn shared_path(language: &str) -> String {
    format!("{}/glossary.{language}.yaml", crate::folder::SHARED)
}

/// The words of the lists that `text` uses: of the house's list, of the shared one over it, of the
/// design's own over both. A shared list that cannot be read is told.
pub fn glossary(design: &Design, text: &str, diagnostics: &mut Diagnostics) -> Glossary {
    let language = design.language.split('-').next().unwrap_or("en");
    let house = House::of(language);
    let shared = design.shared.get(&shared_path(language));
    let shared = shared
        .and_then(|source| read(source, diagnostics))
        .unwrap_or_default();
    let mut known: BTreeMap<String, Word> = BTreeMap::new();
    let own = design.look_up.glossary.iter().map(|(word, means)| Word {
        word: word.clone(),
        also: Vec::new(),
        only: Vec::new(),
        means: means.clone(),
        same: Vec::new(),
    });
    for word in house.words.into_iter().chain(shared.words).chain(own) {
        let key = word.word.to_lowercase();
        // another meaning of a known word keeps the forms by which it is found
        let mut also = known
            .remove(&key)
            .map_or_else(Vec::new, |before| before.also);
        also.extend(word.also);
        known.insert(key, Word { also, ..word });
    }
    let again = |unit: &Unit| shared.units.iter().any(|other| other.short == unit.short);
    let mut units = house.units;
    units.retain(|unit| !again(unit));
    let units = units.into_iter().chain(shared.units);
    Glossary {
        words: used(known, &plain(text), house.endings),
        units: units
            .filter(|unit| unit.short == SQUARES || has_unit(text, &unit.short))
            .map(|unit| (unit.short, unit.means))
            .collect(),
    }
}

fn read(source: &std::sync::Arc<SourceText>, diagnostics: &mut Diagnostics) -> Option<List> {
    let at = |line, column| Place {
        source: source.clone(),
        line,
        column,
    };
    match weight::read::<List>(&source.text, Limit::WRITTEN) {
        Ok(list) if list.words.len() > MOST => {
            let message = format!("The list has {} words; {MOST} are read.", list.words.len());
            let told = Diagnostic::error("too-large", Some(&at(1, 1)), message);
            diagnostics.push(told.remedy("Keep the words that your designs use."));
            None
        }
        Ok(list) => Some(list),
        Err(fault) => {
            let place = at(fault.line, fault.column);
            let message = format!("The list of words cannot be read: {}.", fault.words);
            let (code, remedy) = match fault.code {
                "too-large" => (fault.code, "Take out words; aliases count each time."),
                _ => (
                    "word-list",
                    "Write ‘words:’ and below it ‘- {word: …, means: …}’.",
                ),
            };
            let told = Diagnostic::error(code, Some(&place), message);
            diagnostics.push(told.remedy(remedy));
            None
        }
    }
}

/// The words used, and those that their meanings use, by the alphabet.
fn used(
    mut known: BTreeMap<String, Word>,
    text: &str,
    endings: Vec<String>,
) -> Vec<(String, String)> {
    let mut index = Index::new(endings);
    for (key, word) in &known {
        word.forms().for_each(|form| index.add(key, form));
    }
    let mut found: Vec<Word> = Vec::new();
    let mut texts = vec![text.to_string()];
    while let Some(text) = texts.pop() {
        for key in index.used(&text) {
            if let Some(mut word) = known.remove(key) {
                texts.push(plain(&word.means));
                word.word = word.head(&text, &index);
                found.push(word);
            }
        }
    }
    found.sort_by_key(|word| collated(&word.word));
    found
        .into_iter()
        .map(|word| (word.word, word.means))
        .collect()
}

/// For the alphabet: umlauts as their vowels (DIN 5007-1), capitals as small letters.
fn collated(word: &str) -> String {
    let plain = |letter: char| match letter {
        'ä' => 'a',
        'ö' => 'o',
        'ü' => 'u',
        'é' | 'è' => 'e',
        other => other,
    };
    word.to_lowercase()
        .replace('ß', "ss")
        .chars()
        .map(plain)
        .collect()
}

/// Whether the unit stands behind a figure somewhere.
fn has_unit(text: &str, short: &str) -> bool {
    text.match_indices(short).any(|(at, _)| {
        let before = text[..at].trim_end_matches([' ', '\u{a0}', '\u{202f}', '\u{2009}']);
        let after = text[at + short.len()..].chars().next();
        before.len() < at
            && before.ends_with(|c: char| c.is_ascii_digit())
            && !after.is_some_and(|c| c.is_alphanumeric() || matches!(c, '²' | '/'))
    })
}
