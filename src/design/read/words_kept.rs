//! Whether a design's own words still say what the program's say: that nothing which is filled in is left
//! out, that numbers are the same, and that what buyers are guided or cautioned by was looked at twice.

use super::Reading;
use crate::diagnostic::{Diagnostic, Place};
use crate::language::table::{Entry, Table};
use crate::language::{COMPLETE, Words, phrase, primary};
use std::collections::BTreeSet;

/// Words by which the buyer prints true, cuts along the right line, or is kept from harm. The beginnings of
/// their keys.
const OF_WEIGHT: [&str; 26] = [
    "booklet.actual size",
    "booklet.5 cm",
    "booklet.2 in",
    "booklet.squares",
    "booklet.settings",
    "booklet.near enough",
    "booklet.fault",
    "booklet.remedy",
    "booklet.small loss",
    "booklet.small gain",
    "booklet.true",
    "booklet.copy shop say",
    "booklet.line ",
    "booklet.allowance words",
    "booklet.safety note",
    "booklet.small parts words",
    "booklet.pins words",
    "booklet.iron words",
    "booklet.fusible words",
    "booklet.cutter words",
    "booklet.cords words",
    "booklet.fit before words",
    "booklet.fit caution words",
    "booklet.proof ",
    "booklet.sizes ",
    "stapled.",
];

/// Tells what the own words `entry` of the language `tag` lose against the program's: those of that
/// language, or else the English ones.
pub(super) fn check(tag: &str, key: &str, entry: &Entry, place: &Place, reading: &mut Reading<'_>) {
    let complete = COMPLETE.contains(&primary(tag));
    let own_language = Table::embedded(primary(tag)).and_then(|mut t| t.entries.remove(key));
    let Some(house) = own_language.or_else(|| Words::english(key).cloned()) else {
        return;
    };
    if house == *entry {
        return;
    }
    let mut said = false;
    for name in places(&house).difference(&places(entry)) {
        let counts = matches!(house, Entry::Forms(_)) && ["n", "number"].contains(&name.as_str());
        if !counts {
            let message = format!("‘{key}’ leaves out {{{name}}}, which is printed there");
            let remedy = format!("write {{{name}}} where it belongs in the sentence");
            reading.error("place-left-out", place, message, remedy);
            said = true;
        }
    }
    let (wanted, found) = (numbers(&house), numbers(entry));
    if !said && wanted != found {
        let listed = |numbers: &[String]| match numbers {
            [] => "none".to_string(),
            all => all.join(", "),
        };
        let message = format!(
            "‘{key}’ has other numbers than the words of the house: {} for {}",
            listed(&found),
            listed(&wanted)
        );
        warn("number-in-words", place, message, reading);
    } else if !said && complete && OF_WEIGHT.iter().any(|start| key.starts_with(start)) {
        let house = house.texts().join(" / ");
        let message = format!("‘{key}’ has words of your own in place of ‘{house}’");
        warn("words-of-weight", place, message, reading);
    }
}

fn warn(code: &'static str, place: &Place, message: String, reading: &mut Reading<'_>) {
    let remedy = "see that a buyer does the same by your words, and accept it then";
    let told = Diagnostic::warning(code, Some(place), message);
    reading.diagnostics.push(told.remedy(remedy));
}

fn places(entry: &Entry) -> BTreeSet<String> {
    let texts = entry.texts();
    let places = texts.iter().flat_map(|text| phrase::places(text));
    places.map(str::to_string).collect()
}

/// Numbers in figures, each once, sorted; those of plural forms may stand in one form alone. A decimal comma
/// counts as a point, and what stands in braces is no number.
fn numbers(entry: &Entry) -> Vec<String> {
    let mut found = BTreeSet::new();
    for text in entry.texts() {
        let mut number = String::new();
        let mut in_place = false;
        for letter in text.chars().chain([' ']) {
            in_place = (in_place || letter == '{') && letter != '}';
            match letter {
                '0'..='9' if !in_place => number.push(letter),
                '.' | ',' | '⁄' | '/' if !number.is_empty() => {
                    number.push(if letter == ',' { '.' } else { letter });
                }
                _ if !number.is_empty() => {
                    found.insert(number.trim_end_matches(['.', '/', '⁄']).to_string());
                    number.clear();
                }
                _ => {}
            }
        }
    }
    found.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_in_both_ways_of_writing() {
        let text = |text: &str| numbers(&Entry::Text(text.into()));
        assert_eq!(
            text("5 cm, or {n2} 0,70 of it; 1⁄64 in."),
            ["0.70", "1⁄64", "5"]
        );
        assert_eq!(text("none"), Vec::<String>::new());
    }

    #[test]
    fn what_is_of_weight_is_a_key_of_the_table() {
        for start in OF_WEIGHT {
            assert!(Words::keys().any(|key| key.starts_with(start)), "{start}");
        }
    }
}
