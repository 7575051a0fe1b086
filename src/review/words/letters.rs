//! Whether the letters by which the text sends to places of a figure are in it, and mean what the text means.

use super::super::lexicon::Phrase;
use super::super::text::{Figure, Sentence, Word};
use super::super::{Subject, warning};
use crate::diagnostic::Diagnostics;
use crate::figure::flat::request::{Letter, SpotKind};

/// How many words before a letter can say what it is.
const REACH: usize = 10;

/// `(D in figure 1)`, where the figure has A and B alone; and letters that have changed places.
pub(super) fn of_figures(subject: &Subject, said: &mut Diagnostics) {
    for at in subject.text.all() {
        for (name, word) in &at.sentence.figures {
            let asked = letters_before(subject, at.sentence, *word);
            let Some((figure, letters)) = figure(subject, name).filter(|_| !asked.is_empty())
            else {
                continue;
            };
            let called = |letter: &str| letters.iter().find(|known| known.letter == letter);
            let words = &at.sentence.words;
            let missing = asked.iter().find(|n| called(&words[**n].text).is_none());
            if let Some(number) = missing {
                let message = format!(
                    "the text looks for ‘{}’ in the figure ‘{}’, which {}",
                    words[*number].text,
                    figure.name.as_deref().unwrap_or_default().replace('_', " "),
                    those_of(letters)
                );
                let remedy = "use a letter of the figure, or add it to its ‘letters:’";
                said.push(warning(
                    "letter-disagrees",
                    &at.place(*number),
                    message,
                    remedy,
                ));
            } else if let Some((number, other, meant)) = exchanged(subject, words, &asked, letters)
            {
                let message = format!(
                    "the text calls ‘{meant}’ {}, and in the figure that is {other}",
                    words[number].text
                );
                let remedy = "use the letter of the figure, or change its ‘letters:’";
                said.push(warning(
                    "letter-disagrees",
                    &at.place(number),
                    message,
                    remedy,
                ));
            }
        }
    }
}

/// The drawn figure of a name, with its letters.
fn figure<'s>(subject: &'s Subject, name: &str) -> Option<(&'s Figure, &'s [Letter])> {
    let mut figures = subject.text.sections().flat_map(|(_, s)| &s.figures);
    let figure = figures.find(|figure| figure.name.as_deref() == Some(name))?;
    Some((figure, figure.flat()?.letters.as_slice()))
}

fn those_of(letters: &[Letter]) -> String {
    let known: Vec<&str> = letters.iter().map(|known| known.letter.as_str()).collect();
    match known.as_slice() {
        [] => "has no letters".to_string(),
        known => format!("has {}", known.join(", ")),
    }
}

/// Numbers of the words that are letters right before a reference: ‘A in …’, ‘A and B in …’.
fn letters_before(subject: &Subject, sentence: &Sentence, reference: usize) -> Vec<usize> {
    let words = &sentence.words;
    let link = reference.checked_sub(1).and_then(|at| words.get(at));
    let links = link.is_some_and(|word| {
        let from = subject.lexicon.list("from").iter();
        from.chain(subject.lexicon.list("elsewhere"))
            .any(|phrase| phrase.words.len() == 1 && phrase.words[0].lower == word.lower)
    });
    let mut found = Vec::new();
    let mut at = reference.saturating_sub(1);
    while links && at > 0 {
        at -= 1;
        let word = &words[at];
        let and = subject.lexicon.has_word("and or", &word.lower);
        if is_letter(word) {
            found.push(at);
        } else if !and || found.is_empty() {
            break;
        }
    }
    found.reverse();
    found
}

/// Whether a word is a capital by itself.
fn is_letter(word: &Word) -> bool {
    let mut characters = word.text.chars();
    let capital = characters.next().is_some_and(char::is_uppercase);
    capital && characters.next().is_none()
}

/// The first letter of which the words before say nothing, where they say all that the figure says of another
/// one: its word, the other letter, and what is meant.
fn exchanged(
    subject: &Subject,
    words: &[Word],
    asked: &[usize],
    letters: &[Letter],
) -> Option<(usize, String, String)> {
    let first = *asked.first()?;
    let ends = |n: &usize| matches!(words[*n].marks[1], Some(';' | ':' | '.'));
    let start = (0..first).rev().find(ends).map_or(0, |n| n + 1);
    let before = &words[start.max(first.saturating_sub(REACH))..first];
    let said = |letter: &Letter| {
        let meaning = content(subject, &label(letter));
        let stands = |noun: &String| before.iter().any(|word| word.noun == *noun);
        let found = meaning.iter().filter(|noun| stands(noun)).count();
        (found, meaning.len())
    };
    let is_asked = |letter: &&Letter| asked.iter().any(|n| words[*n].text == letter.letter);
    let own = letters.iter().filter(is_asked);
    let mut others = letters.iter().filter(|letter| !is_asked(letter));
    let told = own.into_iter().all(|letter| said(letter).0 == 0);
    let other = others.find(|letter| {
        let (found, all) = said(letter);
        found == all && all > 0
    });
    let other = other.filter(|_| told)?;
    Some((first, other.letter.clone(), label(other)))
}

/// What a figure says of a letter: the designer's words, or the name of the place.
fn label(letter: &Letter) -> String {
    letter
        .says
        .clone()
        .unwrap_or_else(|| match &letter.spot.what {
            SpotKind::Edge(named) | SpotKind::Notch(named) | SpotKind::Mark(named) => {
                named.text.clone()
            }
            SpotKind::Corner(edges) => format!("{} {}", edges[0].text, edges[1].text),
            SpotKind::Piece(named) => named.text.clone(),
        })
}

/// The nouns of a label without its small words.
fn content(subject: &Subject, label: &str) -> Vec<String> {
    let lexicon = subject.lexicon;
    let phrase: Phrase = lexicon.phrase(label);
    let words = phrase.words.into_iter();
    let full = words.filter(|word| !lexicon.has_word("function words", &word.lower));
    full.map(|word| word.noun).collect()
}
