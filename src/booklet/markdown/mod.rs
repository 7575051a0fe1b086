//! Markdown becomes calls of the template's functions: CommonMark with tables, strikethrough,
//! footnotes, alerts and typographic quotes.
//!
//! One block a line, in code mode, all text in string literals; with each call goes the place in the
//! designer's file. What cannot be set (raw HTML, a link of an unknown scheme, a picture that is not
//! there) is shown as words and reported. Nesting and length are bounded.

mod blocks;
mod drawings;
mod inlines;
mod quotes;
mod steps;
#[cfg(test)]
mod tests;

use super::emit::Emitter;
use super::figure_block::FigureRequest;
use super::fonts;
use super::source_map::Filled;
use crate::design::{ChapterKind, Design};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use comrak::nodes::{Node, NodeValue, Sourcepos};
use comrak::{Arena, Options};
use std::collections::{BTreeMap, BTreeSet};

/// Longest text of a chapter, bytes: a booklet of a hundred pages.
const LONGEST: usize = 256 << 10;
/// Blocks and emphases within each other. The typesetter itself gives up at 72 levels of layout, of
/// which a list in a list takes several.
const DEEPEST: usize = 10;

/// Letters in a row without a space: a longer run may be broken anywhere, for it may be wider than
/// the line (the narrowest column of text is 62 mm wide, a wide letter 3.5 mm; long words of real
/// languages are hyphenated before).
const LONGEST_RUN: usize = 24;

/// What all chapters write to.
#[derive(Debug, Default)]
pub struct Book {
    /// The generated calls.
    pub out: Emitter,
    /// Drawings asked for, in order.
    pub figures: Vec<FigureRequest>,
    /// Pictures used: virtual path and bytes.
    pub pictures: BTreeMap<String, Vec<u8>>,
    /// Name of each and where it stands first, by the same path.
    pub picture_places: BTreeMap<String, (String, Place)>,
    /// Drawings and pictures that stand by themselves, in order.
    pub shown: Vec<Shown>,
    /// Where each step stands; the first has number 1.
    pub steps: Vec<Place>,
    /// Footnotes so far.
    pub notes: usize,
    /// Names of figures, with `_` for spaces.
    pub figure_names: BTreeSet<String>,
    /// Names of figures that the text refers to, with their places.
    pub figure_references: Vec<(String, Place)>,
}

/// A drawing or picture that stands by itself, as it is handed to the template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shown {
    /// Number of the drawing if what it shows is told in words only when it is drawn.
    pub drawing: Option<usize>,
    /// What it shows, in words.
    pub alt: String,
    /// Words under it.
    pub caption: Option<String>,
}

/// One chapter on its way into the book.
struct Walk<'a, 'w> {
    book: &'w mut Book,
    design: &'w Design,
    /// All files of the design, by path.
    files: &'w BTreeMap<String, Vec<u8>>,
    filled: &'w Filled,
    /// Byte offset of each line of the filled text.
    lines: Vec<usize>,
    diagnostics: &'w mut Diagnostics,
    footnotes: BTreeMap<String, Node<'a>>,
    cited: BTreeMap<String, usize>,
    depth: usize,
    /// Whether a side head or step was set, so that smaller heads come below it.
    has_head: bool,
    /// A heading is plain words: no pictures.
    in_head: bool,
    /// Characters without a glyph that were reported.
    unseen: BTreeSet<char>,
    deep: bool,
    /// Letters in a row that are not broken.
    longest_run: usize,
    /// Words gathered until something else comes.
    pending: String,
    pending_at: Option<Place>,
}

/// What chapters may hold beyond CommonMark, their quotation marks as they are typed.
pub fn as_typed() -> Options<'static> {
    let mut options = Options::default();
    options.extension.table = true;
    options.extension.strikethrough = true;
    options.extension.footnotes = true;
    options.extension.alerts = true;
    options
}

fn options() -> Options<'static> {
    let mut options = as_typed();
    options.parse.smart = true;
    options
}

/// Writes the chapter as the body of a function. `files` are all files of the design.
pub fn chapter(
    filled: &Filled,
    kind: ChapterKind,
    design: &Design,
    files: &BTreeMap<String, Vec<u8>>,
    book: &mut Book,
    diagnostics: &mut Diagnostics,
) {
    if filled.text.len() > LONGEST {
        let message = format!("The chapter is {} KB long.", filled.text.len() >> 10);
        diagnostics.push(
            Diagnostic::error("text-too-long", Some(&filled.place(0)), message)
                .remedy("Split it: a chapter may be 256 KB long."),
        );
        return;
    }
    let arena = Arena::new();
    let text = quotes::shielded(&filled.text, &design.words);
    let root = comrak::parse_document(&arena, &text, &options());
    quotes::set(root, &design.words);
    let starts = filled.text.match_indices('\n').map(|(at, _)| at + 1);
    let mut walk = Walk {
        book,
        design,
        files,
        filled,
        lines: std::iter::once(0).chain(starts).collect(),
        diagnostics,
        footnotes: BTreeMap::new(),
        cited: BTreeMap::new(),
        depth: 0,
        has_head: false,
        in_head: false,
        unseen: BTreeSet::new(),
        deep: false,
        longest_run: LONGEST_RUN,
        pending: String::new(),
        pending_at: None,
    };
    let mut nodes = Vec::new();
    for node in root.children() {
        match &node.data().value {
            NodeValue::FootnoteDefinition(note) => {
                walk.footnotes.insert(note.name.clone(), node);
            }
            _ => nodes.push(node),
        }
    }
    match kind {
        ChapterKind::Text => walk.sections(&nodes),
        ChapterKind::Steps => walk.steps(&nodes),
    }
}

impl<'a> Walk<'a, '_> {
    /// Where `node` begins in the designer's file.
    fn place(&self, node: Node<'a>) -> Place {
        self.place_of(node.data().sourcepos)
    }

    fn place_of(&self, at: Sourcepos) -> Place {
        let line = self
            .lines
            .get(at.start.line.saturating_sub(1))
            .copied()
            .unwrap_or(0);
        self.filled
            .place((line + at.start.column.saturating_sub(1)).min(self.filled.text.len()))
    }

    fn say(&mut self, diagnostic: Diagnostic) {
        self.diagnostics.push(diagnostic);
    }

    /// Goes one level down, or says that it is too deep.
    fn descend(&mut self, place: &Place) -> bool {
        if self.depth < DEEPEST {
            self.depth += 1;
            return true;
        }
        if !self.deep {
            self.deep = true;
            let message = format!("Text is nested more than {DEEPEST} levels deep.");
            self.say(
                Diagnostic::error("text-too-deep", Some(place), message)
                    .remedy("Lists in lists and quotes in quotes are set to that depth."),
            );
        }
        false
    }

    /// `text` in characters that can be printed; the others are reported.
    fn printable(&mut self, text: &str, place: &Place) -> String {
        let mut result = String::with_capacity(text.len());
        for character in text.chars() {
            if matches!(character, '\n' | '\r' | '\t') {
                result.push(' ');
            } else if character == '\u{feff}' {
                // A byte order mark inside a text says nothing.
            } else if fonts::covers(character) {
                result.push(character);
            } else {
                result.push('\u{fffd}');
                if self.unseen.insert(character) {
                    self.say(missing_glyph(character, place));
                }
            }
        }
        breakable(&result, self.longest_run)
    }
}

/// `text` in which runs of more than `longest` letters may be broken anywhere (U+200B, which prints
/// nothing).
fn breakable(text: &str, longest: usize) -> String {
    let whole = |run: &str| run.chars().nth(longest).is_none();
    if text.split(char::is_whitespace).all(whole) {
        return text.to_string();
    }
    let run = |run: &str| {
        let mut broken = String::with_capacity(4 * run.len());
        for (number, character) in run.chars().enumerate() {
            // a mark that belongs to the letter before it stays with it
            if number > 2 && !whole(run) && character.is_alphanumeric() {
                broken.push('\u{200b}');
            }
            broken.push(character);
        }
        broken
    };
    text.split_inclusive(char::is_whitespace).map(run).collect()
}

/// Says that `character` cannot be printed.
pub fn missing_glyph(character: char, place: &Place) -> Diagnostic {
    let code = u32::from(character);
    let shown = if character.is_control() {
        ' '
    } else {
        character
    };
    let message = format!("The character ‘{shown}’ (U+{code:04X}) is in none of the typefaces.");
    Diagnostic::error("missing-glyph", Some(place), message).remedy("Write it in other words.")
}

/// The words of a node and all below it. Walks without recursion, so depth does not matter.
fn plain_text(node: Node<'_>) -> String {
    let mut text = String::new();
    for below in node.descendants() {
        match &below.data().value {
            NodeValue::Text(words) => text.push_str(words),
            NodeValue::Code(code) => text.push_str(&code.literal),
            NodeValue::CodeBlock(code) => text.push_str(&code.literal),
            NodeValue::HtmlBlock(html) => text.push_str(&html.literal),
            NodeValue::HtmlInline(html) => text.push_str(html),
            NodeValue::SoftBreak | NodeValue::LineBreak => text.push(' '),
            NodeValue::Paragraph | NodeValue::Item(_) | NodeValue::TableCell
                if !text.is_empty() =>
            {
                text.push(' ');
            }
            _ => {}
        }
    }
    text
}
