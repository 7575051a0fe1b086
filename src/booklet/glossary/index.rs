//! Words found in texts: an index from the words of a text to the entries of a list that one of them may
//! stand for, made once, so that a long list costs no more than the texts are long.

use std::collections::{BTreeMap, BTreeSet};

/// Entries by the words with which one of their forms ends.
#[derive(Debug)]
pub(super) struct Index {
    /// With which a word is the same word; the empty one is among them.
    endings: Vec<String>,
    entries: BTreeMap<String, Vec<(String, String)>>,
}

impl Index {
    /// Without entries, for a language with these endings.
    pub fn new(endings: Vec<String>) -> Self {
        Self {
            endings: std::iter::once(String::new()).chain(endings).collect(),
            entries: BTreeMap::new(),
        }
    }

    /// Adds a form of the entry `key`.
    pub fn add(&mut self, key: &str, form: &str) {
        let plain = plain(form);
        let stem = plain.trim();
        let last = stem.rsplit(' ').next().unwrap_or(stem);
        for ending in &self.endings {
            let entry = (key.to_string(), form.to_string());
            let of_word = self.entries.entry(format!("{last}{ending}"));
            of_word.or_default().push(entry);
        }
    }

    /// Keys of the entries that `text`, from [`plain`], uses.
    pub fn used(&self, text: &str) -> BTreeSet<&str> {
        let words: BTreeSet<&str> = text.split_whitespace().collect();
        let mut found = BTreeSet::new();
        for word in words {
            for (key, form) in self.entries.get(word).into_iter().flatten() {
                if !found.contains(key.as_str()) && self.has(text, form) {
                    found.insert(key.as_str());
                }
            }
        }
        found
    }

    /// Whether `text`, from [`plain`], has `form` as a word or as words in a row.
    pub fn has(&self, text: &str, form: &str) -> bool {
        let form = plain(form);
        let stem = form.trim_end();
        let ends = |ending: &String| text.contains(&format!("{stem}{ending} "));
        stem.len() > 1 && self.endings.iter().any(ends)
    }
}

/// Small letters, one space between words and one at each end.
pub(super) fn plain(text: &str) -> String {
    let mut words = String::from(" ");
    for letter in text.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
            words.push(letter);
        } else if !words.ends_with(' ') && letter != '\u{ad}' {
            words.push(' ');
        }
    }
    if !words.ends_with(' ') {
        words.push(' ');
    }
    words
}
