//! Texts that several designs share, `{% include "sew-on-a-button.md" %}`: they are put in before
//! any value is filled in, so that what they say is checked with the chapter's own words.

use super::{CLOSE, OPEN};
use crate::booklet::source_map::{Anchor, Filled, from_line};
use crate::booklet::tags::{Tag, TagKind, tags};
use crate::design::Chapter;
use crate::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use crate::folder::SHARED;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Shared texts by their path, which begins with the name of the shared folder.
pub type SharedTexts = BTreeMap<String, Arc<SourceText>>;

/// A shared text may hold others so deep: more is no help to anybody.
const DEEPEST: usize = 4;
/// Bytes of a chapter with its shared texts: some times what a chapter may have.
const LONGEST: usize = 1 << 20;

/// A text on its way together.
struct Joining<'a> {
    shared: &'a SharedTexts,
    whole: Filled,
    /// Files that are being put in, outermost first.
    open: Vec<usize>,
}

/// `chapter` with the shared texts it names. What is not there, holds itself or grows too long is
/// told at its tag and left out.
pub(super) fn with_shared(
    chapter: &Chapter,
    shared: &SharedTexts,
    diagnostics: &mut Diagnostics,
) -> Filled {
    let mut joining = Joining {
        shared,
        whole: Filled {
            text: String::new(),
            sources: vec![chapter.source.clone()],
            anchors: Vec::new(),
        },
        open: vec![0],
    };
    joining.add(chapter.first_line, diagnostics);
    joining.whole
}

/// The text of a file from a line on, as values are filled in: without the characters that mark
/// places.
fn cleaned(source: &SourceText, first_line: usize) -> String {
    from_line(source, first_line)
        .replace([OPEN, CLOSE], "\u{fffd}")
        .replace("\r\n", "\n")
        .replace('\r', " ")
}

/// The path between quotation marks after `include`.
fn asked<'t>(tag: &Tag, text: &'t str) -> Option<&'t str> {
    let inner = tag.inner(text).strip_prefix("include")?.trim();
    let quoted = |mark: char| inner.strip_prefix(mark)?.strip_suffix(mark);
    quoted('"').or_else(|| quoted('\''))
}

impl Joining<'_> {
    /// Adds the innermost open file from `first_line` on.
    fn add(&mut self, first_line: usize, diagnostics: &mut Diagnostics) {
        let file = self.open.last().copied().unwrap_or(0);
        let Some(source) = self.whole.sources.get(file).cloned() else {
            return;
        };
        let text = cleaned(&source, first_line);
        let start = Anchor {
            line: first_line,
            file,
            ..Anchor::START
        };
        let includes = |tag: &&Tag| {
            tag.kind == TagKind::Block
                && tag.inner(&text).split_whitespace().next() == Some("include")
        };
        let mut at = 0;
        for tag in tags(&text).iter().filter(includes) {
            self.copy(&text, at..tag.start, start);
            at = tag.end;
            let here = start.moved(&text, tag.start);
            let place = Place {
                source: source.clone(),
                line: here.line,
                column: here.column,
            };
            self.include(asked(tag, &text), &place, diagnostics);
            // as after any block tag, the end of its line goes with it
            if text[at..].starts_with('\n') && self.whole.text.ends_with('\n') {
                at += 1;
            }
        }
        self.copy(&text, at..text.len(), start);
    }

    fn copy(&mut self, text: &str, range: std::ops::Range<usize>, start: Anchor) {
        let here = start.moved(text, range.start);
        self.whole.anchors.push(Anchor {
            offset: self.whole.text.len(),
            ..here
        });
        self.whole.text.push_str(&text[range]);
    }

    fn include(&mut self, asked: Option<&str>, place: &Place, diagnostics: &mut Diagnostics) {
        let path = asked.map(|name| format!("{SHARED}/{name}"));
        let found = path.as_ref().and_then(|path| self.shared.get(path));
        let (Some(path), Some(source)) = (path, found.cloned()) else {
            return diagnostics.push(self.missing(asked, place));
        };
        let holds_itself = self.open.iter().any(|file| {
            let open = self.whole.sources.get(*file);
            open.is_some_and(|open| open.path == path)
        });
        let too_much = self.open.len() > DEEPEST || self.whole.text.len() > LONGEST;
        if holds_itself || too_much {
            let message = match holds_itself {
                true => format!("‘{path}’ holds itself."),
                false => format!("With ‘{path}’ the shared texts go too deep or grow too long."),
            };
            let remedy = "Take one of the texts out of the other.";
            let told = Diagnostic::error("shared-text", Some(place), message);
            return diagnostics.push(told.remedy(remedy));
        }
        self.whole.sources.push(source);
        self.open.push(self.whole.sources.len() - 1);
        self.add(1, diagnostics);
        self.open.pop();
    }

    fn missing(&self, asked: Option<&str>, place: &Place) -> Diagnostic {
        let Some(name) = asked else {
            let message = "It is not clear which shared text is meant.".to_string();
            let remedy = "Write `{% include \"sew-on-a-button.md\" %}`.";
            return Diagnostic::error("shared-text", Some(place), message).remedy(remedy);
        };
        let message = format!("There is no shared text ‘{name}’.");
        let names = self.shared.keys();
        let bare = names.filter_map(|path| path.strip_prefix(SHARED)?.strip_prefix('/'));
        let near = bare.min_by_key(|other| strsim::damerau_levenshtein(name, other));
        let remedy = match near {
            Some(near) => format!("The nearest one is ‘{near}’."),
            None => format!("Shared texts lie in the folder ‘{SHARED}’ beside the designs."),
        };
        Diagnostic::error("shared-text", Some(place), message).remedy(remedy)
    }
}
