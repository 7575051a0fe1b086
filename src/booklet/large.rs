//! The plates alone, on a large sheet or a roll: set from a main template of its own.

use super::{Request, Typeset, compiled};
use crate::diagnostic::Diagnostics;

/// The file that is compiled.
pub(super) const MAIN: &str = "large.typ";

/// Sets the plates that `request` carries. `None` if they cannot be set; then at least one error was
/// said.
pub fn typeset_large(request: &Request<'_>, diagnostics: &mut Diagnostics) -> Option<Typeset> {
    let (document, pdf) = compiled(request, MAIN, " large", diagnostics)?;
    let pages = document.pages().len();
    Some(Typeset {
        pdf: pdf?,
        pages,
        plate_pages: (pages > 0).then_some(1..=pages),
        step_pages: Vec::new(),
    })
}
