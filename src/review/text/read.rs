//! Markdown to sentences. The same blocks as the booklet has: a head of the first two levels begins a step
//! or a part, fenced blocks are figures and pictures.

use super::sentence::{Run, sentences};
use super::{Chapter, Figure, Section, Text};
use crate::booklet::figure_block::FigureRequest;
use crate::booklet::markdown::as_typed;
use crate::booklet::{Prose, source_map::Filled};
use crate::design::weight::{self, Limit};
use crate::design::{ChapterKind, Design};
use crate::figure::flat::request::Scene;
use crate::review::lexicon::Lexicon;
use comrak::Arena;
use comrak::nodes::{Node, NodeValue};

/// One chapter on its way.
struct Reader<'a> {
    filled: &'a Filled,
    /// Byte offset of each line.
    lines: Vec<usize>,
    lexicon: &'a Lexicon,
    figures: &'a [FigureRequest],
}

pub(super) fn text(design: &Design, prose: &Prose, lexicon: &Lexicon) -> Text {
    let mut step = 0;
    let mut chapters = Vec::new();
    for (chapter, filled) in design.chapters.iter().zip(&prose.filled) {
        let starts = filled.text.match_indices('\n').map(|(at, _)| at + 1);
        let reader = Reader {
            filled,
            lines: std::iter::once(0).chain(starts).collect(),
            lexicon,
            figures: &prose.figures,
        };
        let mut sections = reader.sections();
        if chapter.kind == ChapterKind::Steps {
            for section in sections
                .iter_mut()
                .filter(|s| s.sentences.iter().any(|s| s.is_head))
            {
                step += 1;
                section.step = Some(step);
            }
        }
        chapters.push(Chapter {
            kind: chapter.kind,
            part: chapter.part,
            title: chapter.title.clone(),
            filled: filled.clone(),
            sections,
        });
    }
    Text { chapters }
}

impl Reader<'_> {
    fn sections(&self) -> Vec<Section> {
        let arena = Arena::new();
        let root = comrak::parse_document(&arena, &self.filled.text, &as_typed());
        let mut sections = vec![Section::default()];
        for node in root.children() {
            let level = match &node.data().value {
                NodeValue::Heading(head) => Some(head.level),
                _ => None,
            };
            if level.is_some_and(|level| level <= 2) {
                sections.push(Section {
                    at: self.start(node),
                    ..Section::default()
                });
            }
            let Some(section) = sections.last_mut() else {
                continue;
            };
            let before = section.sentences.len();
            self.block(node, section);
            if matches!(node.data().value, NodeValue::Alert(_)) {
                let alert = section.sentences.iter_mut().skip(before);
                alert.for_each(|sentence| sentence.is_caution = true);
            }
            if level.is_some_and(|level| level <= 2) {
                let head = section.sentences.iter_mut().skip(before);
                head.for_each(|sentence| sentence.is_head = true);
            }
        }
        sections.retain(|section| !section.sentences.is_empty() || !section.figures.is_empty());
        sections
    }

    /// Where a node begins, as a byte of the chapter.
    fn start(&self, node: Node<'_>) -> usize {
        let start = node.data().sourcepos.start;
        let line = self.lines.get(start.line.saturating_sub(1)).copied();
        let at = line.unwrap_or(0) + start.column.saturating_sub(1);
        at.min(self.filled.text.len())
    }

    /// Adds the sentences and figures of a block and all blocks in it.
    fn block(&self, node: Node<'_>, section: &mut Section) {
        for below in node.descendants() {
            let value = below.data().value.clone();
            match value {
                NodeValue::Paragraph | NodeValue::Heading(_) | NodeValue::TableCell => {
                    let mut found = sentences(&self.run(below), self.lexicon);
                    let is_text = matches!(value, NodeValue::Paragraph)
                        && !in_list(below)
                        && !leads_to_a_list(below);
                    if let Some(last) = found.last_mut() {
                        last.closes_paragraph = is_text;
                    }
                    let row = row_of(below).map(|row| self.start(row));
                    found.iter_mut().for_each(|sentence| sentence.row = row);
                    section.sentences.extend(found);
                }
                NodeValue::Alert(alert) => {
                    section.cautions += 1;
                    let title = alert.title.as_deref().unwrap_or_default();
                    let run = Run::plain(title, self.start(below));
                    section.sentences.extend(sentences(&run, self.lexicon));
                }
                NodeValue::CodeBlock(code) => {
                    let word = code.info.split_whitespace().next();
                    if matches!(word, Some("figure" | "picture")) {
                        let at = self.start(below);
                        section.figures.push(self.figure(&code.literal, word, at));
                    }
                }
                _ => {}
            }
        }
    }

    /// The words of a block, those of links among them.
    fn run(&self, block: Node<'_>) -> Run {
        let mut run = Run::default();
        for node in block.descendants().skip(1) {
            let at = self.start(node);
            match &node.data().value {
                NodeValue::Text(words) => {
                    run.starts.push((run.text.len(), at));
                    run.text.push_str(words);
                }
                NodeValue::SoftBreak | NodeValue::LineBreak => {
                    run.starts.push((run.text.len(), at));
                    run.text.push(' ');
                }
                NodeValue::Code(_) | NodeValue::HtmlInline(_) => {
                    run.starts.push((run.text.len(), at));
                    run.text.push('\u{fffc}');
                }
                NodeValue::Link(link) => {
                    if let Some(name) = link.url.strip_prefix("figure:") {
                        run.figures.push((run.text.len(), name.to_string()));
                        run.starts.push((run.text.len(), at));
                        run.text.push('\u{fffc}');
                    }
                }
                _ => {}
            }
        }
        run
    }

    fn figure(&self, yaml: &str, word: Option<&str>, at: usize) -> Figure {
        let place = self.filled.place(at);
        let value: serde_yaml::Value = weight::read(yaml, Limit::WRITTEN).unwrap_or_default();
        let text = |key: &str| value.get(key).and_then(|v| v.as_str()).map(str::to_string);
        let mut requests = self.figures.iter();
        let request = requests.find(|request| request.place == place);
        let mut pieces = request.map_or(Vec::new(), |request| request.pieces.clone());
        scalars(&value, &mut pieces);
        let caption = text("caption").unwrap_or_default();
        let name = text("name").map(|name| name.split_whitespace().collect::<Vec<_>>().join("_"));
        Figure {
            name,
            caption: sentences(&Run::plain(&caption, at), self.lexicon),
            pieces,
            seam: request.and_then(seam),
            drawn: word == Some("figure"),
            shoe: request.is_some_and(|request| request.shoe.is_some() || request.making.is_some()),
            stitches: stitches(&value),
            request: request.cloned(),
            place,
        }
    }
}

/// Adds all words of a block but its captions: the keys of pieces that it names are among them.
fn scalars(value: &serde_yaml::Value, found: &mut Vec<String>) {
    match value {
        serde_yaml::Value::String(text) if !found.contains(text) => found.push(text.clone()),
        serde_yaml::Value::Sequence(list) => list.iter().for_each(|value| scalars(value, found)),
        serde_yaml::Value::Mapping(map) => {
            let words = ["caption", "alt", "name", "says"];
            let keys = map
                .iter()
                .filter(|(key, _)| key.as_str().is_none_or(|k| !words.contains(&k)));
            keys.for_each(|(_, value)| scalars(value, found));
        }
        _ => {}
    }
}

/// The seam that a figure shows.
fn seam(request: &FigureRequest) -> Option<String> {
    match &request.flat.as_ref()?.scene {
        Scene::Seam { name, .. } => Some(name.text.clone()),
        _ => None,
    }
}

/// The stitches that a block names, each once.
fn stitches(value: &serde_yaml::Value) -> Vec<String> {
    let mut found = Vec::new();
    match value {
        serde_yaml::Value::Sequence(list) => found.extend(list.iter().flat_map(stitches)),
        serde_yaml::Value::Mapping(map) => {
            for (key, value) in map {
                match (key.as_str(), value.as_str()) {
                    (Some("stitch"), Some(name)) => found.push(name.trim().to_string()),
                    _ => found.extend(stitches(value)),
                }
            }
        }
        _ => {}
    }
    found.sort();
    found.dedup();
    found
}

/// Whether a list or a table follows a block and ends its sentence.
fn leads_to_a_list(node: Node<'_>) -> bool {
    let next = node.next_sibling();
    next.is_some_and(|next| matches!(next.data().value, NodeValue::List(_) | NodeValue::Table(_)))
}

/// The row of the table that a cell stands in.
fn row_of(node: Node<'_>) -> Option<Node<'_>> {
    let mut above = node.ancestors();
    above.find(|node| matches!(node.data().value, NodeValue::TableRow(_)))
}

/// Whether a block stands in a list or a table.
fn in_list(node: Node<'_>) -> bool {
    let mut above = node.ancestors().skip(1);
    above.any(|node| matches!(node.data().value, NodeValue::Item(_) | NodeValue::Table(_)))
}
