//! The history of a design as the booklet prints it: the notes of its editions, with the fit
//! corrections that came with each.

use super::Version;
use super::record::{FitRecord, Record};
use crate::design::{Design, EditionNote, FitEntry};

/// An edition as the history tells of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// Its number.
    pub edition: Version,
    /// The day, year first.
    pub on: String,
    /// What is new, by language.
    pub note: std::collections::BTreeMap<String, String>,
    /// The corrections in its pieces.
    pub fit: Vec<FitRecord>,
}

impl Told {
    /// What the history tells of a record.
    pub fn of(record: &Record) -> Self {
        Self {
            edition: record.edition,
            on: record.on.clone(),
            note: record.note.clone(),
            fit: record.content.fit.clone(),
        }
    }

    /// The note in `language`; in the design's own, `first`, where there is none.
    pub fn note_in(&self, language: &str, first: &str) -> &str {
        let found = self.note.get(language).or_else(|| self.note.get(first));
        found
            .or_else(|| self.note.values().next())
            .map_or("", String::as_str)
    }
}

/// The history, the newest first: of `editions`, which stand in their order, and below them what
/// the design tells of others. Once there are editions, the first of all is told too.
pub fn history(editions: &[Told], design: &Design) -> Vec<EditionNote> {
    let mut notes: Vec<EditionNote> = Vec::new();
    let first = &design.own().language;
    for (at, told) in editions.iter().enumerate() {
        let before = at.checked_sub(1).map(|at| editions[at].fit.as_slice());
        let known = |fit: &FitRecord| {
            before.is_some_and(|before| before.iter().any(|other| other.is_same(fit)))
        };
        let new = told
            .fit
            .iter()
            .filter(|fit| before.is_some() && !known(fit));
        let words: Vec<String> = new.filter_map(|fit| correction(fit, design)).collect();
        let note = told.note_in(&design.language, first);
        let changed = match words.is_empty() {
            true => note.to_string(),
            false => design.words.say(
                "edition.noted",
                &[("note", &closed(note)), ("corrections", &words.join("; "))],
            ),
        };
        notes.push(EditionNote {
            edition: told.edition.to_string(),
            on: told.on.clone(),
            changed,
        });
    }
    notes.reverse();
    let recorded = |note: &&EditionNote| {
        let version = Version::parse(&note.edition);
        version.is_some_and(|version| editions.iter().any(|told| told.edition == version))
    };
    let typed = design
        .look_up
        .editions
        .iter()
        .filter(|note| !recorded(note));
    notes.extend(typed.cloned());
    notes.sort_by_key(|note| std::cmp::Reverse(Version::parse(&note.edition)));
    notes
}

/// `words` with a full stop.
fn closed(words: &str) -> String {
    match words.ends_with(['.', '!', '?']) || words.is_empty() {
        true => words.to_string(),
        false => format!("{words}."),
    }
}

/// A correction in the design's words: `toe length, size Large`. `None` if the design has it no more.
fn correction(fit: &FitRecord, design: &Design) -> Option<String> {
    let entry = entry_of(fit, design)?;
    let words = design.fit_change(entry);
    Some(match design.fit_size(entry) {
        Some(size) => format!("{words}, {}", design.words.size_inside(&size)),
        None => words,
    })
}

/// The entry of the design that a record tells of.
pub fn entry_of<'d>(fit: &FitRecord, design: &'d Design) -> Option<&'d FitEntry> {
    let same = |entry: &&FitEntry| {
        entry.on == fit.on
            && entry.words() == fit.change
            && entry.size == fit.size
            && (entry.by - fit.by).abs() < 2e-3
    };
    design.fit.iter().find(same)
}

#[cfg(test)]
mod tests;
