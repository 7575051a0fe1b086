//! What is looked up: care, editions, words and units.

use crate::booklet::Request;
use crate::booklet::glossary::{all_words, glossary};
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
    let text = all_words(request.prose, request.design, data);
    glossary(request.design, &text, diagnostics).data()
}
