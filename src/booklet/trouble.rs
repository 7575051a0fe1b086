//! What the typesetter says, told to the designer at a place in her own files.
//!
//! A complaint about generated text goes to the Markdown it came from; one about a template she has
//! put into `template/` goes there; one about our own template is our fault and is said to be.

use super::pictures::unfit_picture;
use super::source_map::SourceMap;
use super::world::BookletWorld;
use crate::diagnostic::{Diagnostic, Diagnostics, Level, Place, SourceText};
use std::collections::BTreeMap;
use std::sync::Arc;
use typst::WorldExt;
use typst::diag::{Severity, SourceDiagnostic};
use typst::syntax::DiagSpan;

/// What is needed to find a place.
pub struct Origin<'a> {
    /// The files that were set.
    pub world: &'a BookletWorld<'a>,
    /// Path of the generated text.
    pub text: &'static str,
    /// Its places.
    pub map: &'a SourceMap,
    /// The designer's templates by their path among the virtual files.
    pub templates: &'a BTreeMap<String, Arc<SourceText>>,
    /// The design's pictures by their path among the virtual files: their names and where the text
    /// names them.
    pub pictures: &'a BTreeMap<String, (String, Place)>,
}

/// Whose text a complaint is about.
enum Whose {
    Picture(String, Place),
    Markdown(Place),
    Template(Place),
    Ours(String),
}

/// Adds what the typesetter said to `diagnostics`.
pub fn tell(said: &[SourceDiagnostic], origin: &Origin<'_>, diagnostics: &mut Diagnostics) {
    for one in said {
        diagnostics.push(origin.diagnostic(one));
    }
}

impl Origin<'_> {
    fn diagnostic(&self, said: &SourceDiagnostic) -> Diagnostic {
        let level = match said.severity {
            Severity::Error => Level::Error,
            Severity::Warning => Level::Warning,
        };
        let message = sentence(&said.message);
        let hints: Vec<String> = said
            .hints
            .iter()
            .filter(|hint| !speaks_of_its_command(&hint.v))
            .map(|hint| sentence(&hint.v))
            .collect();
        let remedy = hints.join(" ");
        let (code, place, message) = match self.whose(said) {
            Whose::Markdown(place) => {
                let code = if is_missing_glyph(&said.message) {
                    "missing-glyph"
                } else {
                    "booklet-text"
                };
                (code, Some(place), message)
            }
            Whose::Picture(name, place) => {
                let why = format!("the typesetter cannot read it ({})", said.message);
                let remedy = "Save it anew with another program, or as PNG.";
                return unfit_picture(&name, &why, remedy, &place);
            }
            Whose::Template(place) => ("template-error", Some(place), message),
            Whose::Ours(path) => ("internal-template", None, format!("In {path}: {message}")),
        };
        let remedy = match (code, remedy.is_empty()) {
            ("internal-template", _) => {
                "This is a fault of pressfoot, not of the design; please report it.".to_string()
            }
            ("booklet-text", true) => "Change the text at this place.".to_string(),
            ("missing-glyph", true) => "Write it in other words.".to_string(),
            ("template-error", true) => {
                "Change the template at this place, or take the file away: the house template \
                 serves again then."
                    .to_string()
            }
            _ => remedy,
        };
        let diagnostic = match level {
            Level::Error => Diagnostic::error(code, place.as_ref(), message),
            _ => Diagnostic::warning(code, place.as_ref(), message),
        };
        diagnostic.remedy(remedy)
    }

    /// The first of the span and the calls that led to it that lies in a file of the designer's.
    fn whose(&self, said: &SourceDiagnostic) -> Whose {
        let trace = said.trace.iter().map(|point| DiagSpan::from(point.span));
        let spans: Vec<DiagSpan> = std::iter::once(said.span).chain(trace).collect();
        if let Some(whose) = spans.iter().find_map(|span| self.place(*span)) {
            return whose;
        }
        let path = spans
            .iter()
            .find_map(|span| span.id())
            .map(BookletWorld::path_of);
        Whose::Ours(path.unwrap_or("the template").to_string())
    }

    fn place(&self, span: DiagSpan) -> Option<Whose> {
        let path = BookletWorld::path_of(span.id()?);
        if let Some((name, place)) = self.pictures.get(path) {
            return Some(Whose::Picture(name.clone(), place.clone()));
        }
        let start = self.world.range(span)?.start;
        if path == self.text {
            return self.map.find(start).cloned().map(Whose::Markdown);
        }
        let source = self.templates.get(path)?;
        let (line, column) = super::source_map::line_column(&source.text, start);
        Some(Whose::Template(Place {
            source: source.clone(),
            line,
            column,
        }))
    }
}

fn is_missing_glyph(message: &str) -> bool {
    message.contains("could not be displayed")
}

/// Hints about typst's own command line or its packages mean nothing to a designer.
fn speaks_of_its_command(hint: &str) -> bool {
    let lower = hint.to_lowercase();
    [
        "--",
        "typst",
        "command line",
        "package",
        "report this",
        "export target",
    ]
    .iter()
    .any(|word| lower.contains(word))
}

/// The typesetter's words as a sentence.
fn sentence(words: &str) -> String {
    let words = words.trim().replace("Typst", "the typesetter");
    let mut characters = words.chars();
    let first = characters
        .next()
        .map(|c| c.to_uppercase().to_string())
        .unwrap_or_default();
    let rest = characters.as_str();
    let stop = if rest.ends_with(['.', '!', '?']) {
        ""
    } else {
        "."
    };
    format!("{first}{rest}{stop}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_of_the_typesetter_become_sentences_without_its_command() {
        assert_eq!(sentence("unknown variable: foo"), "Unknown variable: foo.");
        assert!(speaks_of_its_command("try ‘--font-path’"));
        assert!(!speaks_of_its_command("try a comma"));
    }
}
