//! Drawings and pictures that stand alone: in text, or beside the words of a step.

use super::Walk;
use crate::booklet::figure_block::{self, FigureRequest};
use crate::booklet::pictures;
use crate::diagnostic::Place;
use comrak::nodes::{Node, NodeLink, NodeValue};

/// Widest and highest picture in text, mm.
pub(super) const IN_TEXT: [f64; 2] = [118.0, 90.0];
/// Widest and highest picture beside a step, mm.
const IN_STEP: [f64; 2] = [62.0, 70.0];

impl<'a> Walk<'a, '_> {
    pub(super) fn request(&mut self, node: Node<'a>, text: &str) -> Option<FigureRequest> {
        let place = self.place(node);
        let number = self.book.figures.len() + 1;
        figure_block::read(text, number, self.design, &place, self.diagnostics)
    }

    /// Writes the data of a drawing and keeps its request.
    pub(super) fn drawn(&mut self, request: FigureRequest) {
        self.picture_data(
            &request.place,
            &format!("/{}", request.path()),
            &request.alt,
        );
        self.book.out.code("width: auto, caption: ");
        match &request.caption {
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
