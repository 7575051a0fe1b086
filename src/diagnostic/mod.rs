//! What pressfoot has to say to the designer: a code, a level, a place in her own file, what is
//! wrong and what to do about it.
//!
//! Every stage takes `&mut Diagnostics` and goes on after an error as far as it can, so that one
//! run reports everything. Only [`crate::cli`] prints; [`human`] and [`json`] only format.

mod catalogue;
pub mod guard;
pub mod human;
pub mod json;

pub use catalogue::{Entry, all as codes, entry};

use std::sync::Arc;

/// How grave a diagnostic is. Only [`Level::Error`] keeps a design from being sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// Worth knowing; nothing is wrong.
    Note,
    /// Probably wrong, but the booklet can be used.
    Warning,
    /// Wrong: the booklet must not be sold.
    Error,
}

/// A text of the design as it was read, with its path relative to the design folder.
#[derive(Debug, PartialEq, Eq)]
pub struct SourceText {
    /// Path with forward slashes, relative to the design folder, e.g. `feet/small.yaml`.
    pub path: String,
    /// The whole text.
    pub text: String,
}

/// A place in a file of the design. Lines and columns count from 1; columns count characters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The file, shared by all places in it.
    pub source: Arc<SourceText>,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// One thing to tell the designer.
#[derive(Debug, Clone, PartialEq)]
pub struct Diagnostic {
    /// Stable code such as `seam-length`; every code stands among [`codes`].
    pub code: &'static str,
    /// How grave it is.
    pub level: Level,
    /// What is wrong, one sentence with the values concerned.
    pub message: String,
    /// What to do, one sentence; empty if the message says it.
    pub remedy: String,
    /// Where, if there is one place.
    pub place: Option<Place>,
    /// Page of the finished PDF, from 1, for findings of the proof.
    pub page: Option<usize>,
}

impl Diagnostic {
    /// An error with `code` at `place`.
    pub fn error(code: &'static str, place: Option<&Place>, message: impl Into<String>) -> Self {
        Self::new(Level::Error, code, place, message.into())
    }

    /// A warning with `code` at `place`.
    pub fn warning(code: &'static str, place: Option<&Place>, message: impl Into<String>) -> Self {
        Self::new(Level::Warning, code, place, message.into())
    }

    /// A note with `code` at `place`.
    pub fn note(code: &'static str, place: Option<&Place>, message: impl Into<String>) -> Self {
        Self::new(Level::Note, code, place, message.into())
    }

    /// The same diagnostic with a remedy.
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = sentence(&remedy.into());
        self
    }

    /// The same diagnostic with the page of the PDF it speaks of.
    pub fn on_page(mut self, page: usize) -> Self {
        self.page = Some(page);
        self
    }

    fn new(level: Level, code: &'static str, place: Option<&Place>, message: String) -> Self {
        debug_assert!(
            entry(code).is_some(),
            "code {code} is missing from the catalogue"
        );
        let (message, remedy) = (sentence(&message), String::new());
        Self {
            code,
            level,
            message,
            remedy,
            place: place.cloned(),
            page: None,
        }
    }
}

/// `text` as a sentence: closed, and with a capital where it begins with a word. A file name keeps
/// its own letters.
fn sentence(text: &str) -> String {
    let first_word = text.split([' ', ':']).next().unwrap_or_default();
    let is_file = first_word.trim_end_matches('.').contains(['.', '/']);
    let mut characters = text.chars();
    let Some(first) = characters.next() else {
        return String::new();
    };
    let first: String = match is_file {
        true => first.to_string(),
        false => first.to_uppercase().collect(),
    };
    let end = if text.ends_with(['.', '?', '!', '\u{2026}']) {
        ""
    } else {
        "."
    };
    format!("{first}{}{end}", characters.as_str())
}

/// All that was said so far, in the order of discovery.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
}

impl Diagnostics {
    /// Adds one, unless the very same was said before.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        if !self.list.contains(&diagnostic) {
            self.list.push(diagnostic);
        }
    }

    /// Adds all of another list that are new.
    pub fn append(&mut self, other: Diagnostics) {
        other.list.into_iter().for_each(|d| self.push(d));
    }

    /// Drops those with `code`.
    pub fn leave_out(&mut self, code: &str) {
        self.list.retain(|d| d.code != code);
    }

    /// Drops all notes.
    pub fn leave_out_notes(&mut self) {
        self.list.retain(|d| d.level != Level::Note);
    }

    /// Drops those that stand where one of `told` stands; a note there leaves nothing out.
    pub fn leave_out_where(&mut self, told: &Diagnostics) {
        let told = || told.iter().filter(|t| t.level != Level::Note);
        let stands = |d: &Diagnostic| d.place.is_some() && told().any(|t| t.place == d.place);
        self.list.retain(|d| !stands(d));
    }

    /// Lets `change` alter each of them.
    pub fn each(&mut self, change: &mut dyn FnMut(&mut Diagnostic)) {
        self.list.iter_mut().for_each(change);
    }

    /// Makes notes of the warnings that `wanted` picks, their message followed by its words.
    pub fn lower(&mut self, wanted: &mut dyn FnMut(&Diagnostic) -> Option<String>) {
        let warnings = self.list.iter_mut().filter(|d| d.level == Level::Warning);
        for warning in warnings {
            if let Some(words) = wanted(warning) {
                warning.level = Level::Note;
                warning.message = format!("{} {}", warning.message, sentence(&words));
            }
        }
    }

    /// Whether anything of error level was said.
    pub fn has_errors(&self) -> bool {
        self.list.iter().any(|d| d.level == Level::Error)
    }

    /// How many of `level` there are.
    pub fn count(&self, level: Level) -> usize {
        self.list.iter().filter(|d| d.level == level).count()
    }

    /// All, sorted by file, line and column; those without a place come last.
    pub fn sorted(&self) -> Vec<&Diagnostic> {
        let mut list: Vec<&Diagnostic> = self.list.iter().collect();
        list.sort_by_key(|d| {
            let place = d.place.as_ref();
            (
                place.is_none(),
                place.map(|p| (p.source.path.clone(), p.line, p.column)),
                d.page,
            )
        });
        list
    }

    /// All, in the order of discovery.
    pub fn iter(&self) -> impl Iterator<Item = &Diagnostic> {
        self.list.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::sentence;

    #[test]
    fn a_sentence_has_a_capital_and_an_end_but_a_file_keeps_its_name() {
        assert_eq!(sentence("add it"), "Add it.");
        assert_eq!(sentence("Did you mean ‘a’?"), "Did you mean ‘a’?");
        assert_eq!(sentence("design.yaml: no text"), "design.yaml: no text.");
        assert_eq!(
            sentence("pictures/p.png is a link"),
            "pictures/p.png is a link."
        );
        assert_eq!(sentence(""), "");
    }
}
