//! The heads of `booklet/*.md`: YAML between two lines of three dashes, before the Markdown.

use super::fields::Fields;
use super::head::optional;
use super::letters;
use super::{Reading, yaml};
use crate::design::{Chapter, ChapterKind, Part};
use crate::diagnostic::{Place, SourceText};
use std::sync::Arc;

/// The chapters at `paths`, in their order.
pub(super) fn read(paths: Vec<&str>, reading: &mut Reading<'_>) -> Vec<Chapter> {
    let mut chapters = Vec::new();
    for path in paths {
        let start = Place {
            source: Arc::new(SourceText {
                path: path.to_string(),
                text: String::new(),
            }),
            line: 1,
            column: 1,
        };
        if let Some(source) = reading.named_file(path, &start) {
            chapters.extend(chapter(&source, reading));
        }
    }
    chapters
}

fn chapter(source: &Arc<SourceText>, reading: &mut Reading<'_>) -> Option<Chapter> {
    let place = Place {
        source: source.clone(),
        line: 1,
        column: 1,
    };
    let Some((head, lines)) = head(&source.text) else {
        let message = "this chapter has no head";
        let remedy = "begin the file with a line ---, then ‘title: …’, then a line --- again";
        reading.error("missing-head", &place, message, remedy);
        return None;
    };
    let node = yaml::tree(source, head, 1, reading.diagnostics)?;
    let fields = Fields::of(&node, "booklet", "the head of this chapter", reading)?;
    let mut fields = fields.at(&place);
    let title = fields.require("title", reading);
    let title = title.and_then(|node| reading.short_text(node, "‘title’", letters::LINE));
    let kinds = [("text", ChapterKind::Text), ("steps", ChapterKind::Steps)];
    let kind = fields.take("kind", reading);
    let kind = kind.and_then(|node| reading.choice(node, "a kind of chapter", &kinds));
    let parts = [
        ("make ready", Part::MakeReady),
        ("make", Part::Make),
        ("look up", Part::LookUp),
    ];
    let part = fields.take("part", reading);
    let part = part.and_then(|node| reading.choice(node, "a part of the booklet", &parts));
    let standfirst = optional(&mut fields, "standfirst", reading);
    fields.finish(reading);
    Some(Chapter {
        kind: kind.unwrap_or(ChapterKind::Text),
        standfirst,
        title: title?,
        part: part.unwrap_or(Part::Make),
        first_line: lines + 1,
        source: source.clone(),
    })
}

/// The YAML of the head, and the lines up to and with its closing dashes.
fn head(text: &str) -> Option<(&str, usize)> {
    let first = text.split_inclusive('\n').next()?;
    if first.trim_end() != "---" {
        return None;
    }
    let mut end = first.len();
    for (number, line) in text[first.len()..].split_inclusive('\n').enumerate() {
        if line.trim_end() == "---" {
            return Some((&text[first.len()..end], number + 2));
        }
        end += line.len();
    }
    None
}
