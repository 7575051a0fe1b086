//! `trims` and `tools` of a design.

use super::Reading;
use super::fields::Fields;
use super::head::{is_in_lignes, optional};
use super::node::{Entry, Node};
use crate::design::Trim;

/// The design's `trims`, in order.
pub(super) fn trims(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Trim> {
    let Some(node) = fields.take("trims", reading) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for entry in reading.named(node, "a trim") {
        list.extend(one_trim(entry, reading));
    }
    list
}

fn one_trim(entry: &Entry, reading: &mut Reading<'_>) -> Option<Trim> {
    let key = entry.key.clone();
    let what = format!("trim ‘{key}’");
    let mut fields = Fields::of(&entry.value, "trims.TRIM", what, reading)?;
    let name = optional(&mut fields, "name", reading).unwrap_or_else(|| key.clone());
    let width = fields.take("width", reading);
    let lignes = width
        .and_then(Node::scalar)
        .is_some_and(|scalar| is_in_lignes(&scalar.text));
    let width = width.and_then(|node| reading.length(node, "‘width’"));
    let length = fields.take("length", reading);
    let length = length.and_then(|node| reading.positive(node, "‘length’", false));
    let count = fields.take("count", reading);
    let count = count.and_then(|node| reading.count(node, "‘count’", 1..=1000));
    let small_part = fields.take("small part", reading);
    let small_part = small_part.and_then(|node| reading.yes_no(node, "‘small part’"));
    let note = optional(&mut fields, "note", reading);
    fields.finish(reading);
    Some(Trim {
        key,
        name,
        width,
        lignes,
        length,
        count: count.unwrap_or(1),
        small_part: small_part.unwrap_or(false),
        note,
        place: entry.place.clone(),
    })
}

/// The design's `tools`, in order.
pub(super) fn tools(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<String> {
    let Some(node) = fields.take("tools", reading) else {
        return Vec::new();
    };
    let items = reading.list(node);
    items
        .into_iter()
        .filter_map(|item| reading.text(item, "a tool"))
        .collect()
}
