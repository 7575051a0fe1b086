//! Whether a sentence asks for what it names. What it denies, or leaves to the reader, is not asked for.

use super::lexicon::Lexicon;
use super::names::{has, stands_in_any_form};
use super::text::Word;

/// How many words behind a thing may deny it: ‘beads are not needed’.
const REACH: usize = 6;

/// Whether the thing at `at` is denied: by a word before it in the same clause, which ends with a
/// semicolon, a colon or ‘but’, or by one soon behind it before the next mark.
pub(super) fn denied(lexicon: &Lexicon, words: &[Word], at: usize) -> bool {
    let ends = |n: &usize| {
        let divides = matches!(
            words[*n].marks[1],
            Some(';' | ':' | '–' | '—' | '.' | '!' | '?')
        );
        divides || lexicon.has_word("contrary", &words[*n].lower)
    };
    let start = (0..at).rev().find(ends).map_or(0, |n| n + 1);
    let behind = words.get(at + 1..).unwrap_or_default();
    let ends = |word: &Word| word.parted || word.follows_line;
    let until = behind.iter().take(REACH).position(ends);
    let behind = &behind[..until.unwrap_or(behind.len().min(REACH))];
    let not = lexicon.list("not");
    has(not, &words[start..at]) || has(not, behind)
}

/// Whether a sentence leaves it to the reader: ‘if you like’, ‘may have’, ‘instead of’.
pub(super) fn left_to_the_reader(lexicon: &Lexicon, words: &[Word]) -> bool {
    let list = lexicon.list("left to the reader");
    (0..words.len()).any(|at| {
        let mut phrases = list.iter();
        phrases.any(|phrase| match phrase.words.as_slice() {
            // a can is no verb, but ‘can’ and ‘could’ must not lose their forms
            [word] => word.lower == words[at].lower,
            _ => stands_in_any_form(phrase, words, at),
        })
    })
}

/// The words up to the full stops round the word at `at`, of a text that is not parted into sentences.
pub(super) fn sentence_of(words: &[Word], at: usize) -> &[Word] {
    let ends = |n: &usize| matches!(words[*n].marks[1], Some('.' | '!' | '?'));
    let start = (0..at).rev().find(ends).map_or(0, |n| n + 1);
    let end = (at..words.len()).find(ends).map_or(words.len(), |n| n + 1);
    &words[start..end]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::text::words;

    /// Whether the last word of `text` before the stroke is denied.
    fn is_denied(text: &str, thing: &str) -> bool {
        let lexicon = Lexicon::of("en");
        let words = words(text, lexicon, |at| at);
        let at = words.iter().position(|word| word.lower == thing);
        denied(lexicon, &words, at.unwrap_or_default())
    }

    #[test]
    fn a_thing_is_denied_before_it_or_behind_it_in_its_clause() {
        assert!(is_denied("No zip, buttons or beads are needed.", "beads"));
        assert!(is_denied("A ribbon is not needed.", "ribbon"));
        assert!(is_denied("Work without a serger.", "serger"));
        assert!(!is_denied(
            "Do not trim it, but sew on the ribbon.",
            "ribbon"
        ));
        assert!(!is_denied("Nothing shows: sew on the ribbon.", "ribbon"));
        assert!(!is_denied("Sew on the ribbon, not too tightly.", "ribbon"));
    }

    #[test]
    fn what_may_be_done_is_left_to_the_reader() {
        let left = |text: &str, language: &str| {
            let lexicon = Lexicon::of(language);
            left_to_the_reader(lexicon, &words(text, lexicon, |at| at))
        };
        assert!(left("A bag for a friend may have a ribbon.", "en"));
        assert!(left("Cut it with a rotary cutter if you have one.", "en"));
        assert!(left("Wer mag, näht ein Band auf.", "de"));
        assert!(!left("Sew the ribbon on.", "en"));
        assert!(!left("Das Band annähen.", "de"));
    }
}
