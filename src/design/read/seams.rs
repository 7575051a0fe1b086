//! `seams` of a design: which edge is sewn to which.

use super::fields::Fields;
use super::node::{Entry, Kind, Node};
use super::{EdgeUse, Reading};
use crate::design::{EasingSpec, EdgeRef, Quantity, SeamSpec, Stitch};

/// Easing may lie between these, in percent: beyond them an edge is a gathered one, not eased.
const EASING: [f64; 2] = [-50.0, 100.0];

/// The design's `seams`, in order.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<SeamSpec> {
    let Some(node) = fields.take("seams", reading) else {
        return Vec::new();
    };
    let mut seams = Vec::new();
    for entry in reading.named(node, "a seam") {
        seams.extend(seam(entry, reading));
    }
    seams
}

fn seam(entry: &Entry, reading: &mut Reading<'_>) -> Option<SeamSpec> {
    let what = format!("seam ‘{}’", entry.key);
    let mut fields = Fields::of(&entry.value, "seams.SEAM", what, reading)?.at(&entry.place);
    let join = fields.require("join", reading);
    let join = join.and_then(|node| edge(node, reading));
    let to = fields.require("to", reading);
    let to = to.and_then(|node| edge(node, reading));
    let easing = fields.take("easing", reading);
    let easing = easing.and_then(|node| easing_of(node, reading));
    let words = [("opposite", false), ("same", true)];
    let direction = fields.take("direction", reading);
    let direction = direction.and_then(|node| reading.choice(node, "a direction", &words));
    let stitch = fields.take("stitch", reading);
    let stitch = stitch.and_then(|node| reading.choice(node, "a stitch", &Stitch::WORDS));
    fields.finish(reading);
    let (join, to) = (join?, to?);
    Some(SeamSpec {
        name: entry.key.clone(),
        join,
        to,
        easing: easing.unwrap_or(EasingSpec::None),
        same_way: direction.unwrap_or(false),
        stitch,
        place: entry.place.clone(),
    })
}

/// `PIECE.EDGE`; that both exist is checked when all pieces are read.
fn edge(node: &Node, reading: &mut Reading<'_>) -> Option<EdgeRef> {
    if let Kind::List(_) = node.kind {
        let message = "a seam joins one edge to one edge, not to a list";
        let remedy = "write a seam for each, and draw the edge as two edges that meet at a point";
        reading.error("wrong-type", &node.place, message, remedy);
        return None;
    }
    let text = reading.text(node, "an edge")?;
    let Some((piece, edge)) = text.split_once('.') else {
        let message = format!("‘{text}’ names no edge of a piece");
        let remedy = "write the piece, a dot and the edge: toe.sole edge";
        reading.error("unknown-edge", &node.place, message, remedy);
        return None;
    };
    let (piece, edge) = (piece.trim().to_string(), edge.trim().to_string());
    reading.edge_uses.push(EdgeUse {
        piece: piece.clone(),
        edge: edge.clone(),
        place: node.place.clone(),
    });
    let place = node.place.clone();
    Some(EdgeRef { piece, edge, place })
}

/// `none`, `5 %`, `4 % to 8 %`, or a length.
fn easing_of(node: &Node, reading: &mut Reading<'_>) -> Option<EasingSpec> {
    let text = reading.text(node, "‘easing’")?;
    if text == "none" {
        return Some(EasingSpec::None);
    }
    if text == "from the shoe" {
        if reading.shoe.is_none() {
            let message = "‘from the shoe’ has no meaning: the design has no ‘shoe:’";
            let remedy = "write none, a share (5 %), a range (4 % to 8 %) or a length (3 mm)";
            reading.error("no-shoe", &node.place, message, remedy);
        }
        return Some(EasingSpec::FromShoe);
    }
    let percent = |part: &str| {
        let part = part.trim();
        let quantity = Quantity::parse(part).ok().filter(|_| part.ends_with('%'));
        quantity.map(|quantity| 100.0 * quantity.value)
    };
    let (least, most) = match text.split_once(" to ") {
        Some((least, most)) => (percent(least), percent(most)),
        None => (percent(&text), percent(&text)),
    };
    if let (Some(least), Some(most)) = (least, most) {
        if least > most || least < EASING[0] || most > EASING[1] {
            let message = format!("‘{text}’ is no easing that can be sewn");
            let remedy = "write the smaller share first, both between -50 % and 100 %";
            reading.error("out-of-range", &node.place, message, remedy);
        }
        return Some(EasingSpec::Percent(least, most));
    }
    if text.contains(" to ") || Quantity::parse(&text).is_ok_and(|q| q == Quantity::number(q.value))
    {
        let message = format!("‘{text}’ is no easing");
        let remedy = "write none, a share (5 %), a range (4 % to 8 %) or a length (3 mm)";
        reading.error("easing", &node.place, message, remedy);
        return None;
    }
    let formula = reading.formula(node, "‘easing’", crate::design::Dimension::Length)?;
    Some(EasingSpec::Length(formula))
}
