//! Sentences and words. A word is kept as it stands, in small letters, as a noun in the singular, and as a
//! stem (Porter's second algorithm for English, that of the Snowball project for German).

use crate::review::lexicon::Lexicon;

/// One word or number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::review) struct Word {
    pub text: String,
    pub lower: String,
    /// Without the ending of the plural.
    pub noun: String,
    /// Without any ending.
    pub stem: String,
    /// Where it begins.
    pub at: usize,
    /// Whether a mark stands between the word before and this one: a comma, a bracket, a colon.
    pub parted: bool,
    /// Whether it begins a line.
    pub follows_line: bool,
    /// Whether it follows a hyphen.
    pub joined: bool,
    /// The marks right before and right behind it.
    pub marks: [Option<char>; 2],
}

/// Words up to a full stop.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::review) struct Sentence {
    pub words: Vec<Word>,
    /// Names of figures that it refers to, with the number of the word that follows.
    pub figures: Vec<(String, usize)>,
    /// As it stands.
    pub raw: String,
    /// Where it begins.
    pub at: usize,
    /// Whether it is the head of its section.
    pub is_head: bool,
    /// Whether a mark ends it.
    pub ended: bool,
    /// Whether it stands in a caution.
    pub is_caution: bool,
    /// Whether it is the last of a paragraph of running text.
    pub closes_paragraph: bool,
    /// Where the row of the table begins in which it stands.
    pub row: Option<usize>,
}

/// Text of a block with the way back.
#[derive(Debug, Clone, Default)]
pub(in crate::review) struct Run {
    pub text: String,
    /// Where pieces of the text begin, in it and in the chapter.
    pub starts: Vec<(usize, usize)>,
    /// Figures that are referred to, by where in the text.
    pub figures: Vec<(usize, String)>,
}

impl Run {
    /// Plain words that stand at `at`.
    pub fn plain(text: &str, at: usize) -> Self {
        Self {
            text: text.to_string(),
            starts: vec![(0, at)],
            figures: Vec::new(),
        }
    }

    fn offset(&self, at: usize) -> usize {
        let after = self.starts.partition_point(|(start, _)| *start <= at);
        let found = after.checked_sub(1).and_then(|i| self.starts.get(i));
        found.map_or(0, |(start, there)| there + (at - start))
    }
}

/// The sentences of a block.
pub(in crate::review) fn sentences(run: &Run, lexicon: &Lexicon) -> Vec<Sentence> {
    let mut found = Vec::new();
    let mut start = 0;
    for end in ends(&run.text) {
        found.extend(sentence(run, start, end, lexicon));
        start = end;
    }
    found.extend(sentence(run, start, run.text.len(), lexicon));
    found
}

/// Where sentences end: behind a full stop, a question or exclamation mark that a space follows, with the
/// brackets and quotation marks that close there.
fn ends(text: &str) -> Vec<usize> {
    let mut found = Vec::new();
    for (at, mark) in text.char_indices() {
        if !matches!(mark, '.' | '!' | '?' | '…') {
            continue;
        }
        let rest = &text[at + mark.len_utf8()..];
        let closing = |c: char| {
            matches!(
                c,
                ')' | '”' | '’' | '"' | '“' | '»' | '*' | '_' | '.' | '!' | '?'
            )
        };
        let after = rest.trim_start_matches(closing);
        let short = text[..at]
            .rsplit(|c: char| !c.is_alphanumeric())
            .next()
            .is_some_and(|word| word.chars().count() == 1 && word.chars().all(char::is_alphabetic));
        if after.starts_with(char::is_whitespace) && !short {
            found.push(text.len() - after.len());
        }
    }
    found
}

fn sentence(run: &Run, start: usize, end: usize, lexicon: &Lexicon) -> Option<Sentence> {
    let raw = &run.text[start..end];
    let words = words(raw, lexicon, |at| run.offset(start + at));
    let inside = |at: usize| at >= start && at < end.max(start + 1);
    let figures = run.figures.iter().filter(|(at, _)| inside(*at));
    let number = |at: usize| {
        words
            .iter()
            .take_while(|word| word.at < run.offset(at))
            .count()
    };
    let figures: Vec<(String, usize)> = figures
        .map(|(at, name)| (name.clone(), number(*at)))
        .collect();
    if words.is_empty() && figures.is_empty() {
        return None;
    }
    let bare = raw.trim_end_matches(|c: char| {
        c.is_whitespace() || matches!(c, ')' | '”' | '"' | '’' | '“' | '»')
    });
    Some(Sentence {
        ended: bare.ends_with(['.', '!', '?', '…', ':']),
        at: run.offset(start + (raw.len() - raw.trim_start().len())),
        raw: raw.trim().to_string(),
        words,
        figures,
        is_head: false,
        is_caution: false,
        closes_paragraph: false,
        row: None,
    })
}

/// The words of `text`; `at` gives the place of a byte.
pub(in crate::review) fn words(
    text: &str,
    lexicon: &Lexicon,
    at: impl Fn(usize) -> usize,
) -> Vec<Word> {
    let mut found: Vec<Word> = Vec::new();
    let mut last = 0;
    let mut from = 0;
    while let Some(begin) = text[from..].find(char::is_alphanumeric).map(|i| i + from) {
        let end = word_end(text, begin);
        let gap = &text[last..begin];
        let written = &text[begin..end];
        let lower = written.to_lowercase();
        found.push(Word {
            text: written.to_string(),
            noun: lexicon.noun(&lower),
            stem: lexicon.stem(&lower),
            lower,
            at: at(begin),
            parted: gap.contains(|c: char| !c.is_whitespace() && !"-‐‑'’*_".contains(c)),
            follows_line: gap.contains('\n'),
            marks: [
                text[..begin].chars().next_back(),
                text[end..].chars().next(),
            ],
            joined: !found.is_empty() && matches!(gap, "-" | "‐" | "‑"),
        });
        last = end;
        from = end;
    }
    found
}

/// Where the word or number that begins at `begin` ends. Numbers keep their decimals and fractions.
fn word_end(text: &str, begin: usize) -> usize {
    let mut end = begin;
    let rest = &text[begin..];
    let is_number = rest.starts_with(|c: char| c.is_ascii_digit());
    let mut characters = rest.char_indices().peekable();
    while let Some((at, character)) = characters.next() {
        let next = characters.peek().map(|(_, next)| *next);
        let digit_next = next.is_some_and(|c| c.is_ascii_digit());
        let letter_next = next.is_some_and(char::is_alphabetic);
        let inside = match character {
            '.' | ',' | '/' | '⁄' => is_number && digit_next,
            '\'' | '’' => !is_number && letter_next,
            c => c.is_alphanumeric(),
        };
        if !inside {
            break;
        }
        end = begin + at + character.len_utf8();
    }
    end
}
