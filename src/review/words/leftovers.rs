//! Signs of the writing that a reader should never see: a value in single braces, a letter in the spelling of
//! web pages.

use super::super::{Subject, error, warning};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};

pub(super) fn of_writing(subject: &Subject, said: &mut Diagnostics) {
    for at in subject.text.all() {
        tell(&at.sentence.raw, &at.place(0), said);
    }
    for (_, section) in subject.text.sections() {
        for figure in &section.figures {
            for sentence in &figure.caption {
                tell(&sentence.raw, &figure.place, said);
            }
        }
    }
    for (path, text) in subject.own_texts() {
        tell(&text, &subject.text_place(&path, &text), said);
    }
}

fn tell(text: &str, place: &Place, said: &mut Diagnostics) {
    if let Some(found) = found(text, place) {
        said.push(found);
    }
}

fn found(text: &str, place: &Place) -> Option<Diagnostic> {
    if let Some(name) = in_single_braces(text) {
        let message = format!("‘{{{name}}}’ is printed as it stands");
        let remedy = format!("write ‘{{{{ {name} }}}}’: a value stands in double braces");
        return Some(error("braces-left", place, message, &remedy));
    }
    entity(text).map(|sign| {
        let message = format!("‘{sign}’ is printed as it stands");
        let remedy = "write the letter itself";
        warning("entity-left", place, message, remedy)
    })
}

/// What stands in single braces and reads like a value: words of small letters with a dot between.
fn in_single_braces(text: &str) -> Option<&str> {
    let mut parts = text.split('{').skip(1);
    parts.find_map(|part| {
        let name = part.split_once('}')?.0.trim();
        let is_word = |word: &str| {
            let letters = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
            word.starts_with(|c: char| c.is_ascii_lowercase()) && word.chars().all(letters)
        };
        (name.contains('.') && name.split('.').all(is_word)).then_some(name)
    })
}

/// A character as web pages spell it: `&amp;`, `&#189;`.
fn entity(text: &str) -> Option<&str> {
    let mut starts = text.match_indices('&').map(|(at, _)| at);
    starts.find_map(|at| {
        let end = text[at..].find(';')? + at;
        let name = &text[at + 1..end];
        let digits = name.strip_prefix('#').unwrap_or(name);
        let fits =
            (2..10).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_alphanumeric());
        fits.then(|| &text[at..=end])
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_in_single_braces_are_found_and_other_braces_are_not() {
        assert_eq!(
            in_single_braces("leave { measures.gap } open"),
            Some("measures.gap")
        );
        assert_eq!(
            in_single_braces("cut {trims.cord.length}"),
            Some("trims.cord.length")
        );
        assert_eq!(in_single_braces("a set {front, back}"), None);
        assert_eq!(in_single_braces("a smile :} and {"), None);
    }

    #[test]
    fn letters_as_web_pages_spell_them_are_found() {
        // HTML 4.01, 24: entities begin with & and end with ;
        assert_eq!(entity("needle &amp; thread"), Some("&amp;"));
        assert_eq!(entity("&#189; hour"), Some("&#189;"));
        assert_eq!(entity("needle & thread; then"), None);
        assert_eq!(entity("Smith & Sons; &c"), None);
    }
}
