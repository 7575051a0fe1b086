//! `care`, `glossary` and `editions` of a design, and its `finished` measurements.

use super::Reading;
use super::faults;
use super::fields::Fields;
use super::fit::date;
use super::head::{edition_of, typographic};
use super::letters;
use super::names::suggestion;
use super::node::{Entry, Kind, Node};
use crate::design::{Accepted, CareKind, Dimension, EditionNote, FinishedMeasure, LookUp};
use crate::diagnostic::{codes, entry};
use crate::language::Words;

/// The finished measurements, and all that is looked up.
pub(super) fn read(
    fields: &mut Fields<'_>,
    reading: &mut Reading<'_>,
) -> (Vec<FinishedMeasure>, LookUp) {
    let finished = finished(fields, reading);
    let look_up = LookUp {
        care: care(fields, reading),
        glossary: match fields.take("glossary", reading) {
            Some(node) => glossary(node, &reading.words.clone(), reading),
            None => Vec::new(),
        },
        editions: editions(fields, reading),
        accepted: accepted(fields, reading),
        faults: faults::read(fields, reading),
        formerly: formerly(fields, reading),
    };
    (finished, look_up)
}

/// Earlier names, as they are typed and as they are printed.
fn formerly(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<String> {
    let Some(node) = fields.take("formerly", reading) else {
        return Vec::new();
    };
    let mut names = Vec::new();
    for item in reading.list(node) {
        if let Some(name) = reading.short_text(item, "‘formerly’", letters::LINE) {
            names.extend([typographic(&name, &reading.words), name]);
        }
    }
    names
}

fn care(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<(CareKind, String)> {
    let Some(node) = fields.take("care", reading) else {
        return Vec::new();
    };
    let Some(mut fields) = Fields::of(node, "care", "‘care’", reading) else {
        return Vec::new();
    };
    let mut care = Vec::new();
    for (key, kind) in CareKind::ALL {
        let node = fields.take(key, reading);
        let words = node.and_then(|node| reading.text(node, &format!("‘{key}’")));
        care.extend(words.map(|words| (kind, typographic(&words, &reading.words))));
    }
    fields.finish(reading);
    care
}

/// Entries of a group whose keys are words that are printed, each once.
fn words_of<'n>(
    node: &'n Node,
    (what, example): (&str, &str),
    reading: &mut Reading<'_>,
) -> &'n [Entry] {
    let Kind::Mapping(entries) = &node.kind else {
        let message = format!("{what} is {}, not words with a colon", node.words());
        reading.error(
            "wrong-type",
            &node.place,
            message,
            format!("write {example}"),
        );
        return &[];
    };
    reading.duplicates(entries);
    entries
}

/// Words and what they mean, their quotation marks as `said` has them.
pub(super) fn glossary(
    node: &Node,
    said: &Words,
    reading: &mut Reading<'_>,
) -> Vec<(String, String)> {
    let example = "‘ease notch: The notch where the easing begins or ends.’";
    let mut words = Vec::new();
    for entry in words_of(node, ("‘glossary’", example), reading) {
        let meaning = reading.text(&entry.value, &format!("the meaning of ‘{}’", entry.key));
        words.extend(meaning.map(|m| (typographic(&entry.key, said), typographic(&m, said))));
    }
    words
}

fn editions(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<EditionNote> {
    let Some(node) = fields.take("editions", reading) else {
        return Vec::new();
    };
    let items = reading.list(node);
    let read = items.into_iter().map(|item| edition_note(item, reading));
    read.collect::<Vec<_>>().into_iter().flatten().collect()
}

fn edition_note(node: &Node, reading: &mut Reading<'_>) -> Option<EditionNote> {
    let mut fields = Fields::of(node, "editions", "what an edition changed", reading)?;
    let edition = fields.require("edition", reading);
    let edition = edition.map(|node| edition_of(node, reading));
    let on = fields.require("on", reading);
    let on = on.and_then(|node| date(node, reading));
    let changed = fields.require("changed", reading);
    let changed = changed.and_then(|node| reading.text(node, "‘changed’"));
    fields.finish(reading);
    Some(EditionNote {
        edition: edition?,
        on: on?,
        changed: typographic(&changed?, &reading.words),
    })
}

/// Warnings that the designer lets stand, each with a reason.
fn accepted(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Accepted> {
    let Some(node) = fields.take("accepted", reading) else {
        return Vec::new();
    };
    let items = reading.list(node);
    let read = items.into_iter().map(|item| acceptance(item, reading));
    read.collect::<Vec<_>>().into_iter().flatten().collect()
}

fn acceptance(node: &Node, reading: &mut Reading<'_>) -> Option<Accepted> {
    let mut fields = Fields::of(node, "accepted", "an accepted warning", reading)?;
    let mut text = |key: &'static str, required: bool, reading: &mut Reading<'_>| {
        let node = match required {
            true => fields.require(key, reading),
            false => fields.take(key, reading),
        }?;
        let text = reading.text(node, &format!("‘{key}’"))?;
        Some((text, node.place.clone()))
    };
    let code = text("code", true, reading);
    let reason = text("reason", true, reading);
    let of = text("of", false, reading);
    fields.finish(reading);
    let ((code, place), (reason, _)) = (code?, reason?);
    if entry(&code).is_none() {
        let message = format!("there is no message with the code ‘{code}’");
        let known: Vec<&str> = codes().map(|entry| entry.code).collect();
        let remedy = suggestion(&code, &known);
        reading.error("unknown-code", &place, message, remedy);
        return None;
    }
    Some(Accepted {
        code,
        reason,
        of: of.map(|(of, _)| of),
        place,
    })
}

/// The design's `finished`: what is measured on the finished thing, by its printed name.
fn finished(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<FinishedMeasure> {
    let Some(node) = fields.take("finished", reading) else {
        return Vec::new();
    };
    let example = "‘width: pouch.width’";
    let mut list = Vec::new();
    for entry in words_of(node, ("‘finished’", example), reading) {
        let what = format!("the finished ‘{}’", entry.key);
        let formula = reading.formula(&entry.value, &what, Dimension::Length);
        list.extend(formula.map(|length| FinishedMeasure {
            key: entry.key.clone(),
            name: typographic(&entry.key, &reading.words),
            length,
        }));
    }
    list
}
