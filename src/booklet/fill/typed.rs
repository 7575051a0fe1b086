//! Lengths that are typed by hand although pressfoot computes them: they would stay as they are when
//! the fit changes.

use crate::booklet::printed::Form;
use crate::booklet::source_map::Filled;
use crate::booklet::tags::tags;
use crate::booklet::values::Names;
use crate::diagnostic::{Diagnostic, Diagnostics};
use std::collections::BTreeMap;

/// Shorter lengths than this many characters (`6 mm`, `2 in`) are too common to mean one value.
const TELLING: usize = 6;

/// Notes every typed length that is printed exactly like a value of the design.
pub(super) fn tell(plain: &Filled, names: &Names, diagnostics: &mut Diagnostics) {
    let typed = lengths(&blank(&plain.text));
    if typed.is_empty() {
        return;
    }
    let known = printed(names);
    for (at, length) in typed {
        let Some(name) = known.get(&length) else {
            continue;
        };
        let message = format!(
            "‘{length}’ is typed by hand, and ‘{name}’ comes to the same: it would stay when the fit \
             changes."
        );
        let note = Diagnostic::note("typed-length", Some(&plain.place(at)), message);
        diagnostics.push(note.remedy(format!(
            "If that is what is meant, write `{{{{ {name} }}}}`."
        )));
    }
}

/// `text` with its tags and its fenced blocks blanked; all offsets stay.
fn blank(text: &str) -> String {
    let mut blank = text.to_string();
    for tag in tags(text) {
        blank.replace_range(tag.start..tag.end, &" ".repeat(tag.end - tag.start));
    }
    let mut fenced = false;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let fence = line.trim_start().starts_with("```");
        if fenced || fence {
            blank.replace_range(at..at + line.len(), &" ".repeat(line.len()));
        }
        fenced ^= fence;
        at += line.len();
    }
    blank
}

/// What each value that is the same in all sizes prints, with the shortest name for it.
fn printed(names: &Names) -> BTreeMap<String, String> {
    let mut known: BTreeMap<String, String> = BTreeMap::new();
    for (name, value) in names.single_lengths() {
        for form in [Form::Metric, Form::Inch] {
            let text = plain_spaces(&value.text(form)).replace('\u{2044}', "/");
            if text.chars().count() < TELLING {
                continue;
            }
            let other = other_metric(&text);
            for text in std::iter::once(text).chain(other) {
                let best = known.entry(text).or_insert_with(|| name.clone());
                if name.len() < best.len() {
                    best.clone_from(&name);
                }
            }
        }
    }
    known
}

/// A metric length in its other unit: `12 cm` is typed as `120 mm` too.
fn other_metric(text: &str) -> Option<String> {
    let (figures, unit) = text.split_once(' ')?;
    let number: f64 = figures.replace(',', ".").parse().ok()?;
    match unit {
        "cm" => Some(format!("{} mm", rounded(number * 10.0))),
        "mm" if number >= 10.0 => Some(format!("{} cm", rounded(number / 10.0))),
        _ => None,
    }
}

/// Without the noise of binary fractions.
fn rounded(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

fn plain_spaces(text: &str) -> String {
    text.replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ")
}

/// Figures with a unit behind them: where they begin, and how they read.
fn lengths(text: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for unit in [" mm", " cm", " in", "mm", "cm"] {
        for (at, _) in text.match_indices(unit) {
            let after = text[at + unit.len()..].chars().next();
            if after.is_some_and(char::is_alphanumeric) {
                continue;
            }
            let figure = |c: char| c.is_ascii_digit() || matches!(c, '.' | '/');
            let head = &text[..at];
            let mut start = head.trim_end_matches(figure).len();
            if start == at {
                continue;
            }
            // a whole number before a fraction belongs to it
            let before = text[..start].trim_end_matches(' ');
            let whole = before.trim_end_matches(|c: char| c.is_ascii_digit()).len();
            if head[start..].contains('/') && whole < before.len() && start == before.len() + 1 {
                start = whole;
            }
            found.push((start, format!("{} {}", &text[start..at], unit.trim())));
        }
    }
    found.sort_unstable();
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_metric_length_is_known_in_both_units() {
        assert_eq!(other_metric("12 cm").as_deref(), Some("120 mm"));
        assert_eq!(other_metric("13.7 cm").as_deref(), Some("137 mm"));
        assert_eq!(other_metric("45 mm").as_deref(), Some("4.5 cm"));
        assert_eq!(other_metric("4 1/2 in"), None);
    }

    #[test]
    fn lengths_in_words_are_found() {
        let text = "Sew 4.8 mm in, cut 1 1/2 in or 30cm; in 3 inches, 5 minutes.";
        let found: Vec<String> = lengths(text).into_iter().map(|(_, words)| words).collect();
        assert_eq!(found, ["4.8 mm", "1 1/2 in", "30 cm"]);
    }
}
