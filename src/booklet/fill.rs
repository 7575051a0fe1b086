//! Fills the values into a chapter's text (`{{ … }}`, `{% if %}`, `{% for %}`) and keeps the way back
//! to the file. Runs on a bounded amount of work and memory, whatever the text says.
//!
//! The plain text between tags is marked with its place before it is run, and the marks are taken
//! out again afterwards; so a place is exact even after a block that was left out or repeated.

mod bounded;
mod filters;
mod remedy;
mod shared;
mod single;
mod typed;

use super::source_map::{Anchor, Filled};
use super::tags::{Tag, TagKind, tags};
use super::values::{Branch, Names};
use crate::design::Chapter;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use bounded::Bounded;
use minijinja::value::ValueKind;
use minijinja::{Environment, Error, ErrorKind, UndefinedBehavior};
use remedy::remedy;
use shared::with_shared;
use std::fmt::Write as _;

pub use shared::SharedTexts;
pub use single::fill_words;
use single::{blanked, wrong_alone};

/// Instructions that one chapter may take: some thousand values, or a loop over a few hundred.
const FUEL: u64 = 200_000;
/// Multiplications in one tag; each may repeat a text.
const MOST_PRODUCTS: usize = 4;
/// Block tags that a chapter may use. Without assignment no text can grow from round to round.
const BLOCKS: [&str; 8] = [
    "if", "elif", "else", "endif", "for", "endfor", "raw", "endraw",
];
/// Control characters that open and close a mark; they are no text and are taken out first.
const OPEN: char = '\u{2}';
const CLOSE: char = '\u{3}';

/// The Markdown of `chapter` with the `shared` texts it asks for and its values filled in. Names that do not exist are reported and the
/// text goes on without its values, so that its other mistakes are found in the same run.
pub fn fill(
    chapter: &Chapter,
    shared: &SharedTexts,
    names: &Names,
    diagnostics: &mut Diagnostics,
) -> Filled {
    let plain = with_shared(chapter, shared, diagnostics);
    typed::tell(&plain, names, diagnostics);
    filled(plain, names, Escape::Markdown, diagnostics)
}

/// How words of the design are written into a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Escape {
    /// The text is Markdown: what would be markup is escaped.
    Markdown,
    /// The text is plain.
    Nothing,
}

/// `plain` with its values filled in. Tags that are wrong are reported, all of them, and left out.
fn filled(plain: Filled, names: &Names, escape: Escape, diagnostics: &mut Diagnostics) -> Filled {
    let opens = ["{{", "{%", "{#"];
    if !opens.iter().any(|open| plain.text.contains(open)) {
        return plain;
    }
    let tags = tags(&plain.text);
    let before = diagnostics.iter().count();
    forbid(&tags, &plain, diagnostics);
    if diagnostics.iter().count() > before {
        return plain;
    }
    let mut wrong = wrong_alone(&tags, &plain, names, diagnostics);
    let environment = environment(escape, names.language());
    let text = blanked(&plain.text, &tags, &wrong);
    match environment.template_from_str(&text) {
        Err(error) => {
            diagnostics.push(template_error(&error, &plain, None));
            return plain;
        }
        Ok(template) => {
            for name in template.undeclared_variables(true) {
                wrong.extend(unknown(&name, &tags, names, &plain, diagnostics));
            }
        }
    }
    if wrong
        .iter()
        .any(|number| tags[*number].kind == TagKind::Block)
    {
        return plain;
    }
    wrong.sort_unstable();
    let plain = Filled {
        text: blanked(&plain.text, &tags, &wrong),
        ..plain
    };
    let tags = super::tags::tags(&plain.text);
    let (marked, anchors) = mark(&plain, &tags);
    let mut output = Bounded::default();
    let run = environment.template_from_str(&marked).and_then(|template| {
        template
            .render_captured_to(names.value(), &mut output)
            .map(|_| ())
    });
    match run {
        Ok(()) => unmark(&String::from_utf8_lossy(&output.bytes), &plain, &anchors),
        Err(error) => {
            diagnostics.push(template_error(&error, &plain, Some(&marked)));
            plain
        }
    }
}

fn environment(escape: Escape, language: &str) -> Environment<'static> {
    let mut environment = Environment::empty();
    environment.set_undefined_behavior(UndefinedBehavior::Strict);
    environment.set_fuel(Some(FUEL));
    environment.set_recursion_limit(40);
    environment.set_keep_trailing_newline(true);
    environment.set_trim_blocks(true);
    environment.set_lstrip_blocks(true);
    environment.set_formatter(move |output, _, value| {
        printable(value)?;
        match value.as_str() {
            Some(words) if escape == Escape::Markdown => output.write_str(&markdown_escaped(words)),
            _ => write!(output, "{value}"),
        }
        .map_err(Error::from)
    });
    filters::add(&mut environment, language);
    environment.add_test("defined", |value: &minijinja::Value| !value.is_undefined());
    environment.add_test("undefined", |value: &minijinja::Value| value.is_undefined());
    environment
}

/// Refuses what would print nothing, or nothing a reader knows.
fn printable(value: &minijinja::Value) -> Result<(), Error> {
    let wrong = |words: &str| Err(Error::new(ErrorKind::InvalidOperation, words.to_string()));
    let is_group = value
        .downcast_object_ref::<Branch>()
        .is_some_and(Branch::is_group);
    if is_group {
        return wrong("this is a group of values: name one of them");
    }
    if value.kind() == ValueKind::Bool {
        return wrong("this is a condition: put it into ‘{% if … %}’");
    }
    match f64::try_from(value.clone()) {
        Ok(number) if !number.is_finite() => wrong("this is no number: it divides by nothing"),
        _ => Ok(()),
    }
}

/// Words of the design are words: what would be markup in Markdown is escaped.
fn markdown_escaped(words: &str) -> String {
    let mut escaped = String::with_capacity(words.len());
    for character in words.chars() {
        match character {
            '\n' | '\r' => escaped.push(' '),
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '~' | '&' | '#' => {
                escaped.push('\\');
                escaped.push(character);
            }
            _ => escaped.push(character),
        }
    }
    escaped
}

fn forbid(tags: &[Tag], plain: &Filled, diagnostics: &mut Diagnostics) {
    for tag in tags {
        let inner = tag.inner(&plain.text);
        let word = inner.split_whitespace().next().unwrap_or_default();
        let message = match tag.kind {
            TagKind::Block if !BLOCKS.contains(&word) => {
                format!("`{{% {word} %}}` is not for booklets.")
            }
            TagKind::Value | TagKind::Block if inner.matches('*').count() > MOST_PRODUCTS => {
                "A value is worked out with too many multiplications.".to_string()
            }
            _ => continue,
        };
        diagnostics.push(
            Diagnostic::error("text-value", Some(&plain.place(tag.start)), message).remedy(
                "Text knows `{{ … }}`, `{% if … %}` and `{% for … %}`; compute in `measures:`.",
            ),
        );
    }
}

/// Tells of `name` at every tag that names it, if it does not exist. The numbers of these tags.
fn unknown(
    name: &str,
    tags: &[Tag],
    names: &Names,
    plain: &Filled,
    diagnostics: &mut Diagnostics,
) -> Vec<usize> {
    let mut concerned = Vec::new();
    let asked = name
        .strip_suffix(".mm")
        .filter(|rest| names.has(rest))
        .unwrap_or(name);
    if names.has(asked) || is_asked_for(name, tags, plain) {
        return concerned;
    }
    let real = |(_, tag): &(usize, &Tag)| tag.kind != TagKind::Comment;
    for (number, tag) in tags.iter().enumerate().filter(real) {
        let text = &plain.text[tag.start..tag.end];
        for at in named(text, name) {
            let place = plain.place(tag.start + at);
            diagnostics.push(unknown_value(name, names.nearest(name), &place));
            concerned.push(number);
        }
    }
    concerned
}

/// Whether some tag asks if `name` is defined: then its absence is meant, and what stands behind such
/// a condition is looked at only where it is run.
fn is_asked_for(name: &str, tags: &[Tag], plain: &Filled) -> bool {
    let asks = |tag: &Tag| {
        let text = &plain.text[tag.start..tag.end];
        named(text, name).any(|at| {
            let after = text[at + name.len()..].trim_start();
            after.starts_with("is defined") || after.starts_with("is undefined")
        })
    };
    tags.iter().any(asks)
}

/// Where `name` stands in `text` as a whole name.
fn named<'t>(text: &'t str, name: &'t str) -> impl Iterator<Item = usize> + 't {
    let whole = |c: char| c.is_alphanumeric() || c == '_' || c == '.';
    let found = text.match_indices(name).map(|(at, _)| at);
    found.filter(move |at| {
        !text[..*at].ends_with(whole) && !text[at + name.len()..].starts_with(whole)
    })
}

fn unknown_value(name: &str, nearest: Option<String>, place: &Place) -> Diagnostic {
    let remedy = match nearest {
        Some(near) => format!("The nearest name is ‘{near}’."),
        None => "Use the names of formulas, with ‘_’ for spaces; ‘pressfoot measure’ lists them."
            .to_string(),
    };
    Diagnostic::error(
        "unknown-value",
        Some(place),
        format!("There is no value ‘{name}’."),
    )
    .remedy(remedy)
}

/// An error of minijinja at its place. `marked` is the marked text if that was the one run.
fn template_error(error: &Error, plain: &Filled, marked: Option<&str>) -> Diagnostic {
    let offset = error.range().map(|range| match marked {
        None => range.start,
        Some(marked) => without_marks(marked, range.start),
    });
    let place = match (offset, error.line()) {
        (Some(offset), _) => Some(plain.place(offset)),
        (None, Some(line)) => {
            let start = plain
                .text
                .split_inclusive('\n')
                .take(line - 1)
                .map(str::len)
                .sum();
            Some(plain.place(start))
        }
        (None, None) => Some(plain.place(0)),
    };
    let detail = error
        .detail()
        .map_or_else(|| error.kind().to_string(), str::to_string);
    match error.kind() {
        ErrorKind::UndefinedError => {
            let at = offset.unwrap_or(0);
            let tags = tags(&plain.text);
            let tag = tags.iter().find(|tag| tag.start <= at && at < tag.end);
            let name = tag.map_or("in this tag", |tag| tag.inner(&plain.text));
            unknown_value(name, None, &plain.place(tag.map_or(at, |tag| tag.start)))
        }
        ErrorKind::OutOfFuel | ErrorKind::WriteFailure => Diagnostic::error(
            "text-value",
            place.as_ref(),
            "Filling in the values of this chapter does not come to an end.",
        )
        .remedy("Make the loops shorter."),
        _ => Diagnostic::error(
            "text-value",
            place.as_ref(),
            format!("The values of this chapter cannot be filled in: {detail}."),
        )
        .remedy(remedy(plain, offset)),
    }
}

fn without_marks(marked: &str, offset: usize) -> usize {
    let mut inside = false;
    let kept = marked[..marked.floor_char_boundary(offset)]
        .chars()
        .filter(|&character| {
            let was = inside;
            inside = match character {
                OPEN => true,
                CLOSE => false,
                _ => inside,
            };
            !was && character != OPEN
        });
    kept.map(char::len_utf8).sum()
}

/// The text with marks, and what each mark's number means. No mark is put into white space, which
/// `-` and the block tags may take away.
fn mark(plain: &Filled, tags: &[Tag]) -> (String, Vec<Anchor>) {
    let text = &plain.text;
    let mut marked = String::with_capacity(text.len() * 2);
    let mut anchors = Vec::new();
    let mut known = plain.anchors.iter().copied().peekable();
    let mut here = Anchor::START;
    let mut put = |marked: &mut String, offset: usize, fixed: bool| {
        while let Some(anchor) = known.next_if(|anchor| anchor.offset <= offset) {
            here = anchor;
        }
        here = here.moved(text, offset);
        let _ = write!(marked, "{OPEN}{}{CLOSE}", anchors.len());
        let fixed = fixed || here.fixed;
        anchors.push(Anchor { fixed, ..here });
    };
    let mut at = 0;
    let end = Tag {
        kind: TagKind::Comment,
        start: text.len(),
        end: text.len(),
        trims_before: true,
    };
    for tag in tags.iter().chain([&end]) {
        for line in text[at..tag.start].split_inclusive('\n') {
            let words = line.trim_start();
            let space = line.len() - words.len();
            marked.push_str(&line[..space]);
            if !words.is_empty() {
                put(&mut marked, at + space, false);
                marked.push_str(words);
            }
            at += line.len();
        }
        if tag.kind == TagKind::Value && !tag.trims_before {
            put(&mut marked, tag.start, true);
        }
        marked.push_str(&text[tag.start..tag.end]);
        at = tag.end;
    }
    (marked, anchors)
}

fn unmark(output: &str, plain: &Filled, known: &[Anchor]) -> Filled {
    let mut text = String::with_capacity(output.len());
    let first = plain.anchors.first().copied().unwrap_or(Anchor::START);
    let mut anchors = vec![Anchor { offset: 0, ..first }];
    let mut rest = output;
    while let Some(open) = rest.find(OPEN) {
        text.push_str(&rest[..open]);
        let Some(close) = rest.find(CLOSE) else { break };
        let number = rest
            .get(open + 1..close)
            .and_then(|n| n.parse::<usize>().ok());
        if let Some(anchor) = number.and_then(|n| known.get(n)) {
            anchors.push(Anchor {
                offset: text.len(),
                ..*anchor
            });
        }
        rest = &rest[close + 1..];
    }
    text.push_str(rest);
    Filled {
        text,
        sources: plain.sources.clone(),
        anchors,
    }
}

#[cfg(test)]
mod shared_tests;
#[cfg(test)]
mod tests;
