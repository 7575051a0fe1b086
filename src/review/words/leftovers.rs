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
    if let Some((sign, remedy)) = markup(text) {
        let message = format!("‘{sign}’ is printed as it stands");
        return Some(error("markup-left", place, message, remedy));
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

/// Signs of Markdown that did nothing: those of a head, of bold words, of a caution or a note.
fn markup(text: &str) -> Option<(String, &'static str)> {
    let start = text.trim_start();
    let head = start.trim_start_matches('#');
    let marks = start.len() - head.len();
    let shown = |sign: &str| sign.chars().take(20).collect::<String>();
    if (2..=6).contains(&marks) && head.starts_with(char::is_alphabetic) {
        let remedy =
            "put a space behind the signs ‘##’, else the head is lost in the text before it";
        return Some((shown(start), remedy));
    }
    if let Some(at) = text.find("**") {
        let remedy = "close bold words with ‘**’ right behind the last of them";
        return Some((shown(&text[at..]), remedy));
    }
    let bracket = |sign: &str| {
        let at = text.find(sign)?;
        let end = text[at..].find(']')? + at;
        let inside = &text[at + sign.len()..end];
        let is_word = !inside.is_empty() && inside.chars().all(char::is_alphanumeric);
        is_word.then(|| text[at..=end].to_string())
    };
    if let Some(sign) = bracket("[!") {
        let remedy = "write [!CAUTION], [!WARNING], [!IMPORTANT], [!TIP] or [!NOTE] in a line of its own, or \
                      with a head behind it";
        return Some((sign, remedy));
    }
    let sign = bracket("[^")?;
    Some((
        sign,
        "write the note too, in a line that begins with the same sign and a colon",
    ))
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
    fn signs_of_markdown_that_did_nothing_are_found() {
        // CommonMark 0.31.2, 4.2: the signs of a head are followed by a space
        let sign = |text: &str| markup(text).map(|(sign, _)| sign);
        assert_eq!(sign("##Sew the bag").as_deref(), Some("##Sew the bag"));
        assert_eq!(sign("a **bold word").as_deref(), Some("**bold word"));
        assert_eq!(sign("[!CAUTON] Small parts").as_deref(), Some("[!CAUTON]"));
        assert_eq!(sign("the loop[^1] hangs").as_deref(), Some("[^1]"));
        for good in [
            "needle #5",
            "#1 of two",
            "a * b",
            "[optional] pin",
            "[see there]",
        ] {
            assert_eq!(sign(good), None, "{good}");
        }
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
