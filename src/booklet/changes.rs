//! The change sheet: one page for those who have an earlier edition. Set like the booklet, from its
//! own main template.

use super::{Request, Typeset, compiled};
use crate::diagnostic::Diagnostics;

/// The file that is compiled.
const MAIN: &str = "changes.typ";

/// Sets the change sheet; `request` carries its data under `changes`, and the drawings. `None` if it
/// cannot be set; then at least one error was said.
pub fn typeset_changes(request: &Request<'_>, diagnostics: &mut Diagnostics) -> Option<Typeset> {
    let (document, pdf) = compiled(request, MAIN, " changes", diagnostics)?;
    Some(Typeset {
        pdf: pdf?,
        pages: document.pages().len(),
        plate_pages: None,
    })
}
