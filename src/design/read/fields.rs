//! The keys of one mapping: each is asked for by name, and what nobody asked for is unknown.

use super::Reading;
use super::names;
use super::node::{Entry, Kind, Node};
use crate::design::keys;
use crate::diagnostic::Place;

/// A mapping that is being read.
pub(super) struct Fields<'n> {
    entries: &'n [Entry],
    used: Vec<bool>,
    asked: Vec<&'static str>,
    /// Where the mapping stands in the table of keys, e.g. `cloth.CLOTH`.
    group: &'static str,
    /// What it is, for messages, e.g. `cloth ‘outer’`.
    what: String,
    /// Where a missing key is reported.
    place: Place,
}

impl<'n> Fields<'n> {
    /// The keys of `node`; anything but a mapping is reported. Nothing at all counts as a mapping
    /// without keys.
    pub fn of(
        node: &'n Node,
        group: &'static str,
        what: impl Into<String>,
        reading: &mut Reading<'_>,
    ) -> Option<Self> {
        let what = what.into();
        let entries: &[Entry] = match &node.kind {
            Kind::Mapping(entries) => entries,
            _ if node.is_null() => &[],
            _ => {
                let message = format!("{what} is {}, but keys are wanted here", node.words());
                let remedy = match keys::entry(group) {
                    Some(entry) => format!("write it like this: {}", entry.example),
                    None => "write one ‘key: value’ below the other".into(),
                };
                reading.error("wrong-type", &node.place, message, remedy);
                return None;
            }
        };
        reading.duplicates(entries);
        Some(Self {
            entries,
            used: vec![false; entries.len()],
            asked: Vec::new(),
            group,
            what,
            place: node.place.clone(),
        })
    }

    /// What is being read, for messages.
    pub fn what(&self) -> &str {
        &self.what
    }

    /// Where it is reported that a key is missing.
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// The same with missing keys reported at `place`: the name of the group, not its first key.
    pub fn at(mut self, place: &Place) -> Self {
        self.place = place.clone();
        self
    }

    /// The entry called `key`, also one without a value.
    pub fn entry(&mut self, key: &'static str) -> Option<&'n Entry> {
        self.asked.push(key);
        let mut found = None;
        for (entry, used) in self.entries.iter().zip(&mut self.used) {
            if entry.key == key {
                *used = true;
                found = found.or(Some(entry));
            }
        }
        found
    }

    /// The value of `key`; a key without a value is reported.
    pub fn take(&mut self, key: &'static str, reading: &mut Reading<'_>) -> Option<&'n Node> {
        let entry = self.entry(key)?;
        if entry.value.is_null() {
            let message = format!("nothing stands after ‘{key}:’");
            let remedy = match is_comment(&entry.place) {
                true => "a # begins a comment: put the value into quotation marks",
                false => "write the value, or take the line away",
            };
            reading.error("empty-value", &entry.place, message, remedy);
            return None;
        }
        Some(&entry.value)
    }

    /// The value of `key`, which must be there.
    pub fn require(&mut self, key: &'static str, reading: &mut Reading<'_>) -> Option<&'n Node> {
        let there = self.entries.iter().any(|entry| entry.key == key);
        let value = self.take(key, reading);
        if !there {
            self.missing(key, reading);
        }
        value
    }

    /// Reports that `key` is missing.
    pub fn missing(&self, key: &str, reading: &mut Reading<'_>) {
        let path = if self.group.is_empty() {
            key.to_string()
        } else {
            format!("{}.{key}", self.group)
        };
        let message = format!("‘{key}:’ is missing in {}", self.what);
        let remedy = match keys::entry(&path) {
            Some(entry) => format!("add it, for example: {}", entry.example),
            None => format!("add ‘{key}: …’"),
        };
        reading.error("missing-key", &self.place, message, remedy);
    }

    /// Reports every key that was not asked for.
    pub fn finish(self, reading: &mut Reading<'_>) {
        for (entry, used) in self.entries.iter().zip(&self.used) {
            if *used {
                continue;
            }
            let message = format!("‘{}’ is no key of {}", entry.key, self.what);
            let remedy = self.remedy(&entry.key);
            reading.error("unknown-key", &entry.place, message, remedy);
        }
    }

    fn remedy(&self, key: &str) -> String {
        if key.starts_with(|c: char| c.is_ascii_digit()) {
            let remedy = "inside braces a comma parts one key from the next: write the number with a \
                          point, 6.5 mm";
            return remedy.to_string();
        }
        // a key that was cut short: ease for easing
        let whole = |asked: &&&str| key.len() > 2 && asked.starts_with(&key[..key.len() - 1]);
        let mut begun = self.asked.iter().filter(|a| key.is_ascii() && whole(a));
        if let (Some(only), None) = (begun.next(), begun.next()) {
            return format!("did you mean ‘{only}’?");
        }
        let near = names::nearest(key, self.asked.iter().copied());
        let slip = near.filter(|near| strsim::damerau_levenshtein(key, near) <= 1);
        // a key that exists elsewhere is rather in the wrong place than misspelt; blocks of the text are too far away
        let mut elsewhere = keys::explain(key).into_iter();
        if slip.is_none()
            && let Some(entry) = elsewhere.find(|entry| !entry.path.starts_with("figure"))
        {
            return match entry.path.rsplit_once('.') {
                Some((group, _)) => format!("‘{key}’ is a key of {group}"),
                None => format!("‘{key}’ belongs at the left margin, among the first keys"),
            };
        }
        names::suggestion(key, &self.asked)
    }
}

/// Whether the line at `place` has a word after its colon that YAML takes for a comment: `accent: #1F4E6B`.
fn is_comment(place: &Place) -> bool {
    let line = place.source.text.lines().nth(place.line.saturating_sub(1));
    let after = line.and_then(|line| line.split_once(':'));
    let word = after.and_then(|(_, after)| after.trim_start().strip_prefix('#'));
    word.is_some_and(|word| word.starts_with(char::is_alphanumeric))
}
