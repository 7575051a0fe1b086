//! `fit` of a design: dated entries of what trial shoes taught.

use super::fields::Fields;
use super::node::Node;
use super::{Reading, names};
use crate::design::{FitChange, FitEntry, FootSideSpec, is_day};

/// The design's `fit`, in order.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<FitEntry> {
    let Some(node) = fields.take("fit", reading) else {
        return Vec::new();
    };
    if reading.shoe.is_none() {
        let message = "‘fit’ corrects a shoe, but the design has no ‘shoe:’";
        let remedy = "describe the shoe under ‘shoe:’, or change the pieces themselves";
        reading.error("no-shoe", &node.place, message, remedy);
    }
    let items = reading.list(node);
    items
        .into_iter()
        .filter_map(|item| entry(item, reading))
        .collect()
}

fn entry(node: &Node, reading: &mut Reading<'_>) -> Option<FitEntry> {
    let mut fields = Fields::of(node, "fit", "a fit correction", reading)?;
    let on = fields.require("on", reading);
    let on = on.and_then(|node| date(node, reading));
    let change = fields.require("change", reading);
    let change = change.and_then(|node| reading.choice(node, "a fit correction", &FitChange::ALL));
    let by = fields.require("by", reading);
    let why = fields.require("why", reading);
    let why = why.and_then(|node| reading.text(node, "‘why’"));
    let size = fields.take("size", reading);
    let size = size.map(|node| known_size(node, reading));
    let side = fields.take("side", reading);
    let words = [
        ("inner", FootSideSpec::Inner),
        ("outer", FootSideSpec::Outer),
    ];
    let side = side.map(|node| (node, reading.choice(node, "a side", &words)));
    fields.finish(reading);
    let change = change?;
    if let Some((node, _)) = side
        && !change.has_sides()
    {
        let message = format!("‘{}’ is the same for both sides", change.words());
        reading.error("fit-side", &node.place, message, "take ‘side’ away");
    }
    let by = by?;
    let value = reading.signed(by, "‘by’", change.dimension())?;
    Some(FitEntry {
        on: on?,
        change,
        side: side.and_then(|(_, side)| side),
        by: value,
        by_words: by
            .scalar()
            .map_or("", |scalar| scalar.text.trim())
            .to_string(),
        // a size that is not known stays unknown: the entry must not hold for all
        size: match size {
            None => None,
            Some(known) => Some(known?),
        },
        why: why?,
        place: node.place.clone(),
    })
}

fn known_size(node: &Node, reading: &mut Reading<'_>) -> Option<String> {
    let key = reading.text(node, "‘size’")?;
    let keys: Vec<String> = reading.sizes.iter().map(|size| size.key.clone()).collect();
    if keys.contains(&key) {
        return Some(key);
    }
    let options: Vec<&str> = keys.iter().map(String::as_str).collect();
    let remedy = names::suggestion(&key, &options);
    let message = format!("there is no size ‘{key}’");
    reading.error("unknown-size", &node.place, message, remedy);
    None
}

/// A day, year first (ISO 8601).
pub(super) fn date(node: &Node, reading: &mut Reading<'_>) -> Option<String> {
    let text = reading.text(node, "‘on’")?;
    if is_day(&text) {
        return Some(text);
    }
    let message = format!("‘{text}’ is no date");
    let remedy = "write year, month and day: 2026-10-04";
    reading.error("fit-date", &node.place, message, remedy);
    None
}
