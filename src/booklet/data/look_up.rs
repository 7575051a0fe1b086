//! What is looked up: care, editions, words and units.

use crate::booklet::Request;
use crate::booklet::glossary::{glossary, own_words};
use crate::design::Design;
use crate::diagnostic::Diagnostics;
use serde_json::{Map, Value, json};

/// How it is cared for, by kind.
pub(super) fn care(design: &Design) -> Value {
    let care = design.look_up.care.iter();
    care.map(|(kind, words)| json!({"kind": kind.key(), "words": words}))
        .collect()
}

/// What editions changed.
pub(super) fn editions(design: &Design) -> Value {
    let of = |note: &crate::design::EditionNote| {
        json!({
            "edition": note.edition,
            "on": design.words.day(&note.on),
            "changed": note.changed,
        })
    };
    design.look_up.editions.iter().map(of).collect()
}

/// The words and units explained: those of the chapters, of the design's own words, and of what the
/// program prints in `data`.
pub(super) fn words(
    request: &Request<'_>,
    data: &Map<String, Value>,
    diagnostics: &mut Diagnostics,
) -> Value {
    let design = request.design;
    let mut text = own_words(request.prose, design);
    for part in [
        "sizes",
        "materials",
        "trims",
        "thread",
        "amounts",
        "cut_list",
    ] {
        if let Some(value) = data.get(part) {
            add_strings(value, &mut text, &|words| {
                words.contains(|c: char| c.is_ascii_digit())
            });
        }
    }
    // what the program itself says of the work
    for part in ["substitutes", "thread", "tools"] {
        if let Some(value) = data.get(part) {
            add_strings(value, &mut text, &|_| true);
        }
    }
    let selvage = design.words.get("figures.selvage");
    let layouts = data.get("layouts").and_then(Value::as_array);
    if layouts.is_some_and(|layouts| layouts.iter().any(|layout| layout["roll"] == true)) {
        text.push('\n');
        text.push_str(selvage);
    }
    glossary(design, &text, diagnostics).data()
}

/// Adds the strings that are `wanted`; keys are not printed.
fn add_strings(value: &Value, text: &mut String, wanted: &dyn Fn(&str) -> bool) {
    match value {
        Value::String(words) if wanted(words) => {
            text.push('\n');
            text.push_str(words);
        }
        Value::Array(list) => list.iter().for_each(|v| add_strings(v, text, wanted)),
        Value::Object(map) => map.values().for_each(|v| add_strings(v, text, wanted)),
        _ => {}
    }
}
