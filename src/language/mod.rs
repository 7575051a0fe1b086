//! The words that are printed, by language: one table for each language in `templates/words`, which a
//! design may add to. No other room holds a printed word of its own.
//!
//! A key names a sentence as `group.key`; its values stand in braces. What depends on a number has
//! several forms ([`plural`]). Lists, numbers in words and dates are made by the table's own sentences
//! ([`phrase`]).

pub mod phrase;
pub mod plural;
pub mod table;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::fmt::Display;
use std::sync::{Arc, OnceLock};
use table::{Entry, Table};

/// The languages whose tables are complete, English first: what a table lacks is English.
pub const COMPLETE: [&str; 2] = ["en", "de"];

/// The tables of these languages, each over the English one, read when they are first asked for.
static TABLES: [OnceLock<Arc<Table>>; COMPLETE.len()] = [const { OnceLock::new() }; COMPLETE.len()];

/// The program's words in the language with this tag; in English, if it has none in that.
fn table_of(tag: &str) -> &'static Arc<Table> {
    let at = COMPLETE.iter().position(|known| *known == primary(tag));
    let at = at.unwrap_or(0);
    TABLES[at].get_or_init(|| {
        let own = Table::embedded(COMPLETE[at]).unwrap_or_default();
        if at == 0 {
            return Arc::new(own);
        }
        let mut table = Table::clone(table_of(COMPLETE[0]));
        table.entries.extend(own.entries);
        Arc::new(table)
    })
}

/// The words of one language. Cheap to clone.
#[derive(Debug, Clone, PartialEq)]
pub struct Words {
    tag: String,
    table: Arc<Table>,
}

/// Quotation marks, the opening one first.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Quotes {
    /// Of what is said.
    pub double: [String; 2],
    /// Within these.
    pub single: [String; 2],
}

impl Quotes {
    /// Whether `character` is an opening mark.
    pub fn opens(&self, character: char) -> bool {
        let mut opening = [&self.double[0], &self.single[0]].into_iter();
        opening.any(|mark| mark.starts_with(character))
    }
}

/// Values by the name of their place.
pub type Places<'a> = &'a [(&'a str, &'a dyn Display)];

impl Default for Words {
    /// English.
    fn default() -> Self {
        Self::of("en")
    }
}

impl Words {
    /// The words of the language with this BCP 47 tag; what there is no word for is English.
    pub fn of(tag: &str) -> Self {
        Self::with(tag, &BTreeMap::new())
    }

    /// The same with a design's own entries, which stand before those of the program.
    pub fn with(tag: &str, own: &BTreeMap<String, Entry>) -> Self {
        let words = Self {
            tag: tag.to_string(),
            table: Arc::clone(table_of(tag)),
        };
        match own.is_empty() {
            true => words,
            false => words.and(own.clone()),
        }
    }

    /// These words with further entries, which stand before them.
    pub fn and(self, more: BTreeMap<String, Entry>) -> Self {
        let mut table = self.table;
        Arc::make_mut(&mut table).entries.extend(more);
        Self { table, ..self }
    }

    /// The language's tag.
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// All keys of the program, which a design's own table may use.
    pub fn keys() -> impl Iterator<Item = &'static str> {
        table_of(COMPLETE[0]).entries.keys().map(String::as_str)
    }

    /// What the program says in English under `key`.
    pub fn english(key: &str) -> Option<&'static Entry> {
        table_of(COMPLETE[0]).entries.get(key)
    }

    /// The words under `key`, if there are any.
    pub fn find(&self, key: &str) -> Option<&str> {
        self.table.entries.get(key)?.text()
    }

    /// The words under `key`; the key itself if there are none.
    pub fn get<'a>(&'a self, key: &'a str) -> &'a str {
        self.find(key).unwrap_or(key)
    }

    /// What the words of `group` call `key`, which stands in designs; as it stands if nothing.
    pub fn named<'a>(&'a self, group: &str, key: &'a str) -> &'a str {
        self.find(&format!("{group}.{key}")).unwrap_or(key)
    }

    /// The sentence under `key` with its places filled.
    pub fn say(&self, key: &str, places: Places<'_>) -> String {
        phrase::filled(self.get(key), places)
    }

    /// The sentence under `key` in the form for `count`; `{n}` is the count, `{number}` the count in
    /// words.
    pub fn count(&self, key: &str, count: usize, places: Places<'_>) -> String {
        let form = match self.table.entries.get(key) {
            Some(entry) => entry.form(plural::of(&self.tag, count)),
            None => key,
        };
        let number = self.number(count);
        let mut all: Vec<(&str, &dyn Display)> = vec![("n", &count), ("number", &number)];
        all.extend(places);
        phrase::filled(form, &all)
    }

    /// The list under `key`; empty if there is none.
    pub fn list(&self, key: &str) -> &[String] {
        self.table.entries.get(key).map_or(&[], Entry::list)
    }

    /// Whether `text` holds one of the words listed under `key`, whatever its capitals.
    pub fn knows(&self, key: &str, text: &str) -> bool {
        let text = text.to_lowercase();
        self.list(key).iter().any(|word| text.contains(word))
    }

    /// The sign before decimals.
    pub fn decimal(&self) -> char {
        self.get("language.decimal").chars().next().unwrap_or('.')
    }

    /// The quotation marks.
    pub fn quotes(&self) -> Quotes {
        let mark = |at: usize| self.list("language.quotes").get(at).cloned();
        let pair = |at: usize| [at, at + 1].map(|at| mark(at).unwrap_or_default());
        Quotes {
            double: pair(0),
            single: pair(2),
        }
    }

    /// The group's texts by key, for the template; of words with several forms each by the name of the
    /// form.
    pub fn group(&self, group: &str) -> serde_json::Value {
        self.table.group(group)
    }

    /// Which form of a word goes with each number from 0 on; from 100 on they repeat.
    pub fn forms(&self) -> Vec<&'static str> {
        let form = |n| plural::of(&self.tag, n).name();
        (0..200).map(form).collect()
    }
}

/// `de` of `de-AT`.
pub fn primary(tag: &str) -> &str {
    tag.split('-').next().unwrap_or(tag)
}
