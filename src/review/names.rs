//! The names of the design in its text: pieces, seams, cloths, trims. Where several names could stand, the
//! longest is meant.

use super::lexicon::{Lexicon, Phrase, PhraseWord};
use super::text::Word;

/// Names, each with the number of what it is the name of.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    /// Longest first.
    list: Vec<(Phrase, Option<usize>)>,
}

/// A name in a sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mention {
    /// Number of what is meant.
    pub of: usize,
    /// Its words: from the first to behind the last.
    pub from: usize,
    pub to: usize,
}

impl Names {
    /// No names but the phrases of the list `not names`, which look like names and are none.
    pub fn new(lexicon: &Lexicon) -> Self {
        let list = lexicon.list("not names").iter();
        Self {
            list: list.map(|phrase| (phrase.clone(), None)).collect(),
        }
    }

    /// Adds a name. What is the name of something is no mere phrase, and the first of two is kept.
    pub fn add(&mut self, name: &str, of: usize, lexicon: &Lexicon) {
        let phrase = lexicon.phrase(name);
        let same = |other: &Phrase| nouns(other).eq(nouns(&phrase));
        let known = self
            .list
            .iter()
            .any(|(other, of)| of.is_some() && same(other));
        if phrase.words.is_empty() || known {
            return;
        }
        self.list.retain(|(other, of)| of.is_some() || !same(other));
        self.list.push((phrase, Some(of)));
        self.list
            .sort_by_key(|(phrase, _)| std::cmp::Reverse(phrase.words.len()));
    }

    /// The names in `words`, in order.
    pub fn find(&self, words: &[Word]) -> Vec<Mention> {
        let mut found = Vec::new();
        let mut from = 0;
        while from < words.len() {
            let here = self
                .list
                .iter()
                .find(|(phrase, _)| stands(phrase, words, from));
            match here {
                Some((phrase, of)) => {
                    let to = from + phrase.words.len();
                    found.extend(of.map(|of| Mention { of, from, to }));
                    from = to;
                }
                None => from += 1,
            }
        }
        found
    }
}

fn nouns(phrase: &Phrase) -> impl Iterator<Item = &String> {
    phrase.words.iter().map(|word| &word.noun)
}

/// Whether the nouns of a phrase stand at `from`, without a mark between them.
pub(super) fn stands(phrase: &Phrase, words: &[Word], from: usize) -> bool {
    matches(phrase, words, from, |word, wanted| word.noun == wanted.noun)
}

/// Whether the words of a phrase stand at `from`, in any form.
pub(super) fn stands_in_any_form(phrase: &Phrase, words: &[Word], from: usize) -> bool {
    matches(phrase, words, from, |word, wanted| word.stem == wanted.stem)
}

fn matches(
    phrase: &Phrase,
    words: &[Word],
    from: usize,
    same: impl Fn(&Word, &PhraseWord) -> bool,
) -> bool {
    let Some(here) = words.get(from..from + phrase.words.len()) else {
        return false;
    };
    !here.is_empty()
        && here
            .iter()
            .zip(&phrase.words)
            .enumerate()
            .all(|(n, (word, wanted))| (n == 0 || !word.parted) && same(word, wanted))
}

/// Where the first phrase of a list stands, in any form: its number and its first word.
pub(super) fn first_of(list: &[Phrase], words: &[Word]) -> Option<(usize, usize)> {
    (0..words.len()).find_map(|from| {
        let mut numbered = list.iter().enumerate();
        let found = numbered.find(|(_, phrase)| stands_in_any_form(phrase, words, from));
        found.map(|(number, _)| (number, from))
    })
}

/// Whether a word or phrase of a list stands there in any form.
pub(super) fn has(list: &[Phrase], words: &[Word]) -> bool {
    first_of(list, words).is_some()
}

/// Whether a word or phrase of a list stands there just as it is written, in no other form.
pub(super) fn says(list: &[Phrase], words: &[Word]) -> bool {
    list.iter().any(|phrase| {
        let mut windows = words.windows(phrase.words.len().max(1));
        windows.any(|here| {
            here.iter()
                .map(|w| &w.lower)
                .eq(phrase.words.iter().map(|w| &w.lower))
        })
    })
}

/// The noun of a name: its last word before `with`, `for`, a comma or a bracket.
pub(super) fn head_noun(name: &str, lexicon: &Lexicon) -> Option<String> {
    let before = name.split([',', '(', ';']).next().unwrap_or(name);
    let phrase = lexicon.phrase(before);
    let stop = lexicon.list("noun ends");
    let ends = |lower: &str| {
        stop.iter()
            .any(|p| p.words.iter().any(|w| w.lower == lower))
    };
    let end = phrase.words.iter().position(|word| ends(&word.lower));
    let words = &phrase.words[..end.filter(|end| *end > 0).unwrap_or(phrase.words.len())];
    words.last().map(|word| word.noun.clone())
}
