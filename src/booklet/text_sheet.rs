//! Sheets of text beside the booklet, each set like it from a main template of its own.

use super::{Request, Typeset, compiled};
use crate::diagnostic::Diagnostics;

/// What a sheet is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TextSheetKind {
    /// For those who have an earlier edition: what changed.
    Changes,
    /// For the designer's own test print: what to measure.
    Proof,
}

impl TextSheetKind {
    /// The word for it in the names of files, and of its data.
    pub fn file_word(self) -> &'static str {
        match self {
            Self::Changes => "changes",
            Self::Proof => "proof-sheet",
        }
    }

    /// What it is in the report of the proof.
    pub fn words(self) -> &'static str {
        match self {
            Self::Changes => "change sheet",
            Self::Proof => "proof sheet",
        }
    }

    /// The file that is compiled.
    fn main(self) -> &'static str {
        match self {
            Self::Changes => "changes.typ",
            Self::Proof => "proof_sheet.typ",
        }
    }
}

/// Sets a sheet; `request` carries its data and drawings. `None` if it cannot be set; then at least one
/// error was said.
pub fn typeset_text_sheet(
    kind: TextSheetKind,
    request: &Request<'_>,
    diagnostics: &mut Diagnostics,
) -> Option<Typeset> {
    let name = format!(" {}", kind.file_word());
    let (document, pdf) = compiled(request, kind.main(), &name, diagnostics)?;
    Some(Typeset {
        pdf: pdf?,
        pages: document.pages().len(),
        plate_pages: None,
        step_pages: Vec::new(),
    })
}
