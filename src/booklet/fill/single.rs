//! Each tag of a chapter by itself, so that one broken tag does not hide the mistakes of the others;
//! and the few words of a head or of the design file that may print values too.

use super::{Escape, environment, filled, template_error};
use crate::booklet::source_map::{Anchor, Filled, line_column};
use crate::booklet::tags::{Tag, TagKind, tags};
use crate::booklet::values::Names;
use crate::diagnostic::{Diagnostics, SourceText};
use std::sync::Arc;

/// Numbers of the tags that are wrong by themselves, whatever stands round them. Each is told.
pub(super) fn wrong_alone(
    tags: &[Tag],
    plain: &Filled,
    names: &Names,
    diagnostics: &mut Diagnostics,
) -> Vec<usize> {
    let environment = environment(Escape::Markdown, names.language());
    let mut wrong = Vec::new();
    for (number, tag) in tags.iter().enumerate() {
        if tag.kind != TagKind::Value {
            continue;
        }
        let text = &plain.text[tag.start..tag.end];
        let outcome = environment.template_from_str(text).and_then(|template| {
            let unknown = template.undeclared_variables(true);
            if unknown.iter().any(|name| !names.has(name)) {
                // a name of a loop, or one that is told with the whole text
                return Ok(());
            }
            template.render(names.value()).map(|_| ())
        });
        if let Err(error) = outcome {
            let alone = alone(tag, plain);
            diagnostics.push(template_error(&error, &alone, None));
            wrong.push(number);
        }
    }
    wrong
}

/// The tag as a text of its own, with its place.
fn alone(tag: &Tag, plain: &Filled) -> Filled {
    let place = plain.place(tag.start);
    let anchor = Anchor {
        line: place.line,
        column: place.column,
        ..Anchor::START
    };
    Filled {
        text: plain.text[tag.start..tag.end].to_string(),
        sources: vec![place.source],
        anchors: vec![anchor],
    }
}

/// `text` with the tags of these numbers blanked; all offsets and lines stay.
pub(super) fn blanked(text: &str, tags: &[Tag], numbers: &[usize]) -> String {
    let mut result = String::with_capacity(text.len());
    let mut at = 0;
    for tag in numbers.iter().filter_map(|number| tags.get(*number)) {
        if tag.start < at {
            continue;
        }
        result.push_str(&text[at..tag.start]);
        let blank = |byte| if byte == b'\n' { '\n' } else { ' ' };
        result.extend(text[tag.start..tag.end].bytes().map(blank));
        at = tag.end;
    }
    result.push_str(&text[at..]);
    result
}

/// `words`, the value of `key` in the YAML lines `lines` (from 0) of `source`, with their values
/// filled in as plain text. What is wrong is told at the tag.
pub fn fill_words(
    words: &str,
    key: &str,
    source: &Arc<SourceText>,
    lines: usize,
    names: &Names,
    diagnostics: &mut Diagnostics,
) -> String {
    if !words.contains("{{") && !words.contains("{%") && !words.contains("{#") {
        return words.to_string();
    }
    let plain = Filled {
        text: words.to_string(),
        sources: vec![source.clone()],
        anchors: anchors(words, key, source, lines),
    };
    filled(plain, names, Escape::Nothing, diagnostics).text
}

/// Where the tags of `words` stand in the file; the rest points at the key.
fn anchors(words: &str, key: &str, source: &Arc<SourceText>, lines: usize) -> Vec<Anchor> {
    let end = source
        .text
        .split_inclusive('\n')
        .take(lines)
        .map(str::len)
        .sum();
    let head = &source.text[..end];
    let begins = format!("{key}:");
    let mut at = 0;
    for line in head.split_inclusive('\n') {
        if line.starts_with(&begins) {
            break;
        }
        at += line.len();
    }
    let mut at = if at < head.len() { at } else { 0 };
    let anchor = |offset: usize, at: usize, fixed: bool| {
        let (line, column) = line_column(head, at);
        Anchor {
            offset,
            line,
            column,
            fixed,
            file: 0,
        }
    };
    let mut anchors = vec![anchor(0, at, true)];
    for tag in tags(words) {
        if let Some(found) = head[at..].find(&words[tag.start..tag.end]) {
            at += found;
            anchors.push(anchor(tag.start, at, false));
        }
    }
    anchors
}
