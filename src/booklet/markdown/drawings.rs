//! Drawings and pictures that stand alone: in text, or beside the words of a step.

use super::Walk;
use crate::booklet::figure_block::{self, FigureRequest};
use crate::booklet::pictures;
use crate::diagnostic::{Diagnostic, Place};
use comrak::nodes::{Node, NodeLink, NodeValue};

/// Widest and highest picture in text, mm.
pub(super) const IN_TEXT: [f64; 2] = [118.0, 90.0];
/// Widest and highest picture beside a step, mm.
const IN_STEP: [f64; 2] = [62.0, 70.0];

impl<'a> Walk<'a, '_> {
    pub(super) fn request(&mut self, node: Node<'a>, text: &str) -> Option<FigureRequest> {
        let place = self.place(node);
        let number = self.book.figures.len() + 1;
        let start = node.data().sourcepos.start;
        let at = |line: usize, column: usize| {
            // the first line of the block's text follows its fence
            let begin = self.lines.get(start.line + line - 1).copied();
            let indent = start.column.saturating_sub(1);
            let whole = self.filled.text.len();
            let offset = begin.unwrap_or(whole) + indent + column.saturating_sub(1);
            self.filled.place(offset.min(whole))
        };
        let request =
            figure_block::read(text, number, self.design, (&place, &at), self.diagnostics)?;
        self.keep_name(&request);
        Some(request)
    }

    /// Keeps the name of a figure, which must be its own.
    fn keep_name(&mut self, request: &FigureRequest) {
        let Some(name) = &request.name else {
            return;
        };
        if !self.book.figure_names.insert(figure_label(name)) {
            let message = format!("Two figures have the name ‘{name}’.");
            self.say(
                Diagnostic::error("figure-block", Some(&request.place), message)
                    .remedy("Give each its own name."),
            );
        }
    }

    /// Writes the data of a drawing and keeps its request.
    pub(super) fn drawn(&mut self, request: FigureRequest) {
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
            // what a flat figure says of itself follows as further sentences
            Some(caption) if request.flat.is_some() && !caption.ends_with(['.', '?', '!', '…']) =>
            {
                self.caption(&format!("{caption}."), &request.place);
            }
            Some(caption) => self.caption(caption, &request.place),
            None => self.book.out.code("none"),
        }
        self.book.out.code(")");
        self.book.figures.push(request);
    }

    pub(super) fn picture_data(&mut self, place: &Place, path: &str, alt: &str) {
        self.book.out.from(place);
        // The call itself stands in the text, so that a file that cannot be read is told here.
        self.book.out.code("(image: (..size) => image(");
        self.book.out.literal(path);
        self.book.out.code(", alt: ");
        self.book.out.literal(alt);
        self.book.out.code(", ..size), ");
    }

    /// Writes the data of a picture that stands alone; `none` if there is none to show.
    pub(super) fn picture(&mut self, node: Node<'a>, link: &NodeLink, room: [f64; 2]) {
        let place = self.place(node);
        let alt = self.alt(link, node, &place);
        let found = pictures::look_at(&link.url, self.files, &place, self.diagnostics)
            .map(|(picture, bytes)| (picture, bytes.to_vec()));
        let Some((picture, bytes)) = found else {
            self.book.out.from(&place);
            self.book.out.code("(image: none, alt: ");
            let alt = self.printable(&alt, &place);
            self.book.out.literal(&alt);
            return self.book.out.code(", width: auto, caption: none)");
        };
        let width = picture.printed_width(room[0], room[1]);
        picture.check_resolution(&link.url, width, &place, self.diagnostics);
        let path = self.keep_picture(&link.url, picture.format, bytes, &place);
        self.picture_data(&place, &path, &alt);
        self.book.out.code("width: ");
        self.book.out.millimetres(width);
        self.book.out.code(", caption: ");
        if link.title.is_empty() {
            self.book.out.code("none");
        } else {
            self.caption(&link.title, &place);
        }
        self.book.out.code(")");
    }

    /// Whether `node` goes beside the words of a step.
    pub(super) fn is_drawing(&self, node: Node<'a>) -> bool {
        match &node.data().value {
            NodeValue::CodeBlock(code) => code.info.split_whitespace().next() == Some("figure"),
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
                    if let Some(request) = self.request(node, &code.literal) {
                        self.drawn(request);
                        self.book.out.code(", ");
                    }
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
