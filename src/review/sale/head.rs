//! The first keys of the design: terms, contact, age, maker, skill, edition.

use super::super::{Subject, error, warning};
use crate::design::ChapterKind;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};

pub(in crate::review) fn each_is_there(subject: &Subject, said: &mut Diagnostics) {
    let design = subject.design;
    let place = subject.key_place("title");
    let is_missing = |words: &Option<String>| words.as_deref().is_none_or(|w| w.trim().is_empty());
    let wrong: [(bool, Missing); 5] = [
        (is_missing(&design.terms), NO_TERMS),
        (is_missing(&design.contact), NO_CONTACT),
        (is_missing(&design.age), NO_AGE),
        (is_missing(&design.by), NO_MAKER),
        (is_missing(&design.skill), NO_SKILL),
    ];
    for (_, missing) in wrong.iter().filter(|(is_missing, _)| *is_missing) {
        said.push(missing(&place));
    }
}

/// Tells that something is missing.
type Missing = fn(&Place) -> Diagnostic;

const NO_TERMS: Missing = |place| {
    let message = "the booklet does not say what a buyer may do with the pattern";
    let remedy = "add ‘terms:’: whether finished things may be sold, and that the pattern is not to be copied";
    error("no-terms", place, message.into(), remedy)
};

const NO_CONTACT: Missing = |place| {
    let message = "the booklet does not say where a buyer can ask or report a mistake";
    let remedy = "add ‘contact:’: an address for letters, mail or a web page";
    error("no-contact", place, message.into(), remedy)
};

const NO_AGE: Missing = |place| {
    let message = "the booklet does not say for whom the finished thing is safe";
    let remedy = "add ‘age:’, for example: for display, or for children over 8";
    error("no-age", place, message.into(), remedy)
};

const NO_MAKER: Missing = |place| {
    let message = "the booklet does not say who made the design";
    warning(
        "no-maker",
        place,
        message.into(),
        "add ‘by:’: the name as it is to be printed",
    )
};

const NO_SKILL: Missing = |place| {
    let message = "the booklet does not say what a buyer should be able to do";
    warning(
        "no-skill",
        place,
        message.into(),
        "add ‘skill:’, for example: confident beginner",
    )
};

/// A thing that is sold with nothing that says how it is made.
pub(in crate::review) fn steps(subject: &Subject, said: &mut Diagnostics) {
    let chapters = &subject.prose.chapters;
    if chapters
        .iter()
        .any(|chapter| chapter.kind == ChapterKind::Steps)
    {
        return;
    }
    let message = "no chapter says step by step how it is made".to_string();
    let remedy = "write one, booklet/20-making.md, with ‘kind: steps’ at its head";
    said.push(warning(
        "no-steps",
        &subject.key_place("title"),
        message,
        remedy,
    ));
}

/// An address that a letter, a mail or a browser can find: a mail address, a web page, a telephone number,
/// or a place with a number.
pub(in crate::review) fn contact(subject: &Subject, said: &mut Diagnostics) {
    let Some(contact) = subject
        .design
        .contact
        .as_deref()
        .filter(|c| !c.trim().is_empty())
    else {
        return;
    };
    let words = contact
        .split_whitespace()
        .map(|word| word.trim_matches(|c: char| !c.is_alphanumeric() && !matches!(c, '/' | '@')));
    let is_mail = |word: &str| {
        let parts = word.split_once('@');
        parts.is_some_and(|(name, at)| !name.is_empty() && is_domain(at))
    };
    let is_page = |word: &str| {
        let bare = word
            .trim_start_matches("https://")
            .trim_start_matches("http://");
        !word.contains('@') && is_domain(bare.split('/').next().unwrap_or_default())
    };
    let digits = contact.chars().filter(char::is_ascii_digit).count();
    let broken = contact
        .split_whitespace()
        .any(|word| word.contains('@') && !is_mail(trimmed(word)));
    let is_place = digits >= 1 && contact.split_whitespace().count() >= 4;
    let usable =
        words.into_iter().any(|word| is_mail(word) || is_page(word)) || digits >= 6 || is_place;
    if !usable || broken {
        let message = format!("nobody can be reached at ‘{contact}’");
        let remedy =
            "give an address that is whole: name@shop.example, a web page, or street and town";
        said.push(warning(
            "contact-unusable",
            &subject.key_place("contact"),
            message,
            remedy,
        ));
    }
}

fn trimmed(word: &str) -> &str {
    word.trim_matches(|c: char| !c.is_alphanumeric())
}

/// Labels of letters, figures and hyphens, parted by dots, the last one of letters (RFC 1034, 3.5).
fn is_domain(text: &str) -> bool {
    let labels: Vec<&str> = text.split('.').collect();
    let is_label = |label: &&str| {
        let fits = |c: char| c.is_alphanumeric() || c == '-';
        !label.is_empty()
            && label.chars().all(fits)
            && !label.starts_with('-')
            && !label.ends_with('-')
    };
    let top = labels.last().copied().unwrap_or_default();
    labels.len() > 1
        && labels.iter().all(is_label)
        && top.chars().count() > 1
        && top.chars().all(char::is_alphabetic)
}

/// Three numbers, compared one after the other.
fn numbers(edition: &str) -> Vec<u32> {
    edition
        .split('.')
        .filter_map(|part| part.parse().ok())
        .collect()
}

/// What editions changed: none is newer than this edition, none stands twice, and dates go with numbers.
pub(in crate::review) fn editions(subject: &Subject, said: &mut Diagnostics) {
    let design = subject.design;
    let now = numbers(&design.edition);
    let notes = &design.look_up.editions;
    let place = |edition: &str| subject.place_below("editions", edition);
    for note in notes.iter().filter(|note| numbers(&note.edition) > now) {
        let message = format!(
            "the history tells of edition {}, and this is edition {}",
            note.edition, design.edition
        );
        let remedy = "raise ‘edition:’, or correct the number in ‘editions:’";
        said.push(error(
            "edition-order",
            &place(&note.edition),
            message,
            remedy,
        ));
    }
    for (n, note) in notes.iter().enumerate() {
        for other in &notes[n + 1..] {
            let [a, b] = [numbers(&note.edition), numbers(&other.edition)];
            let dates = note.on.cmp(&other.on);
            let wrong = match a.cmp(&b) {
                std::cmp::Ordering::Equal => note.changed == other.changed,
                order => dates != std::cmp::Ordering::Equal && dates != order,
            };
            if wrong {
                let message = format!(
                    "editions {} of {} and {} of {} are not in one order",
                    note.edition, note.on, other.edition, other.on
                );
                let remedy = "correct the number or the date of one of them";
                said.push(error(
                    "edition-order",
                    &place(&other.edition),
                    message,
                    remedy,
                ));
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn domains_are_those_of_the_rule() {
        // RFC 1034, 3.5: labels begin and end with a letter or figure
        assert!(is_domain("harvest-fair.example"));
        assert!(is_domain("shop.harvest.example"));
        assert!(!is_domain("harvest-fair"));
        assert!(!is_domain("harvest..example"));
        assert!(!is_domain("-fair.example"));
    }
}
