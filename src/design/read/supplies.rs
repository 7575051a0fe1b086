//! `cloth`, `trims` and `tools` of a design.

use super::Reading;
use super::fields::Fields;
use super::head::{is_in_lignes, optional};
use super::node::{Entry, Node};
use crate::design::{Cloth, Trim};

/// The design's `cloth`, in order.
pub(super) fn cloth(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<Cloth> {
    let Some(node) = fields.take("cloth", reading) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for entry in reading.named(node, "a cloth") {
        reading.cloths.push(entry.key.clone());
        list.extend(one_cloth(entry, reading));
    }
    list
}

fn one_cloth(entry: &Entry, reading: &mut Reading<'_>) -> Option<Cloth> {
    let key = entry.key.clone();
    let what = format!("cloth ‘{key}’");
    let mut fields = Fields::of(&entry.value, "cloth.CLOTH", what, reading)?;
    let name = optional(&mut fields, "name", reading).unwrap_or_else(|| key.clone());
    let kind = optional(&mut fields, "kind", reading);
    let thickness = length(&mut fields, "thickness", reading);
    let sheet = fields
        .take("sheet", reading)
        .and_then(|node| sheet(node, reading));
    let width = length(&mut fields, "width", reading);
    let note = optional(&mut fields, "note", reading);
    fields.finish(reading);
    Some(Cloth {
        key,
        name,
        kind,
        thickness,
        sheet,
        width,
        note,
    })
}

fn length(fields: &mut Fields<'_>, key: &'static str, reading: &mut Reading<'_>) -> Option<f64> {
    let node = fields.take(key, reading)?;
    reading.length(node, &format!("‘{key}’"))
}

/// `9 in x 12 in`, in mm.
fn sheet(node: &Node, reading: &mut Reading<'_>) -> Option<[f64; 2]> {
    let text = reading.text(node, "‘sheet’")?;
    let Some((across, down)) = text.split_once(" x ").or_else(|| text.split_once('×')) else {
        let message = format!("‘{text}’ is no size of a sheet");
        let remedy = "write both sides, with an x between: 9 in x 12 in";
        reading.error("wrong-type", &node.place, message, remedy);
        return None;
    };
    let mut side = |part: &str| {
        let part = part.trim();
        let before = text.find(part).unwrap_or(0);
        let mut half = node.clone();
        half.place.column += text[..before].chars().count();
        if let super::node::Kind::Scalar(scalar) = &mut half.kind {
            scalar.text = part.to_string();
        }
        reading.length(&half, "a side of the sheet")
    };
    let (across, down) = (side(across), side(down));
    Some([across?, down?])
}

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
