//! Drawings and pictures that stand alone: in text, or beside the words of a step.

use super::{Shown, Walk};
use crate::booklet::figure_block::{self, FigureRequest};
use crate::booklet::pictures::{self, Asked};
use crate::design::{Crop, PictureSpec, read_picture_block};
use crate::diagnostic::{Diagnostic, Place};
use crate::figure::shoe::making::State;
use comrak::nodes::{Node, NodeLink, NodeValue};
use std::borrow::Cow;

/// Widest and highest picture in text, mm.
pub(super) const IN_TEXT: [f64; 2] = [118.0, 90.0];
/// A figure for each step of a coat is a hundred. Each is drawn, and they are held in memory together: twice as
/// many, each with a step of some length, take half a gigabyte to set on half pages.
const MOST: usize = 200;
/// Widest and highest picture beside a step, mm.
const IN_STEP: [f64; 2] = [62.0, 70.0];

impl<'a> Walk<'a, '_> {
    fn request(&mut self, node: Node<'a>, text: &str) -> Option<FigureRequest> {
        let place = self.place(node);
        let number = self.book.figures.len() + 1;
        if number > MOST {
            self.one_too_many(&place);
            return None;
        }
        let start = node.data().sourcepos.start;
        let at = |line: usize, column: usize| {
            // the first line of the block's text follows its fence
            let begin = self.lines.get(start.line + line - 1).copied();
            let indent = start.column.saturating_sub(1);
            let whole = self.filled.text.len();
            let from = (begin.unwrap_or(whole) + indent).min(whole);
            let after = self.filled.text.get(from..).unwrap_or_default();
            let line = after.lines().next().unwrap_or_default();
            let mut letters = line.char_indices().map(|(at, _)| at);
            let within = letters.nth(column.saturating_sub(1));
            self.filled.place(from + within.unwrap_or(line.len()))
        };
        let mut request =
            figure_block::read(text, number, self.design, (&place, &at), self.diagnostics)?;
        if let Some(step) = &mut request.making {
            let mut before = self.book.figures.iter();
            step.topline_sewn = before.any(|figure| figure.sews_the_topline(self.design));
            let mut before = self.book.figures.iter().filter_map(|figure| figure.making);
            step.pressed = before.any(|earlier| earlier.state == State::Pressed);
        }
        request.name = self.own_name(request.name.take(), &request.place);
        Some(request)
    }

    /// Reports, once, that there are more figures than are drawn.
    fn one_too_many(&mut self, place: &Place) {
        if self.diagnostics.iter().any(|told| told.code == "too-large") {
            return;
        }
        let message = format!("The text has more than {MOST} figures.");
        self.say(
            Diagnostic::error("too-large", Some(place), message)
                .remedy("Take figures away from here on, or make two designs of it."),
        );
    }

    /// Keeps the name of a figure, which must be its own; a second figure of one name goes without.
    fn own_name(&mut self, name: Option<String>, place: &Place) -> Option<String> {
        let name = name?;
        if self.book.figure_names.insert(figure_label(&name)) {
            return Some(name);
        }
        let message = format!("Two figures have the name ‘{name}’.");
        self.say(
            Diagnostic::error("figure-block", Some(place), message)
                .remedy("Give each its own name."),
        );
        None
    }

    /// Writes the data of a drawing and keeps its request.
    fn drawn(&mut self, request: FigureRequest) {
        let path = format!("/{}", request.path());
        let plain = request.plain_alt(self.design);
        match &request.alt {
            Some(alt) => self.picture_data(&request.place, &path, alt),
            None => {
                self.book.out.from(&request.place);
                self.book.out.code("(image: (..size) => image(");
                self.book.out.literal(&path);
                self.book.out.code(", alt: drawn-alt(");
                self.book.out.number(request.number);
                self.book.out.code(", ");
                self.book.out.literal(&plain);
                self.book.out.code("), ..size), ");
            }
        }
        self.book.out.code("number: ");
        self.book.out.number(request.number);
        if let Some(name) = &request.name {
            self.book.out.code(", name: ");
            self.book.out.literal(&figure_label(name));
        }
        self.book.out.code(", width: auto, caption: ");
        match &request.caption {
            // what a figure says of itself follows as further sentences
            Some(caption) => self.caption(&ended(caption), &request.place),
            None => self.book.out.code("none"),
        }
        self.book.out.code(")");
        self.book.shown.push(Shown {
            drawing: request.alt.is_none().then_some(request.number),
            alt: request.alt.clone().unwrap_or(plain),
            caption: request.caption.clone(),
        });
        self.book.figures.push(request);
    }

    fn picture_data(&mut self, place: &Place, path: &str, alt: &str) {
        self.book.out.from(place);
        // The call itself stands in the text, so that a file that cannot be read is told here.
        self.book.out.code("(image: (..size) => image(");
        self.book.out.literal(path);
        self.book.out.code(", alt: ");
        self.book.out.literal(alt);
        self.book.out.code(", ..size), ");
    }

    /// Writes the data of a picture that stands alone in Markdown's own words.
    pub(super) fn picture(&mut self, node: Node<'a>, link: &NodeLink, room: [f64; 2]) {
        let place = self.place(node);
        let spec = PictureSpec {
            picture: link.url.clone(),
            alt: self.alt(link, node, &place),
            caption: Some(link.title.clone()).filter(|title| !title.is_empty()),
            name: None,
            width: None,
            crop: Crop::default(),
            place,
        };
        self.set_picture(&spec, room);
    }

    /// Writes the data of the picture that a block describes; nothing if it names none.
    fn picture_block(&mut self, node: Node<'a>, text: &str, room: [f64; 2]) -> Option<()> {
        let place = self.place(node);
        let mut spec = read_picture_block(text, place.line, &place, self.diagnostics)?;
        spec.name = self.own_name(spec.name.take(), &spec.place);
        self.set_picture(&spec, room);
        Some(())
    }

    /// Writes the data of a picture that stands alone; `none` if there is none to show.
    fn set_picture(&mut self, spec: &PictureSpec, room: [f64; 2]) {
        let asked = Asked {
            name: &spec.picture,
            crop: spec.crop,
            width: spec.width,
            room,
        };
        let place = &spec.place;
        let found = pictures::ready(&asked, self.files, place, self.diagnostics);
        let alt = self.printable(&spec.alt, place);
        match found {
            Some(picture) => {
                let width = picture.width;
                let path = self.keep_picture(&spec.picture, picture, place);
                self.picture_data(place, &path, &alt);
                self.book.out.code("width: ");
                self.book.out.millimetres(width);
                self.book.shown.push(Shown {
                    drawing: None,
                    alt,
                    caption: spec.caption.clone(),
                });
            }
            None => {
                self.book.out.from(place);
                self.book.out.code("(image: none, alt: ");
                self.book.out.literal(&alt);
                self.book.out.code(", width: auto");
            }
        }
        if let Some(name) = &spec.name {
            self.book.out.code(", name: ");
            self.book.out.literal(&figure_label(name));
        }
        self.book.out.code(", caption: ");
        match &spec.caption {
            Some(caption) => self.caption(&ended(caption), place),
            None => self.book.out.code("none"),
        }
        self.book.out.code(")");
    }

    /// Writes what a fenced block asks for to be drawn or shown, after `before`, with `after` behind
    /// it. Whether it was such a block.
    pub(super) fn shown_block(
        &mut self,
        node: Node<'a>,
        (info, text): (&str, &str),
        room: [f64; 2],
        (before, after): (&'static str, &'static str),
    ) -> bool {
        let written = self.book.out.text.len();
        let word = info.split_whitespace().next();
        if matches!(word, Some("figure" | "picture")) && self.is_left_open(node, text) {
            return true;
        }
        match word {
            Some("figure") => {
                if let Some(request) = self.request(node, text) {
                    self.book.out.code(before);
                    self.drawn(request);
                    self.book.out.code(after);
                }
            }
            Some("picture") => {
                self.book.out.code(before);
                match self.picture_block(node, text, room) {
                    Some(()) => self.book.out.code(after),
                    None => self.book.out.text.truncate(written),
                }
            }
            _ => return false,
        }
        true
    }

    /// Whether the fence of a block is never closed: all that follows would be read as its keys. Tells of it, and
    /// keeps the name that the block gives, so that nothing is told that only follows from it.
    fn is_left_open(&mut self, node: Node<'a>, text: &str) -> bool {
        let NodeValue::CodeBlock(code) = node.data().value.clone() else {
            return false;
        };
        if code.closed {
            return false;
        }
        let place = self.place(node);
        let message = format!(
            "The block that is begun in line {} is not closed.",
            place.line
        );
        let remedy = "Write ‘```’ on a line of its own behind the last key of the block.";
        self.say(Diagnostic::error("figure-block", Some(&place), message).remedy(remedy));
        let names = text.lines().filter_map(|line| line.strip_prefix("name:"));
        for name in names {
            let name = name.trim().trim_matches(['\'', '"']);
            self.book.figure_names.insert(figure_label(name));
        }
        true
    }

    /// Whether `node` goes beside the words of a step.
    pub(super) fn is_drawing(&self, node: Node<'a>) -> bool {
        match &node.data().value {
            NodeValue::CodeBlock(code) => {
                let word = code.info.split_whitespace().next();
                matches!(word, Some("figure" | "picture"))
            }
            NodeValue::Paragraph => pictures_only(node),
            _ => false,
        }
    }

    /// Writes the drawings of `nodes`, each followed by a comma.
    pub(super) fn drawings(&mut self, nodes: &[Node<'a>]) {
        for node in nodes {
            let value = node.data().value.clone();
            match value {
                NodeValue::CodeBlock(code) => {
                    let said = (code.info.as_str(), code.literal.as_str());
                    self.shown_block(node, said, IN_STEP, ("", ", "));
                }
                _ => {
                    for child in node.children() {
                        let value = child.data().value.clone();
                        if let NodeValue::Image(link) = value {
                            self.picture(child, &link, IN_STEP);
                            self.book.out.code(", ");
                        }
                    }
                }
            }
        }
    }
}

/// A caption ends as a sentence does; brackets, quotes and marks of emphasis may close behind its mark.
fn ended(caption: &str) -> Cow<'_, str> {
    let closing = |c: char| ")]”’“»›«‹\"'*_".contains(c);
    let words = caption.trim_end().trim_end_matches(closing);
    match words.ends_with(['.', '?', '!', '…']) || words.is_empty() {
        true => Cow::Borrowed(caption),
        false => Cow::Owned(format!("{}.", caption.trim_end())),
    }
}

/// The name of a figure as the text writes it: `cut soles` is `cut_soles`.
pub(super) fn figure_label(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join("_")
}

/// Whether a paragraph holds pictures and nothing else.
pub(super) fn pictures_only(node: Node<'_>) -> bool {
    let mut pictures = 0;
    for child in node.children() {
        match &child.data().value {
            NodeValue::Image(_) => pictures += 1,
            NodeValue::SoftBreak | NodeValue::LineBreak => {}
            NodeValue::Text(words) if words.trim().is_empty() => {}
            _ => return false,
        }
    }
    pictures > 0 && matches!(node.data().value, NodeValue::Paragraph)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn captions_end_as_sentences_do() {
        let as_it_is = [
            "A toe.",
            "Which is right?",
            "(As before.)",
            "“Done.”",
            "So *far!*",
            "",
        ];
        for caption in as_it_is {
            assert_eq!(ended(caption), caption);
        }
        assert_eq!(ended("A toe"), "A toe.");
        assert_eq!(ended("A toe (right) "), "A toe (right).");
        assert_eq!(ended("A *toe*"), "A *toe*.");
    }
}
