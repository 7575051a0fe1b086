//! The words that the template itself prints, by language. The template holds none of its own, so
//! that a booklet in another language only needs another table here.

mod english;

use super::date::Moment;
use crate::design::Paper;
use crate::diagnostic::Place;
use english::ENGLISH;
use serde_json::{Map, Value};

/// The table for `language`; English where there is no other.
pub fn words(language: &str) -> Value {
    let _ = language;
    let table: Map<String, Value> = ENGLISH
        .iter()
        .map(|(key, words)| (key.to_string(), Value::from(*words)))
        .collect();
    Value::Object(table)
}

/// `21 September 2026`.
pub fn date(moment: Moment, language: &str) -> String {
    let _ = language;
    let month = MONTHS
        .get(usize::from(moment.month).saturating_sub(1))
        .unwrap_or(&"");
    format!("{} {month} {}", moment.day, moment.year)
}

/// A date written year first, as [`date`] prints it; as it stands if it is none.
pub fn day(text: &str, language: &str) -> String {
    let numbers: Vec<i32> = text.split('-').filter_map(|p| p.parse().ok()).collect();
    let part = |at: usize| numbers.get(at).and_then(|n| u8::try_from(*n).ok());
    match (numbers.first(), part(1), part(2)) {
        (Some(year), Some(month), Some(day)) => date(
            Moment {
                year: *year,
                month,
                day,
                second_of_day: 0,
            },
            language,
        ),
        _ => text.to_string(),
    }
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Names of the papers as the cover prints them.
pub fn paper_names(papers: &[(Paper, Place)]) -> Vec<String> {
    papers.iter().map(|(paper, _)| paper.name.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn the_template_asks_for_these_words_and_no_others() {
        let known: BTreeSet<&str> = ENGLISH.iter().map(|(key, _)| *key).collect();
        let mut asked = BTreeSet::new();
        for (name, text) in crate::booklet::template::FILES {
            for (at, _) in text.match_indices("w(\"") {
                let rest = &text[at + 3..];
                let (key, after) = rest.split_once('"').unwrap();
                if after.starts_with(')') && !text[..at].ends_with(|c: char| c.is_alphanumeric()) {
                    assert!(known.contains(key), "{key} in {name}");
                    asked.insert(key);
                }
            }
        }
        assert!(asked.len() > 60);
    }

    #[test]
    fn no_key_stands_twice() {
        let keys: BTreeSet<&str> = ENGLISH.iter().map(|(key, _)| *key).collect();
        assert_eq!(keys.len(), ENGLISH.len());
    }
}
