//! How the draft of a shoe tells what is wrong: each sentence with the foot's place.

use crate::diagnostic::{Diagnostic, Diagnostics, Place};

/// Where diagnostics go.
pub(super) struct Told<'a> {
    place: &'a Place,
    diagnostics: &'a mut Diagnostics,
}

impl<'a> Told<'a> {
    pub(super) fn new(place: &'a Place, diagnostics: &'a mut Diagnostics) -> Self {
        Self { place, diagnostics }
    }

    /// Something that keeps the shoe from being drafted, or from being worn.
    pub(super) fn refuse(&mut self, code: &'static str, message: String, remedy: &str) {
        let told = Diagnostic::error(code, Some(self.place), message);
        self.diagnostics.push(told.remedy(remedy));
    }

    /// Something that is probably wrong.
    pub(super) fn warn(&mut self, code: &'static str, message: String, remedy: &str) {
        let told = Diagnostic::warning(code, Some(self.place), message);
        self.diagnostics.push(told.remedy(remedy));
    }

    /// Something worth knowing.
    pub(super) fn note(&mut self, code: &'static str, message: String, remedy: &str) {
        let told = Diagnostic::note(code, Some(self.place), message);
        self.diagnostics.push(told.remedy(remedy));
    }
}
