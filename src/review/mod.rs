//! Reads the design as a careful technical editor would: what the words, the pieces and the sale say of
//! each other. Knows nothing of paper; the finished PDF is asked only for its words ([`printed`]).
//!
//! [`review`] is the one way in. A check takes the [`Subject`] and adds diagnostics; a new one is a line in
//! the list of its room: `words` for the text, `sale` for what is promised. It must be silent on an
//! honest text: what it cannot tell for sure it does not say.

pub mod accepted;
mod clause;
mod lexicon;
mod names;
mod numbered;
pub mod pieces;
pub mod printed;
mod sale;
mod text;
mod words;

pub use numbered::numbered;
pub use printed::printed;

use crate::booklet::Prose;
use crate::design::Design;
use crate::design::translated::each_text;
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use crate::materials::{Materials, TrimRow};
use crate::piece::SizedPieces;
use lexicon::Lexicon;
use std::sync::Arc;
use text::Text;

/// Name of the text with which a design is offered, in its folder.
pub const LISTING: &str = "listing.md";

/// A design in one language, as it is to be reviewed.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The design.
    pub design: &'a Design,
    /// Its finished pieces, by size.
    pub sizes: &'a [SizedPieces],
    /// What is bought and cut.
    pub materials: &'a Materials,
    /// Its text, values filled in.
    pub prose: &'a Prose,
}

/// What every check is given.
struct Subject<'a> {
    design: &'a Design,
    sizes: &'a [SizedPieces],
    materials: &'a Materials,
    trims: &'a [TrimRow],
    /// All words of the text, explained ones among them.
    prose: &'a Prose,
    /// The chapters, parted into steps and sentences.
    text: Text,
    /// Words of the trade in the text's language.
    lexicon: &'a Lexicon,
    /// The text with which it is offered.
    listing: Option<Arc<SourceText>>,
}

/// One thing to look at.
type Check = fn(&Subject, &mut Diagnostics);

/// Reviews a design in all its languages, the own one first. `listing` is the text with which it is
/// offered. A further language is asked for facts only if it has all chapters and steps of the own one. One
/// of which no words of the trade are known is passed over but for its steps and values.
pub fn review(all: &[Asked<'_>], listing: Option<&Arc<SourceText>>, diagnostics: &mut Diagnostics) {
    let mut texts = Vec::new();
    for (number, asked) in all.iter().enumerate() {
        let lexicon = Lexicon::of(&asked.design.language);
        let subject = Subject {
            design: asked.design,
            sizes: asked.sizes,
            materials: asked.materials,
            trims: &asked.materials.trims,
            prose: asked.prose,
            text: Text::read(asked.design, asked.prose, lexicon),
            lexicon,
            listing: listing.filter(|_| number == 0).cloned(),
        };
        let whole = match texts.first() {
            None => true,
            Some(own) => words::languages::compare(own, &subject, diagnostics),
        };
        let facts = words::OF_FACTS.iter().filter(|_| whole);
        let sale = sale::CHECKS.iter().filter(|_| number == 0);
        let sale = sale.chain(sale::IN_EACH);
        let mut said = Diagnostics::default();
        for check in facts.chain(words::OF_FORM).chain(sale) {
            check(&subject, &mut said);
        }
        if number > 0 {
            // what is wrong with a piece or a trim is wrong in every language
            said.leave_out_where(diagnostics);
            subject.place_in_translation(&mut said);
        }
        diagnostics.append(said);
        texts.push(subject);
    }
}

impl Subject<'_> {
    /// Where a key of the first level stands in `design.yaml`; its first line if it is not written.
    fn key_place(&self, key: &str) -> Place {
        let source = &self.design.source;
        let lines = source.text.lines().enumerate();
        let starts = |line: &str| line.strip_prefix(key).is_some_and(|r| r.starts_with(':'));
        let line = lines.into_iter().find(|(_, line)| starts(line));
        Place {
            source: source.clone(),
            line: line.map_or(1, |(number, _)| number + 1),
            column: 1,
        }
    }

    /// Where `words` stand in `design.yaml` after the key of the first level.
    fn place_below(&self, key: &str, words: &str) -> Place {
        let start = self.key_place(key);
        let lines = self.design.source.text.lines().enumerate();
        let mut after = lines.skip(start.line.saturating_sub(1));
        let found = after.find_map(|(number, line)| Some((number, line.find(words)?, line)));
        match found {
            Some((number, at, line)) => Place {
                line: number + 1,
                column: line[..at].chars().count() + 1,
                ..start
            },
            None => start,
        }
    }
}

impl Subject<'_> {
    /// Gives what is said of a translation and placed in `design.yaml` its place in the file of the
    /// language: where the name stands of which it speaks, or at its head.
    fn place_in_translation(&self, said: &mut Diagnostics) {
        let design = self.design;
        let own = design.own();
        let mut all = own.translations.iter();
        let translation = all.find(|translation| translation.language == design.language);
        let Some(source) = translation.and_then(|translation| translation.source.as_ref()) else {
            return;
        };
        let of_own = |place: &Place| place.source.path == own.source.path;
        said.each(&mut |diagnostic| {
            if !diagnostic.place.as_ref().is_some_and(of_own) {
                return;
            }
            let names = diagnostic.message.split('‘').skip(1);
            let names = names.filter_map(|rest| rest.split('’').next());
            let found = names.filter(|name| !name.is_empty()).find_map(|name| {
                let mut lines = source.text.lines().enumerate();
                lines.find_map(|(number, line)| Some((number, line.find(name)?, line)))
            });
            let (line, column) = found.map_or((1, 1), |(number, at, line)| {
                (number + 1, line[..at].chars().count() + 1)
            });
            diagnostic.place = Some(Place {
                source: source.clone(),
                line,
                column,
            });
        });
    }

    /// The design's words for its buyers, with their paths.
    fn own_texts(&self) -> Vec<(String, String)> {
        let mut texts = Vec::new();
        let mut copy = self.design.clone();
        each_text(&mut copy, &mut |path, text| {
            texts.push((path.to_string(), text.clone()));
        });
        texts
    }

    /// Where one of them stands, as near as its first words tell.
    fn text_place(&self, path: &str, text: &str) -> Place {
        let key = path.split('.').next().unwrap_or(path);
        let start: String = text.chars().take_while(|c| *c != '\n').take(24).collect();
        self.place_below(key, start.trim_end())
    }
}

/// A warning with a remedy.
fn warning(code: &'static str, place: &Place, message: String, remedy: &str) -> Diagnostic {
    Diagnostic::warning(code, Some(place), message).remedy(remedy)
}

/// An error with a remedy.
fn error(code: &'static str, place: &Place, message: String, remedy: &str) -> Diagnostic {
    Diagnostic::error(code, Some(place), message).remedy(remedy)
}
