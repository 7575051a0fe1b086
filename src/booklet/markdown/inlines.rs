//! Words, emphasis, links and what else stands inside a paragraph.

use super::{Walk, options, plain_text, quotes};
use crate::booklet::links::{self, Target};
use crate::booklet::pictures::{self, Asked, Picture};
use crate::design::Crop;
use crate::diagnostic::{Diagnostic, Place};
use crate::geometry::units::INCH;
use comrak::nodes::{Node, NodeLink, NodeValue};
use comrak::{Arena, parse_document};

/// Widest and highest picture within a line, mm: 1.2 times the largest letters of the text, which
/// are those of large print, 18 points.
const IN_LINE: [f64; 2] = [118.0, 1.2 * 18.0 * INCH / 72.0];

impl<'a> Walk<'a, '_> {
    /// Writes `{ … }` with everything inside `node`.
    pub(super) fn inline_block(&mut self, node: Node<'a>) {
        self.open();
        self.inlines(node);
        self.close();
    }

    pub(super) fn open(&mut self) {
        self.flush();
        self.book.out.code("{ ");
    }

    /// Ends a block; one in which nothing was written becomes empty content.
    pub(super) fn close(&mut self) {
        self.flush();
        let text = &mut self.book.out.text;
        if text.ends_with("{ ") {
            text.truncate(text.len() - 2);
            text.push_str("[]");
        } else {
            text.push('}');
        }
    }

    /// Writes the children of `node`.
    pub(super) fn inlines(&mut self, node: Node<'a>) {
        let place = self.place(node);
        if !self.descend(&place) {
            self.gather(&plain_text(node), &place);
            return;
        }
        for child in node.children() {
            self.inline(child);
        }
        self.depth -= 1;
    }

    pub(super) fn inline(&mut self, node: Node<'a>) {
        let place = self.place(node);
        let value = node.data().value.clone();
        match value {
            NodeValue::Text(words) => self.gather(&words, &place),
            NodeValue::SoftBreak => self.gather(" ", &place),
            NodeValue::LineBreak => self.call("line-end(); ", &place),
            NodeValue::Code(code) => {
                let words = self.printable(&code.literal, &place);
                self.call("code-words(", &place);
                self.book.out.literal(&words);
                self.book.out.code("); ");
            }
            NodeValue::HtmlInline(html) => {
                self.html(&html, &place);
                self.gather(&html, &place);
            }
            NodeValue::Emph => self.wrapped("emphasis(", node, &place),
            NodeValue::Strong => self.wrapped("strongly(", node, &place),
            NodeValue::Strikethrough => self.wrapped("struck(", node, &place),
            NodeValue::Link(link) => self.link(&link, node, &place),
            NodeValue::Image(link) => self.inline_picture(&link, node, &place),
            NodeValue::FootnoteReference(note) => self.footnote(&note.name, &place),
            _ => self.inlines(node),
        }
    }

    fn wrapped(&mut self, function: &'static str, node: Node<'a>, place: &Place) {
        self.call(function, place);
        self.inline_block(node);
        self.book.out.code("); ");
    }

    fn call(&mut self, code: &'static str, place: &Place) {
        self.flush();
        self.book.out.from(place);
        self.book.out.code(code);
    }

    /// Adds words to the run that is gathered, so that measures are not cut in two.
    pub(super) fn gather(&mut self, words: &str, place: &Place) {
        let words = self.printable(words, place);
        if self.pending.is_empty() {
            self.pending_at = Some(place.clone());
        }
        self.pending.push_str(&words);
    }

    pub(super) fn flush(&mut self) {
        if self.pending.is_empty() {
            return;
        }
        if let Some(place) = self.pending_at.take() {
            self.book.out.from(&place);
        }
        let words = std::mem::take(&mut self.pending);
        self.book.out.words(&words);
    }

    pub(super) fn html(&mut self, html: &str, place: &Place) {
        let shown: String = html.trim().chars().take(40).collect();
        let shown = shown.lines().next().unwrap_or_default().to_string();
        let remedy = if html.trim_start().starts_with("<!--") {
            "Write a note to yourself as ‘{# … #}’: it is left out."
        } else {
            "Use Markdown, or write ‘\\<’ for a plain ‘<’."
        };
        let message = format!("‘{shown}’ is HTML; a booklet shows it as it stands.");
        self.say(Diagnostic::warning("html-as-text", Some(place), message).remedy(remedy));
    }

    fn link(&mut self, link: &NodeLink, node: Node<'a>, place: &Place) {
        if let Some(name) = link.url.strip_prefix("figure:") {
            return self.figure_reference(name, node, place);
        }
        let address = match links::target(&link.url) {
            Target::Address(address) => address,
            Target::Nowhere => {
                let message = format!("The link to ‘{}’ leads nowhere in a booklet.", link.url);
                self.say(
                    Diagnostic::warning("link-target", Some(place), message)
                        .remedy("Give a whole address that begins with ‘https://’."),
                );
                return self.inlines(node);
            }
            Target::Refused(scheme) => {
                let message = format!("Links of the scheme ‘{scheme}:’ are not set.");
                self.say(
                    Diagnostic::error("link-scheme", Some(place), message)
                        .remedy("Use ‘https:’, ‘http:’ or ‘mailto:’."),
                );
                return self.inlines(node);
            }
        };
        let shown = links::printed(&address).to_string();
        let words = plain_text(node);
        let bare = [link.url.as_str(), address.as_str(), shown.as_str(), ""];
        self.call("link-to(", place);
        self.book.out.literal(&address);
        self.book.out.code(", ");
        if words.trim().is_empty() {
            self.open();
            self.gather(&shown, place);
            self.close();
        } else {
            self.inline_block(node);
        }
        self.book.out.code(", ");
        if bare.contains(&words.trim()) {
            self.book.out.code("none");
        } else {
            self.book.out.literal(&shown);
        }
        self.book.out.code("); ");
    }

    /// Refers to a figure by its name: by its number, or in the words of the link.
    fn figure_reference(&mut self, name: &str, node: Node<'a>, place: &Place) {
        let name = name.trim().to_string();
        self.book
            .figure_references
            .push((name.clone(), place.clone()));
        self.call("figure-reference(", place);
        self.book.out.literal(&name);
        self.book.out.code(", ");
        if plain_text(node).trim().is_empty() {
            self.book.out.code("none");
        } else {
            self.inline_block(node);
        }
        self.book.out.code("); ");
    }

    fn footnote(&mut self, name: &str, place: &Place) {
        if let Some(number) = self.cited.get(name).copied() {
            self.call("footnote-again(", place);
            self.book.out.number(number);
            return self.book.out.code("); ");
        }
        let Some(definition) = self.footnotes.get(name).copied() else {
            return self.gather(&format!("[^{name}]"), place);
        };
        self.book.notes += 1;
        self.cited.insert(name.to_string(), self.book.notes);
        self.call("footnote-here(", place);
        let paragraphs: Vec<Node<'a>> = definition.children().collect();
        match paragraphs.as_slice() {
            [only] if matches!(only.data().value, NodeValue::Paragraph) => self.inline_block(only),
            _ => self.block_block(&paragraphs),
        }
        self.book.out.code("); ");
    }

    /// A picture within a line of text.
    fn inline_picture(&mut self, link: &NodeLink, node: Node<'a>, place: &Place) {
        let alt = self.alt(link, node, place);
        if self.in_head {
            return self.gather(&alt, place);
        }
        let asked = Asked {
            name: &link.url,
            crop: Crop::default(),
            width: None,
            room: IN_LINE,
        };
        let found = pictures::ready(&asked, self.files, place, self.diagnostics);
        let Some(picture) = found else {
            return self.gather(&alt, place);
        };
        let path = self.keep_picture(&link.url, picture, place);
        self.call("picture-in-line((..size) => image(", place);
        self.book.out.literal(&path);
        self.book.out.code(", alt: ");
        self.book.out.literal(&alt);
        self.book.out.code(", ..size)); ");
    }

    /// The words that stand for a picture. They are required.
    pub(super) fn alt(&mut self, link: &NodeLink, node: Node<'a>, place: &Place) -> String {
        let alt = plain_text(node);
        if !alt.trim().is_empty() {
            return alt;
        }
        let message = format!(
            "The picture ‘{}’ has no words for those who cannot see it.",
            link.url
        );
        self.say(
            Diagnostic::error("picture-alt", Some(place), message)
                .remedy("Write what it shows between the brackets: ‘![The strap, folded](…)’."),
        );
        link.url.clone()
    }

    /// Takes a picture into the booklet's files and gives its path there.
    pub(super) fn keep_picture(&mut self, name: &str, picture: Picture, place: &Place) -> String {
        let Picture { format, bytes, .. } = picture;
        let known = self
            .book
            .pictures
            .iter()
            .find(|(_, other)| **other == bytes);
        if let Some((path, _)) = known {
            return format!("/{path}");
        }
        let path = format!("pictures/{}.{format}", self.book.pictures.len() + 1);
        self.book.pictures.insert(path.clone(), bytes);
        let named = (name.to_string(), place.clone());
        self.book.picture_places.insert(path.clone(), named);
        format!("/{path}")
    }

    /// Writes `{ … }` with `words` read as one line of Markdown, all of it standing at `place`.
    pub(super) fn caption(&mut self, words: &str, place: &Place) {
        let arena = Arena::new();
        let text = quotes::shielded(words, &self.design.words);
        let root = parse_document(&arena, &text, &options());
        quotes::set(root, &self.design.words);
        self.open();
        for node in root.descendants() {
            let emphasized = node
                .parent()
                .is_some_and(|parent| matches!(parent.data().value, NodeValue::Emph));
            match &node.data().value {
                NodeValue::Text(words) if emphasized => {
                    let words = self.printable(words, place);
                    self.call("emphasis({ ", place);
                    self.book.out.words(&words);
                    self.book.out.code("}); ");
                }
                NodeValue::Text(words) => self.gather(words, place),
                NodeValue::Code(code) => self.gather(&code.literal, place),
                NodeValue::HtmlInline(html) => self.gather(html, place),
                NodeValue::SoftBreak | NodeValue::LineBreak => self.gather(" ", place),
                _ => {}
            }
        }
        self.close();
    }
}
