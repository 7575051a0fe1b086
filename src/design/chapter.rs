//! A chapter of the booklet as the designer writes it.

use crate::diagnostic::SourceText;
use std::sync::Arc;

/// What a chapter of the booklet holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChapterKind {
    /// Text with side heads.
    Text,
    /// Each `##` is a numbered step.
    Steps,
}

/// One `booklet/*.md`.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter {
    /// Kind, from the head of the file.
    pub kind: ChapterKind,
    /// One short sentence under the chapter's title.
    pub standfirst: Option<String>,
    /// Title: `title` of the head of the file.
    pub title: String,
    /// Where the chapter stands: before the pieces, as the steps, or after.
    pub part: Part,
    /// Line of the file at which the Markdown begins, from 1.
    pub first_line: usize,
    /// The whole file.
    pub source: Arc<SourceText>,
}

/// Parts of the booklet that a chapter may belong to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Before anything is printed or cut.
    MakeReady,
    /// The making.
    Make,
    /// To look up afterwards.
    LookUp,
}
