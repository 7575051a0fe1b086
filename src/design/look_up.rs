//! What a buyer looks up: how the finished thing is cared for, words and what they mean, what each
//! edition changed.

use super::formula::Formula;
use crate::diagnostic::Place;

/// What is measured on the finished thing.
#[derive(Debug, Clone, PartialEq)]
pub struct FinishedMeasure {
    /// Its key: what the design's own file calls it.
    pub key: String,
    /// Its printed name.
    pub name: String,
    /// The length.
    pub length: Formula,
}

/// A warning that the designer has looked at and lets stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Accepted {
    /// Its code.
    pub code: String,
    /// Why it may stand, printed in the report.
    pub reason: String,
    /// The piece, file, seam or word it speaks of; all of the code unless given.
    pub of: Option<String>,
    /// Where it is accepted.
    pub place: Place,
}

/// What is said besides pieces and steps.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LookUp {
    /// `care`, in the order of the standard.
    pub care: Vec<(CareKind, String)>,
    /// `glossary`: words and what they mean, in addition to the house's own list or in its place.
    pub glossary: Vec<(String, String)>,
    /// `editions`: what was changed, the newest first as written.
    pub editions: Vec<EditionNote>,
    /// `accepted`: warnings that are let stand.
    pub accepted: Vec<Accepted>,
    /// `faults`: what was wrong in released editions.
    pub faults: Vec<EditionFault>,
    /// `formerly`: earlier names of the design's folder, and earlier titles, by which its editions know it.
    pub formerly: Vec<String>,
}

/// Whether `text` is a day of the calendar (Gregorian), year first, as ISO 8601 writes it: `2026-10-04`.
pub fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let number = |at: usize, digits: usize| {
        let part: &str = parts.get(at)?;
        let sound = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
        part.parse::<u32>().ok().filter(|_| sound)
    };
    let leap = |year: u32| {
        year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
    };
    let (3, Some(year), Some(month), Some(day)) =
        (parts.len(), number(0, 4), number(1, 2), number(2, 2))
    else {
        return false;
    };
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap(year) => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}

/// What care is about, in the order of ISO 3758 (wash, bleach, dry, iron, professional care). Said in
/// words only: the symbols are protected marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CareKind {
    /// Washing.
    Wash,
    /// Bleaching.
    Bleach,
    /// Drying.
    Dry,
    /// Ironing.
    Iron,
    /// Professional cleaning.
    Professional,
}

impl CareKind {
    /// All, in the order of the standard, by their keys.
    pub const ALL: [(&'static str, Self); 5] = [
        ("wash", Self::Wash),
        ("bleach", Self::Bleach),
        ("dry", Self::Dry),
        ("iron", Self::Iron),
        ("professional", Self::Professional),
    ];

    /// Its key.
    pub fn key(self) -> &'static str {
        let found = Self::ALL.iter().find(|(_, kind)| *kind == self);
        found.map_or("", |(key, _)| key)
    }
}

/// What one edition changed.
#[derive(Debug, Clone, PartialEq)]
pub struct EditionNote {
    /// Its number.
    pub edition: String,
    /// The day, year first.
    pub on: String,
    /// What was changed, in words.
    pub changed: String,
}

/// What was wrong in a released edition, for those who bought it.
#[derive(Debug, Clone, PartialEq)]
pub struct EditionFault {
    /// Number of the edition.
    pub edition: String,
    /// The plates concerned, by their numbers in that edition.
    pub plates: Vec<usize>,
    /// What was wrong, in words.
    pub wrong: String,
    /// What the buyer should do, in words.
    pub mend: String,
    /// Where it is declared.
    pub place: Place,
}
