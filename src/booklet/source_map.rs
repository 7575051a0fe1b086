//! From a byte of a generated text back to the designer's own file.

use crate::diagnostic::{Place, SourceText};
use std::sync::Arc;

/// Places by byte offset in one generated file.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct SourceMap {
    entries: Vec<(usize, Place)>,
}

impl SourceMap {
    /// Says that what is written from `offset` on comes from `place`. Offsets must not fall.
    pub fn push(&mut self, offset: usize, place: Place) {
        debug_assert!(self.entries.last().is_none_or(|(last, _)| *last <= offset));
        self.entries.push((offset, place));
    }

    /// The place that the byte at `offset` comes from.
    pub fn find(&self, offset: usize) -> Option<&Place> {
        let after = self.entries.partition_point(|(start, _)| *start <= offset);
        self.entries
            .get(after.checked_sub(1)?)
            .map(|(_, place)| place)
    }
}

/// A point of a text from which lines and columns are counted on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Anchor {
    /// Byte offset in the filled text.
    pub offset: usize,
    /// Line in the file, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// The text that follows stands for a value: all of it points at the value's tag.
    pub fixed: bool,
    /// Which of the sources of [`Filled`] it lies in.
    pub file: usize,
}

impl Anchor {
    /// The first character of the first source.
    pub const START: Self = Self {
        offset: 0,
        line: 1,
        column: 1,
        fixed: false,
        file: 0,
    };

    /// This anchor moved on to `offset` of `text`, in which no other anchor stands between.
    pub fn moved(self, text: &str, offset: usize) -> Self {
        let between = text.get(self.offset..offset).unwrap_or_default();
        let (lines, column) = line_column(between, between.len());
        let (line, column) = match lines {
            _ if self.fixed => (self.line, self.column),
            1 => (self.line, self.column + column - 1),
            _ => (self.line + lines - 1, column),
        };
        Self {
            offset,
            line,
            column,
            ..self
        }
    }
}

/// A chapter's text after its values are filled in, with the way back to the file. Exact for all
/// text that stands in the file; inside a printed value every character points at the value's tag.
#[derive(Debug, Clone, PartialEq)]
pub struct Filled {
    /// The Markdown.
    pub text: String,
    /// The chapter's file, then the shared texts that stand in it.
    pub sources: Vec<Arc<SourceText>>,
    /// Anchors by rising offset; the first is at 0.
    pub anchors: Vec<Anchor>,
}

impl Filled {
    /// `text` as it stands in `source` from `first_line` on, without any values.
    pub fn plain(source: &Arc<SourceText>, first_line: usize, text: &str) -> Self {
        let anchor = Anchor {
            line: first_line,
            ..Anchor::START
        };
        Self {
            text: text.to_string(),
            sources: vec![source.clone()],
            anchors: vec![anchor],
        }
    }

    /// The place in the file of the byte at `offset` of the filled text.
    pub fn place(&self, offset: usize) -> Place {
        let offset = self.text.floor_char_boundary(offset);
        let after = self
            .anchors
            .partition_point(|anchor| anchor.offset <= offset);
        let anchor = after.checked_sub(1).and_then(|i| self.anchors.get(i));
        let anchor = anchor.unwrap_or(&Anchor::START).moved(&self.text, offset);
        Place {
            source: self.source(anchor.file),
            line: anchor.line,
            column: anchor.column,
        }
    }

    fn source(&self, file: usize) -> Arc<SourceText> {
        let nameless = || {
            Arc::new(SourceText {
                path: String::new(),
                text: String::new(),
            })
        };
        self.sources.get(file).cloned().unwrap_or_else(nameless)
    }
}

/// The text of `source` from line `first_line` (from 1) on.
pub fn from_line(source: &SourceText, first_line: usize) -> &str {
    let mut rest = source.text.as_str();
    for _ in 1..first_line {
        match rest.find('\n') {
            Some(end) => rest = &rest[end + 1..],
            None => return "",
        }
    }
    rest
}

/// Line and column, from 1, of the byte at `offset` of `text`.
pub fn line_column(text: &str, offset: usize) -> (usize, usize) {
    let before = &text[..text.floor_char_boundary(offset)];
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    (
        before.matches('\n').count() + 1,
        before[start..].chars().count() + 1,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_and_in_characters() {
        assert_eq!(line_column("ab\nüc", 0), (1, 1));
        assert_eq!(line_column("ab\nüc", 5), (2, 2));
        assert_eq!(line_column("", 9), (1, 1));
    }

    #[test]
    fn a_byte_finds_the_last_place_before_it() {
        let source = Arc::new(SourceText {
            path: "a.md".into(),
            text: String::new(),
        });
        let place = |line| Place {
            source: source.clone(),
            line,
            column: 1,
        };
        let mut map = SourceMap::default();
        map.push(10, place(1));
        map.push(20, place(2));
        assert_eq!(map.find(9), None);
        assert_eq!(map.find(19).unwrap().line, 1);
        assert_eq!(map.find(500).unwrap().line, 2);
    }
}
