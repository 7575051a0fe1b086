//! How many letters the words of a key may have. Words that stand in a fixed place are set smaller until they
//! fit, and a page of them would be tried for minutes; none is meant.

/// A title, or a name that stands on one line.
pub(super) const LINE: usize = 120;

/// A word without a hyphen: the longest that the cover and the margin can set.
pub(super) const WORD: usize = 30;

/// A note, an age, what stands behind a size: a few sentences.
const NOTE: usize = 600;

/// What is told at some length: about, terms, the meaning of a word.
pub(super) const PASSAGE: usize = 4000;

/// The path of a drawing, which is no words: all that its file may hold.
pub(super) const PATH: usize = 1 << 20;

/// What the words of `key` may have; `key` may be a path.
pub(super) fn most(key: &str) -> usize {
    match key.rsplit('.').next().unwrap_or(key) {
        "title" | "series" | "by" | "name" | "makes" | "skill" | "formerly" => LINE,
        "note" | "words" | "age" | "alt" | "contact" => NOTE,
        _ => PASSAGE,
    }
}
