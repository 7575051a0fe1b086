//! Whether a length that is typed in both units is the same in both. Lengths in mm.

use super::super::lexicon::Lexicon;
use super::super::text::Word;
use super::super::{Subject, error, warning};
use crate::diagnostic::{Diagnostics, Place};
use crate::geometry::units::INCH;

/// What two forms of a length may differ by, mm: 1.5 cm is said for 5/8 in, 1 cm for 3/8 in (common
/// practice).
const WITHIN: f64 = 1.0;

/// The same as a share: 5 cm is said for 2 in, 30 cm for 12 in (common practice).
const SHARE: f64 = 0.04;

/// The same where one of them is in yards or metres: half a yard is said for half a metre (common practice of
/// shops of cloth).
const SHARE_OF_CLOTH: f64 = 0.1;

/// A length in words.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Length {
    pub mm: f64,
    pub inches: bool,
    /// Whether it is in yards or metres.
    pub of_cloth: bool,
    /// As it is written.
    pub text: String,
    /// Number of its first and behind its last word.
    pub word: usize,
    pub end: usize,
}

pub(super) fn both_units(subject: &Subject, said: &mut Diagnostics) {
    for at in subject.text.all() {
        let place = |word: usize| at.place(word);
        judge(subject.lexicon, &at.sentence.words, &place, said);
    }
    for (_, section) in subject.text.sections() {
        for figure in &section.figures {
            for sentence in &figure.caption {
                let place = |_: usize| figure.place.clone();
                judge(subject.lexicon, &sentence.words, &place, said);
            }
        }
    }
    for (path, text) in subject.own_texts() {
        let words = super::super::text::words(&text, subject.lexicon, |at| at);
        let place = |_: usize| subject.text_place(&path, &text);
        judge(subject.lexicon, &words, &place, said);
    }
}

/// Tells of each pair of lengths side by side, one in each unit, that disagree. The second stands in
/// brackets, behind a stroke or behind ‘or’.
fn judge(
    lexicon: &Lexicon,
    words: &[Word],
    place: &dyn Fn(usize) -> Place,
    said: &mut Diagnostics,
) {
    let lengths = in_words(lexicon, words);
    let mut rest = lengths.as_slice();
    while let [first, second, ..] = rest {
        rest = &rest[1..];
        let between = &words[first.end..second.word];
        let is_or = |word: &Word| !word.parted && lexicon.has_word("or", &word.lower);
        let beside = match between {
            [] => words[second.word].parted,
            [or] => is_or(or) && !words[second.word].parted,
            _ => false,
        };
        if first.inches == second.inches || !beside {
            continue;
        }
        rest = &rest[1..];
        let share = match [first, second].iter().any(|length| length.of_cloth) {
            true => SHARE_OF_CLOTH,
            false => SHARE,
        };
        let allowed = WITHIN.max(share * first.mm.max(second.mm));
        if (first.mm - second.mm).abs() > allowed {
            let message = format!(
                "‘{}’ and ‘{}’ are not the same length: {:.1} and {:.1} mm",
                first.text, second.text, first.mm, second.mm
            );
            let remedy = "ask for the value in braces: it is printed in both units from one length";
            let told = match is_the_same(words, second) {
                true => error,
                false => warning,
            };
            said.push(told("units-disagree", &place(first.word), message, remedy));
        }
    }
}

/// Whether the second length stands alone in brackets or behind a stroke: it repeats the first one. Behind a
/// comma or ‘or’ it may be another thing's.
fn is_the_same(words: &[Word], second: &Length) -> bool {
    let before = words[second.word].marks[0];
    let behind = words[second.end - 1].marks[1];
    match before {
        Some('(' | '[') => matches!(behind, Some(')' | ']' | '"' | '″' | '”')),
        Some('/') => true,
        _ => false,
    }
}

/// The lengths among `words`, in order.
pub(super) fn in_words(lexicon: &Lexicon, words: &[Word]) -> Vec<Length> {
    let mut found = Vec::new();
    let mut from = 0;
    while from < words.len() {
        match length(lexicon, words, from) {
            Some(length) => {
                from = length.end;
                found.push(length);
            }
            None => from += 1,
        }
    }
    found
}

/// The length that begins with the word at `from`: a number, perhaps a fraction, and a unit; the unit may
/// be written to the number.
fn length(lexicon: &Lexicon, words: &[Word], from: usize) -> Option<Length> {
    let first = &words[from];
    let (mut value, mut end) = match number(&first.lower) {
        Some(value) => (value, from + 1),
        None => {
            let figures = first.lower.trim_end_matches(char::is_alphabetic);
            let mm = unit(lexicon, &first.lower[figures.len()..], true)?;
            let value = number(figures)?;
            return Some(of(value, mm, words, from, from + 1));
        }
    };
    let next = words
        .get(end)
        .filter(|word| !word.parted || word.lower.contains(['/', '⁄']));
    if let Some(fraction) = next
        .filter(|word| is_fraction(&word.lower))
        .and_then(|word| number(&word.lower))
    {
        value += fraction;
        end += 1;
    }
    if has_inch_sign(words, from, end) {
        let mut length = of(value, INCH, words, from, end);
        length.text.push('"');
        return Some(length);
    }
    let word = words.get(end).filter(|word| !word.parted)?;
    let mm = unit(lexicon, &word.lower, false)?;
    Some(of(value, mm, words, from, end + 1))
}

fn of(value: f64, mm: f64, words: &[Word], from: usize, end: usize) -> Length {
    let text: Vec<&str> = words[from..end]
        .iter()
        .map(|word| word.text.as_str())
        .collect();
    Length {
        mm: value * mm,
        inches: mm > 11.0 && mm < 999.0,
        of_cloth: mm > 900.0,
        text: text.join(" "),
        word: from,
        end,
    }
}

/// Whether the sign for inches stands behind a number, and no quotation mark before it.
fn has_inch_sign(words: &[Word], from: usize, end: usize) -> bool {
    let behind = words.get(end - 1).and_then(|word| word.marks[1]);
    let before = words[from].marks[0];
    matches!(behind, Some('"' | '″' | '”')) && !matches!(before, Some('"' | '“' | '„'))
}

/// Millimetres in a unit, by its sign or by its name in the language. `in` alone is a unit only behind a number;
/// feet are none where the unit is written to the number (`joined`).
pub(super) fn unit(lexicon: &Lexicon, word: &str, joined: bool) -> Option<f64> {
    match lexicon.sign_of_unit(word).unwrap_or(word) {
        "mm" => Some(1.0),
        "cm" => Some(10.0),
        "m" => Some(1000.0),
        "in" => Some(INCH),
        "ft" if !joined => Some(12.0 * INCH),
        "yd" => Some(36.0 * INCH),
        _ => None,
    }
}

fn is_fraction(word: &str) -> bool {
    word.contains(['/', '⁄']) || fraction_sign(word).is_some()
}

fn fraction_sign(word: &str) -> Option<f64> {
    const SIGNS: [(char, f64); 11] = [
        ('½', 0.5),
        ('¼', 0.25),
        ('¾', 0.75),
        ('⅛', 0.125),
        ('⅜', 0.375),
        ('⅝', 0.625),
        ('⅞', 0.875),
        ('⅓', 1.0 / 3.0),
        ('⅔', 2.0 / 3.0),
        ('⅕', 0.2),
        ('⅙', 1.0 / 6.0),
    ];
    let last = word.chars().next_back()?;
    SIGNS
        .iter()
        .find(|(sign, _)| *sign == last)
        .map(|(_, value)| *value)
}

/// A number in figures: `40`, `1.5`, `1,5`, `3/8`, `1½`.
fn number(word: &str) -> Option<f64> {
    if let Some(part) = fraction_sign(word) {
        let whole = &word[..word.len() - word.chars().next_back()?.len_utf8()];
        let whole = if whole.is_empty() {
            0.0
        } else {
            whole.parse().ok()?
        };
        return Some(whole + part);
    }
    if let Some((over, under)) = word.split_once(['/', '⁄']) {
        let [over, under]: [f64; 2] = [over.parse().ok()?, under.parse().ok()?];
        return (under > 0.0).then(|| over / under);
    }
    let value: f64 = word.replace(',', ".").parse().ok()?;
    (value.is_finite() && word.starts_with(|c: char| c.is_ascii_digit())).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lengths(text: &str) -> Vec<(f64, bool)> {
        let lexicon = Lexicon::of("en");
        let words = crate::review::text::words(text, lexicon, |at| at);
        let found = in_words(lexicon, &words).into_iter();
        found
            .map(|length| ((length.mm * 10.0).round() / 10.0, length.inches))
            .collect()
    }

    #[test]
    fn lengths_are_read_in_all_their_forms() {
        // 1 in is 25.4 mm exactly
        assert_eq!(lengths("40 mm (1 1/8 in)"), [(40.0, false), (28.6, true)]);
        assert_eq!(
            lengths("1½ inches, 3⁄16 in or 4cm"),
            [(38.1, true), (4.8, true), (40.0, false)]
        );
        assert_eq!(lengths("5 mm (3/8\")"), [(5.0, false), (9.5, true)]);
        assert_eq!(lengths("the \"3\" on it"), []);
        assert_eq!(lengths("1,5 cm; 2 yards"), [(15.0, false), (1828.8, true)]);
        assert_eq!(lengths("put 3 in the bag of 40"), [(76.2, true)]);
    }
}
