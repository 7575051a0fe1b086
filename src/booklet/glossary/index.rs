//! Words found in texts: an index from the words of a text to the entries of a list that one of them may
//! stand for, made once, so that a long list costs no more than the texts are long.

use std::collections::{BTreeMap, BTreeSet};

/// Endings with which a word is the same word. Others are given as `also`.
const ENDINGS: [&str; 8] = ["", "s", "es", "d", "ed", "ing", "n", "en"];

/// Entries by the words with which one of their forms ends.
#[derive(Debug, Default)]
pub(super) struct Index {
    entries: BTreeMap<String, Vec<(String, String)>>,
}

impl Index {
    /// Adds a form of the entry `key`.
    pub fn add(&mut self, key: &str, form: &str) {
        let plain = plain(form);
        let stem = plain.trim();
        let last = stem.rsplit(' ').next().unwrap_or(stem);
        for ending in ENDINGS {
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
                if !found.contains(key.as_str()) && has(text, form) {
                    found.insert(key.as_str());
                }
            }
        }
        found
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

/// Whether `text`, from [`plain`], has `form` as a word or as words in a row.
pub(super) fn has(text: &str, form: &str) -> bool {
    let form = plain(form);
    let stem = form.trim_end();
    stem.len() > 1
        && ENDINGS
            .iter()
            .any(|ending| text.contains(&format!("{stem}{ending} ")))
}
