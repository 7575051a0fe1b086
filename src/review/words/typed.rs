//! Lengths that are typed where the design has them: a seam's distance from the edge, the depth of a hem, what
//! an allowance is trimmed to, and lengths beside the sizes. Lengths in mm.

use super::super::clause::{denied, left_to_the_reader};
use super::super::lexicon::Lexicon;
use super::super::names::{first_of, stands};
use super::super::text::{At, Section, Word, words};
use super::super::{Subject, warning};
use super::lengths::{Length, in_words, unit};
use super::words_have;
use crate::design::{Dimension, Formula, Size};
use crate::diagnostic::Diagnostics;
use crate::draft::Values;
use std::collections::BTreeSet;

/// A typed length may differ by this from a drawn one, mm: 2 cm is said for 3/4 in (common practice).
const WITHIN: f64 = 1.0;

/// An allowance that is trimmed to its own depth may be rounded up by this, mm.
const ROUNDED: f64 = 0.5;

/// ‘Sew a quarter of an inch from the edge’ where no allowance, no measure and no other length of the text is a
/// quarter of an inch.
pub(super) fn from_the_edge(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let mut known = allowances(subject, |_| true);
    known.extend(constants(subject));
    known.extend(subject.text.all().flat_map(|at| computed(lexicon, &at)));
    for at in subject.text.steps().filter(|at| !at.sentence.is_head) {
        let words = &at.sentence.words;
        if !words_have(lexicon, "sew", words) || left_to_the_reader(lexicon, words) {
            continue;
        }
        let all = in_words(lexicon, words)
            .into_iter()
            .chain(spelled(lexicon, words));
        for length in all.filter(|length| is_typed(&at, length.word)) {
            let edge = lexicon.list("from the edge");
            let behind = &words[length.end..(length.end + 5).min(words.len())];
            // the same in the other unit may stand between
            let is_near = first_of(edge, behind).is_some_and(|(_, at)| {
                let between = &behind[..at];
                in_words(lexicon, between).len() == usize::from(!between.is_empty())
            });
            let is_known = known.iter().any(|mm| (mm - length.mm).abs() <= WITHIN);
            if !is_near || is_known {
                continue;
            }
            let message = format!(
                "the step sews {} from the edge, and no allowance and no measure is so long",
                length.text
            );
            let remedy = "ask for the value in braces, or change the allowance";
            let place = at.place(length.word);
            said.push(warning("length-disagrees", &place, message, remedy));
            break;
        }
    }
}

/// ‘A hem 1 in deep’ where no edge has so deep an allowance, nor one twice as deep.
pub(super) fn hems(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let drawn = allowances(subject, |_| true);
    for at in subject.text.steps().filter(|_| !drawn.is_empty()) {
        let words = &at.sentence.words;
        if !words_have(lexicon, "hem", words) || words_have(lexicon, "opening", words) {
            continue;
        }
        let deep = |end: usize| end < words.len() && words_have(lexicon, "deep", &words[end..=end]);
        let fits = |mm: f64| {
            let mut drawn = drawn.iter();
            drawn.any(|all| {
                [*all, all / 2.0]
                    .iter()
                    .any(|part| (part - mm).abs() <= WITHIN)
            })
        };
        let all = in_words(lexicon, words)
            .into_iter()
            .chain(spelled(lexicon, words));
        let mut wrong =
            all.filter(|length| deep(length.end) && is_typed(&at, length.word) && !fits(length.mm));
        let is_asked = !left_to_the_reader(lexicon, words);
        if let Some(length) = wrong.next().filter(|_| is_asked) {
            let message = format!(
                "the step has a hem {} deep, and none is drawn so",
                length.text
            );
            let remedy = "ask for the value in braces, or change the allowance";
            let place = at.place(length.word);
            said.push(warning("allowance-text", &place, message, remedy));
        }
    }
}

/// A seam that is trimmed to more than the allowance of any seam.
pub(super) fn trimmed(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let seams = &subject.design.seams;
    let ends: BTreeSet<(&str, &str)> = seams
        .iter()
        .flat_map(|seam| [&seam.join, &seam.to])
        .map(|end| (end.piece.as_str(), end.edge.as_str()))
        .collect();
    let drawn = allowances(subject, |end| ends.contains(&end));
    let most = drawn.iter().copied().reduce(f64::max);
    let Some(most) = most.filter(|most| *most > 0.0) else {
        return;
    };
    for at in subject.text.steps() {
        let words = &at.sentence.words;
        let has = |list: &str| words_have(lexicon, list, words);
        let spoken = has("trim to") && (has("seam") || has("allowance")) && !has("corner");
        if !spoken || left_to_the_reader(lexicon, words) {
            continue;
        }
        let to = |length: &Length| {
            let before = length.word.checked_sub(1).and_then(|at| words.get(at));
            before.is_some_and(|word| lexicon.has_word("to", &word.lower))
        };
        let long = in_words(lexicon, words)
            .into_iter()
            .find(|l| to(l) && l.mm > most + ROUNDED);
        let Some(length) = long.filter(|l| !denied(lexicon, words, l.word)) else {
            continue;
        };
        let message = format!(
            "the step trims a seam to {}, and the allowance of no seam is more than {most:.1} mm",
            length.text
        );
        let remedy = "trim to less than the allowance";
        let place = at.place(length.word);
        said.push(warning("allowance-text", &place, message, remedy));
    }
}

/// A length beside the name of a size, in a row of a table or in the words of the size, that another size has and
/// this one has not.
pub(super) fn of_sizes(subject: &Subject, said: &mut Diagnostics) {
    let lexicon = subject.lexicon;
    let remedy = "ask for the value of the size in braces";
    for (chapter, section) in subject.text.sections() {
        for row in rows(section) {
            let Some((first, rest)) = row.split_first() else {
                continue;
            };
            let title = |size: &&Size| {
                let title = lexicon.phrase(&size.title);
                title.words.len() == first.len() && stands(&title, first, 0)
            };
            let Some(size) = subject.design.sizes.iter().find(title) else {
                continue;
            };
            let mut cells = rest.iter();
            if let Some((length, other, at)) =
                cells.find_map(|cell| of_another(subject, size, cell))
            {
                let message = format!(
                    "the table gives size {} {length}, which is a measure of size {other}",
                    size.title
                );
                let place = chapter.filled.place(at);
                said.push(warning("length-disagrees", &place, message, remedy));
            }
        }
    }
    for size in &subject.design.sizes {
        let text = size.words.as_deref().unwrap_or_default();
        let words = words(text, lexicon, |at| at);
        if let Some((length, other, _)) = of_another(subject, size, &words) {
            let message = format!(
                "the words of size ‘{}’ say {length}, which is a measure of size ‘{other}’",
                size.title
            );
            said.push(warning("length-disagrees", &size.place, message, remedy));
        }
    }
}

/// The cells of each row of the tables of a section, their words.
fn rows(section: &Section) -> Vec<Vec<&[Word]>> {
    let mut rows: Vec<(usize, Vec<&[Word]>)> = Vec::new();
    for sentence in &section.sentences {
        let Some(row) = sentence.row else {
            continue;
        };
        match rows.last_mut() {
            Some((last, cells)) if *last == row => cells.push(&sentence.words),
            _ => rows.push((row, vec![&sentence.words])),
        }
    }
    rows.into_iter().map(|(_, cells)| cells).collect()
}

/// A length among words that is a measure of another size and none of this one: its words, the other size, and
/// where it stands.
fn of_another(subject: &Subject, size: &Size, words: &[Word]) -> Option<(String, String, usize)> {
    let sizes = &subject.design.sizes;
    let has = |size: &Size, mm: f64| {
        let mut measures = size.measures.iter();
        measures.any(|(_, formula)| constant(formula).is_some_and(|own| (own - mm).abs() < 0.05))
    };
    in_words(subject.lexicon, words)
        .into_iter()
        .find_map(|length| {
            let mut others = sizes.iter().filter(|other| other.declared != size.declared);
            let other = others.find(|other| has(other, length.mm))?;
            let at = words.get(length.word).map_or(0, |word| word.at);
            (!has(size, length.mm)).then(|| (length.text.clone(), other.title.clone(), at))
        })
}

/// Lengths in words alone: ‘a quarter of an inch’, ‘half an inch’, ‘three eighths of an inch’.
fn spelled(lexicon: &Lexicon, words: &[Word]) -> Vec<Length> {
    let parts = lexicon.list("parts of a unit").iter();
    let parts: Vec<(&str, f64)> = parts
        .filter_map(|entry| entry.text.split_once('='))
        .filter_map(|(word, share)| Some((word.trim(), share.trim().parse().ok()?)))
        .collect();
    let mut found = Vec::new();
    for (at, word) in words.iter().enumerate() {
        let noun = |name: &str| lexicon.noun(name) == word.noun;
        let Some((_, share)) = parts.iter().find(|(name, _)| noun(name)) else {
            continue;
        };
        let small = |word: &&Word| lexicon.has_word("before a unit", &word.lower);
        let behind = words.iter().skip(at + 1);
        let between = behind.take(2).take_while(small).count();
        let Some(mm) = words
            .get(at + 1 + between)
            .and_then(|word| unit(lexicon, &word.lower, false))
        else {
            continue;
        };
        let before = at
            .checked_sub(1)
            .and_then(|at| lexicon.number(&words[at].lower));
        let end = at + between + 2;
        let from = at - usize::from(before.is_some());
        let text: Vec<&str> = words[from..end]
            .iter()
            .map(|word| word.text.as_str())
            .collect();
        found.push(Length {
            mm: f64::from(before.unwrap_or(1)) * share * mm,
            inches: mm > 11.0 && mm < 999.0,
            of_cloth: mm > 900.0,
            text: text.join(" "),
            word: from,
            end,
        });
    }
    found
}

/// The allowances of all edges that `wanted` takes by piece and name, mm.
fn allowances(subject: &Subject, wanted: impl Fn((&str, &str)) -> bool) -> Vec<f64> {
    let mut found = Vec::new();
    for piece in subject.sizes.iter().flat_map(|size| &size.pieces) {
        for (edge, allowance) in piece.outline.edges().iter().zip(&piece.allowances) {
            if *allowance > 1e-6 && wanted((&piece.key, &edge.name)) {
                found.push(*allowance);
            }
        }
    }
    found
}

/// Measures of the design that are written as they are, mm.
fn constants(subject: &Subject) -> Vec<f64> {
    let design = subject.design;
    let sizes = design.sizes.iter().flat_map(|size| &size.measures);
    let all = design.measures.iter().chain(sizes);
    all.filter_map(|(_, formula)| constant(formula)).collect()
}

fn constant(formula: &Formula) -> Option<f64> {
    if !formula.names().is_empty() {
        return None;
    }
    formula.evaluate(&Values::default(), Dimension::Length).ok()
}

/// Lengths of a sentence that come from the design, mm.
fn computed(lexicon: &Lexicon, at: &At<'_>) -> Vec<f64> {
    let lengths = in_words(lexicon, &at.sentence.words).into_iter();
    let computed = lengths.filter(|length| !is_typed(at, length.word));
    computed.map(|length| length.mm).collect()
}

/// Whether a word is typed by hand, and no value in braces.
fn is_typed(at: &At<'_>, word: usize) -> bool {
    let place = at.place(word);
    let lines = place.source.text.lines();
    let mut lines = lines.skip(place.line.saturating_sub(1));
    let line = lines.next().unwrap_or_default();
    let rest: String = line.chars().skip(place.column.saturating_sub(1)).collect();
    !rest.starts_with("{{")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_in_words_are_parts_of_a_unit() {
        let read = |language: &str, text: &str| {
            let lexicon = Lexicon::of(language);
            let words = words(text, lexicon, |at| at);
            let found = spelled(lexicon, &words).into_iter();
            found.map(|length| length.mm).collect::<Vec<f64>>()
        };
        // an inch is 25.4 mm exactly (international yard and pound agreement, 1959)
        let near = |found: Vec<f64>, mm: f64| found.len() == 1 && (found[0] - mm).abs() < 1e-9;
        assert!(near(read("en", "a quarter of an inch from the edge"), 6.35));
        assert!(near(read("en", "Sew half an inch in."), 12.7));
        assert!(near(read("en", "three eighths of an inch"), 9.525));
        assert!(near(read("de", "einen halben Zoll von der Kante"), 12.7));
        assert!(read("en", "half the allowance, a quarter of the edge").is_empty());
    }
}
