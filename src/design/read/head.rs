//! The first keys of a design: title, edition, words for the cover, papers, how lengths print.

use super::fields::Fields;
use super::letters;
use super::node::Node;
use super::{Reading, words};
use crate::design::{Form, LengthStyle, Paper, Quantity, SizeLayout, paper_keys, quantity};
use crate::diagnostic::Place;
use crate::geometry::units::INCH;
use crate::language::Words;

/// The plates are laid and a booklet is set for each paper.
const MOST_PAPERS: usize = 12;

/// What stands at the head of a design. Required texts that are missing are empty.
pub(super) struct Head {
    pub title: String,
    pub edition: String,
    pub series: Option<String>,
    pub skill: Option<String>,
    pub about: String,
    pub makes: String,
    pub age: Option<String>,
    pub terms: Option<String>,
    pub contact: Option<String>,
    pub by: Option<String>,
    pub languages: Vec<(String, Place)>,
    pub papers: Vec<(Paper, Place)>,
    pub forms: Vec<Form>,
    pub size_layout: SizeLayout,
    pub lengths: LengthStyle,
}

/// Reads the head from the keys of the design.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Head {
    let languages = languages(fields, reading);
    if let Some((own, place)) = languages.first() {
        reading.words = words::read(own, place, reading);
    }
    Head {
        title: required(fields, "title", reading),
        edition: edition(fields, reading),
        series: optional(fields, "series", reading),
        skill: optional(fields, "skill", reading),
        about: required(fields, "about", reading),
        makes: optional(fields, "makes", reading)
            .unwrap_or_else(|| reading.words.get("materials.one").to_string()),
        age: optional(fields, "age", reading),
        terms: optional(fields, "terms", reading),
        contact: optional(fields, "contact", reading),
        by: optional(fields, "by", reading),
        languages,
        papers: papers(fields, reading),
        forms: forms(fields, reading),
        size_layout: size_layout(fields, reading),
        lengths: lengths(fields, &reading.words.clone(), reading),
    }
}

fn required(fields: &mut Fields<'_>, key: &'static str, reading: &mut Reading<'_>) -> String {
    let node = fields.require(key, reading);
    let what = format!("‘{key}’");
    let text = node.and_then(|node| reading.short_text(node, &what, letters::most(key)));
    text.map(|text| typographic(&text, &reading.words))
        .unwrap_or_default()
}

/// The text of `key`, if there is one.
pub(super) fn optional(
    fields: &mut Fields<'_>,
    key: &'static str,
    reading: &mut Reading<'_>,
) -> Option<String> {
    let node = fields.take(key, reading)?;
    let text = reading.short_text(node, &format!("‘{key}’"), letters::most(key))?;
    Some(typographic(&text, &reading.words))
}

/// Words as they are printed: straight quotation marks and apostrophes become those of the language.
/// Where values are to be filled in, marks may belong to them.
pub(super) fn typographic(text: &str, words: &Words) -> String {
    if text.contains("{{") || text.contains("{%") {
        return text.to_string();
    }
    let mut printed = String::with_capacity(text.len());
    let quotes = words.quotes();
    let (mut before, mut open) = (' ', 0usize);
    for character in text.chars() {
        let opens = before.is_whitespace() || "([–—".contains(before) || quotes.opens(before);
        match character {
            '\'' if opens => {
                open += 1;
                printed.push_str(&quotes.single[0]);
            }
            '\'' if open > 0 => {
                open -= 1;
                printed.push_str(&quotes.single[1]);
            }
            '\'' => printed.push('’'),
            '"' => printed.push_str(&quotes.double[usize::from(!opens)]),
            other => printed.push(other),
        }
        before = printed.chars().next_back().unwrap_or(' ');
    }
    printed
}

fn edition(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> String {
    // once an edition was released, its record says the number
    let released = !reading.folder.editions().is_empty();
    let node = match released {
        true => fields.take("edition", reading),
        false => fields.require("edition", reading),
    };
    node.map(|node| edition_of(node, reading))
        .unwrap_or_default()
}

/// The number of an edition.
pub(super) fn edition_of(node: &Node, reading: &mut Reading<'_>) -> String {
    let text = reading.text(node, "‘edition’").unwrap_or_default();
    let is_number = |part: &str| {
        !part.is_empty() && part.len() <= 6 && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    let parts: Vec<&str> = text.split('.').collect();
    if !text.is_empty() && (parts.len() != 3 || !parts.iter().all(|part| is_number(part))) {
        let message =
            format!("‘{text}’ is no edition: it is made of three numbers of at most six figures");
        let remedy = "write 1.0.0; raise the last number for a correction, the middle one for a \
                      change of fit";
        reading.error("edition-number", &node.place, message, remedy);
    }
    text
}

/// The languages of the texts, that of `design.yaml` first; never empty.
fn languages(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<(String, Place)> {
    let mut languages: Vec<(String, Place)> = Vec::new();
    if let Some(node) = fields.take("languages", reading) {
        for item in reading.list(node) {
            let Some(tag) = reading
                .text(item, "a language")
                .map(|text| text.to_string())
            else {
                continue;
            };
            if !is_tag(&tag) {
                let message = format!("‘{tag}’ is no language tag");
                let remedy = "write two or three small letters: en, de, fr, pt-BR";
                reading.error("unknown-word", &item.place, message, remedy);
            } else if languages.iter().any(|(known, _)| *known == tag) {
                let message = format!("the language ‘{tag}’ is named twice");
                reading.error("same-name", &item.place, message, "keep one of them");
            } else {
                languages.push((tag, item.place.clone()));
            }
        }
    }
    if languages.is_empty() {
        languages.push(("en".to_string(), fields.place().clone()));
    }
    languages
}

/// Whether `text` is a tag of BCP 47: a language of ISO 639 with further parts.
fn is_tag(text: &str) -> bool {
    let mut parts = text.split('-');
    let first = parts.next().unwrap_or("");
    let letters = |part: &str| part.chars().all(|c| c.is_ascii_alphanumeric());
    (2..=3).contains(&first.len())
        && first.chars().all(|c| c.is_ascii_lowercase())
        && parts.all(|part| (1..=8).contains(&part.len()) && letters(part))
}

fn papers(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<(Paper, Place)> {
    let Some(node) = fields.require("paper", reading) else {
        return Vec::new();
    };
    let mut papers: Vec<(Paper, Place)> = Vec::new();
    let items = reading.list(node);
    reading.not_too_many("papers", MOST_PAPERS, items.iter().map(|item| &item.place));
    for item in items {
        let Some(text) = reading.text(item, "a paper") else {
            continue;
        };
        match Paper::said(&text) {
            Ok(None) => {
                let known = paper_keys();
                reading.unknown("unknown-paper", &item.place, &text, "a paper", &known);
            }
            Err(message) => {
                let remedy = "name a paper, or write its size as ‘13 in x 19 in’";
                reading.error("unknown-paper", &item.place, message, remedy);
            }
            Ok(Some(paper)) if papers.iter().any(|(known, _)| known.key == paper.key) => {
                let message = format!("the paper ‘{text}’ is named twice");
                reading.error("same-name", &item.place, message, "keep one of them");
            }
            Ok(Some(paper)) => papers.push((paper, item.place.clone())),
        }
    }
    if papers.is_empty() && !reading.diagnostics.has_errors() {
        let message = "no paper is named";
        reading.error(
            "empty-value",
            &node.place,
            message,
            "write ‘paper: [a4, letter]’",
        );
    }
    papers
}

fn forms(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Form> {
    let Some(node) = fields.take("forms", reading) else {
        return Vec::new();
    };
    let mut forms: Vec<Form> = Vec::new();
    for item in reading.list(node) {
        let words = Form::ALL.map(|form| (form.words(), form));
        match reading.choice(item, "a form of the booklet", &words) {
            Some(form) if forms.contains(&form) => {
                let message = format!("the form ‘{}’ is named twice", form.words());
                reading.error("same-name", &item.place, message, "keep one of them");
            }
            Some(form) => forms.push(form),
            None => {}
        }
    }
    forms
}

fn size_layout(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> SizeLayout {
    let Some(node) = fields.take("plates", reading) else {
        return SizeLayout::default();
    };
    let Some(mut fields) = Fields::of(node, "plates", "‘plates’", reading) else {
        return SizeLayout::default();
    };
    let words = [
        ("side by side", SizeLayout::SideBySide),
        ("nested", SizeLayout::Nested),
    ];
    let chosen = fields.take("sizes", reading);
    let chosen =
        chosen.and_then(|node| reading.choice(node, "how sizes stand on the plates", &words));
    fields.finish(reading);
    chosen.unwrap_or_default()
}

/// How the language prints lengths where a design says nothing else.
pub(super) fn usual_lengths(words: &Words) -> LengthStyle {
    LengthStyle {
        inch_first: words.get("language.first unit") == "inch",
        both: words.get("language.other unit") == "brackets",
        decimal: words.decimal(),
        ..LengthStyle::METRIC
    }
}

/// How lengths are printed: as `lengths` says, else as usual in the language of `words`.
pub(super) fn lengths(
    fields: &mut Fields<'_>,
    words: &Words,
    reading: &mut Reading<'_>,
) -> LengthStyle {
    let mut style = usual_lengths(words);
    let Some(node) = fields.take("lengths", reading) else {
        return style;
    };
    let Some(mut fields) = Fields::of(node, "lengths", "‘lengths’", reading) else {
        return style;
    };
    if let Some(first) = fields.take("first", reading) {
        let words = [("metric", false), ("inch", true)];
        let chosen = reading.choice(first, "the unit that comes first", &words);
        style.inch_first = chosen.unwrap_or(style.inch_first);
    }
    if let Some(other) = fields.take("other", reading) {
        let words = [("brackets", true), ("none", false)];
        let chosen = reading.choice(other, "what becomes of the other unit", &words);
        style.both = chosen.unwrap_or(style.both);
    }
    if let Some(nearest) = fields.take("nearest", reading) {
        style.denominator = denominator(nearest, reading).unwrap_or(16);
    }
    fields.finish(reading);
    style
}

fn denominator(node: &Node, reading: &mut Reading<'_>) -> Option<u32> {
    let mm = reading.length(node, "‘nearest’")?;
    let parts = INCH / mm;
    let allowed = [1u32, 2, 4, 8, 16, 32, 64];
    let found = allowed
        .into_iter()
        .find(|d| (f64::from(*d) - parts).abs() < 1e-6);
    if found.is_none() {
        let text = node.scalar().map_or("", |scalar| scalar.text.as_str());
        let message = format!("inches cannot be printed to the nearest ‘{text}’");
        let remedy = "write 1/16 in; 1/2, 1/4, 1/8, 1/32 and 1/64 in are possible too";
        reading.error("out-of-range", &node.place, message, remedy);
    }
    found
}

/// Whether the width that `text` writes is given in lignes.
pub(super) fn is_in_lignes(text: &str) -> bool {
    let mm = Quantity::parse(text).is_ok_and(|q| q.dimension == quantity::Dimension::Length);
    mm && text.trim_end().ends_with('L')
}
