//! Numbers of pages and plates that are typed in the text: they are in the booklet.

use super::lexicon::Lexicon;
use super::names::stands;
use super::text::{Text, Word};
use super::warning;
use crate::booklet::Prose;
use crate::design::Design;
use crate::diagnostic::Diagnostics;

/// Looks for numbers beyond the last page and the last plate of a booklet; `pages` counts the plates too.
pub fn numbered(
    design: &Design,
    prose: &Prose,
    (pages, plates): (usize, usize),
    diagnostics: &mut Diagnostics,
) {
    let lexicon = Lexicon::of(&design.language);
    let text = Text::read(design, prose, lexicon);
    for at in text.all() {
        let words = &at.sentence.words;
        for (list, last) in [("page", pages), ("plate", plates)] {
            let found = (0..words.len()).find_map(|n| Some((n, number(lexicon, list, words, n)?)));
            let Some((place, number)) = found.filter(|(_, number)| *number > last) else {
                continue;
            };
            let name = &words[place].lower;
            let message = format!("the text sends to {name} {number}, and there are {last}");
            let remedy = "say what is to be looked up: numbers change when something is added";
            diagnostics.push(warning("number-typed", &at.place(place), message, remedy));
        }
    }
}

/// The number behind a word of `list` that stands at `at`, unless it is that of something else: ‘page 47 of
/// your diary’.
fn number(lexicon: &Lexicon, list: &str, words: &[Word], at: usize) -> Option<usize> {
    let is_word = lexicon
        .list(list)
        .iter()
        .any(|phrase| stands(phrase, words, at));
    let number = words.get(at + 1).filter(|word| is_word && !word.parted)?;
    let next = words.get(at + 2).filter(|word| !word.parted);
    let of = next.is_some_and(|word| lexicon.has_word("of something else", &word.lower));
    let in_figures = number.lower.bytes().all(|b| b.is_ascii_digit());
    (in_figures && !of)
        .then(|| number.lower.parse().ok())
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_behind_the_word_is_read_and_one_of_another_book_is_not() {
        let lexicon = Lexicon::of("en");
        let read = |text: &str| {
            let words = crate::review::text::words(text, lexicon, |at| at);
            (0..words.len()).find_map(|at| number(lexicon, "page", &words, at))
        };
        assert_eq!(read("See page 47 for the stitch."), Some(47));
        assert_eq!(read("See page 47 of your diary."), None);
        assert_eq!(read("Turn the page, 3 times."), None);
        assert_eq!(read("The page 4a is none."), None);
    }
}
