//! Where the seam line of a piece comes from: exactly one of from, tracing, outline, rectangle, ellipse,
//! drawing, inset, outset.

use super::edges::Edges;
use super::fields::Fields;
use super::node::{Entry, Node};
use super::outlines::{self, Points};
use super::shoe::usual::{EASE, SIDE_MARK};
use super::{Reading, Texts, names};
use crate::design::{Dimension, Formula, ShapeSpec, ShoePart, drawing};
use crate::diagnostic::Place;

/// The keys of the shapes.
const SHAPES: [&str; 8] = [
    "from",
    "tracing",
    "outline",
    "rectangle",
    "ellipse",
    "drawing",
    "inset",
    "outset",
];

/// The shape of the piece called `key`, with what is known of its edges.
pub(super) fn read(
    fields: &mut Fields<'_>,
    key: &str,
    points: &Points,
    reading: &mut Reading<'_>,
) -> Option<(ShapeSpec, Edges)> {
    let mut given: Vec<&Entry> = SHAPES
        .iter()
        .filter_map(|shape| fields.entry(shape))
        .collect();
    given.sort_by_key(|entry| (entry.place.line, entry.place.column));
    let entry = match given.as_slice() {
        [] => {
            let message = format!("{} has no shape", fields.what());
            let remedy = format!("give it one of {}", names::listed(&SHAPES));
            let place = fields.place().clone();
            reading.error("one-way", &place, message, remedy);
            return None;
        }
        [only] => *only,
        [first, others @ ..] => {
            for other in others {
                let message = format!(
                    "{} has two shapes, ‘{}’ and ‘{}’",
                    fields.what(),
                    first.key,
                    other.key
                );
                reading.error("one-way", &other.place, message, "keep one of them");
            }
            return None;
        }
    };
    let node = &entry.value;
    if node.is_null() && entry.key != "tracing" {
        let message = format!("nothing stands after ‘{}:’", entry.key);
        let remedy = "write the value, or take the line away";
        reading.error("empty-value", &entry.place, message, remedy);
        return None;
    }
    match entry.key.as_str() {
        "from" => of_shoe(node, reading),
        "tracing" => tracing(node, key, reading),
        "outline" => outlines::read(node, points, reading),
        "rectangle" => rectangle(node, reading),
        "ellipse" => ellipse(node, reading),
        "drawing" => svg(node, reading),
        "inset" => moved(node, true, reading),
        _ => moved(node, false, reading),
    }
}

/// `shoe.PART`: a piece of the drafted shoe.
fn of_shoe(node: &Node, reading: &mut Reading<'_>) -> Option<(ShapeSpec, Edges)> {
    let text = reading.text(node, "‘from’")?;
    let found = text.strip_prefix("shoe.").map(str::trim);
    let found = found.and_then(|word| ShoePart::ALL.iter().find(|(name, _)| *name == word));
    let Some((_, part)) = found else {
        let options = ShoePart::ALL.map(|(name, _)| format!("shoe.{name}"));
        let options: Vec<&str> = options.iter().map(String::as_str).collect();
        reading.unknown(
            "unknown-word",
            &node.place,
            &text,
            "a piece of a shoe",
            &options,
        );
        return None;
    };
    if reading.shoe.is_none() {
        let message = format!("‘{text}’ is drafted from the foot, but the design has no ‘shoe:’");
        let remedy = "describe the shoe: shoe: {cloth: outer}";
        reading.error("no-shoe", &node.place, message, remedy);
    }
    let shape = ShapeSpec::Shoe {
        part: *part,
        place: node.place.clone(),
    };
    Some((shape, Edges::named(part.edges())))
}

fn tracing(node: &Node, key: &str, reading: &mut Reading<'_>) -> Option<(ShapeSpec, Edges)> {
    let group = "pieces.PIECE.tracing";
    reading.traced.push((key.to_string(), node.place.clone()));
    let mut fields = Fields::of(node, group, "‘tracing’", reading)?;
    let mut length = |key: &'static str, default: &str, reading: &mut Reading<'_>| match fields
        .take(key, reading)
    {
        Some(node) => reading.formula(node, &format!("‘{key}’"), Dimension::Length),
        None => default_formula(default, &node.place, reading),
    };
    let ease = length("ease", EASE, reading);
    let inner_mark = length("inner mark", SIDE_MARK, reading);
    let outer_mark = length("outer mark", SIDE_MARK, reading);
    fields.finish(reading);
    let shape = ShapeSpec::Tracing {
        ease: ease?,
        inner_mark: inner_mark?,
        outer_mark: outer_mark?,
    };
    Some((shape, Edges::named(&["toe edge", "heel edge"])))
}

fn default_formula(text: &str, place: &Place, reading: &mut Reading<'_>) -> Option<Formula> {
    match Formula::parse(text, place) {
        Ok(formula) => Some(formula),
        Err(diagnostic) => {
            reading.diagnostics.push(diagnostic);
            None
        }
    }
}

fn side(fields: &mut Fields<'_>, key: &'static str, reading: &mut Reading<'_>) -> Option<Formula> {
    let node = fields.require(key, reading)?;
    reading.positive(node, &format!("‘{key}’"), false)
}

fn rectangle(node: &Node, reading: &mut Reading<'_>) -> Option<(ShapeSpec, Edges)> {
    let group = "pieces.PIECE.rectangle";
    let mut fields = Fields::of(node, group, "the rectangle", reading)?;
    let width = side(&mut fields, "width", reading);
    let height = side(&mut fields, "height", reading);
    let rounded = fields.take("radius", reading);
    let radius = rounded.and_then(|node| reading.positive(node, "‘radius’", true));
    fields.finish(reading);
    let edges = if rounded.is_some() {
        Edges::named(&[
            "top", "corner 1", "right", "corner 2", "bottom", "corner 3", "left", "corner 4",
        ])
    } else {
        Edges::named(&["top", "right", "bottom", "left"])
    };
    let shape = ShapeSpec::Rectangle {
        width: width?,
        height: height?,
        radius,
    };
    Some((shape, edges))
}

fn ellipse(node: &Node, reading: &mut Reading<'_>) -> Option<(ShapeSpec, Edges)> {
    let group = "pieces.PIECE.ellipse";
    let mut fields = Fields::of(node, group, "the ellipse", reading)?;
    let width = side(&mut fields, "width", reading);
    let height = side(&mut fields, "height", reading);
    fields.finish(reading);
    let shape = ShapeSpec::Ellipse {
        width: width?,
        height: height?,
    };
    Some((shape, Edges::named(&["rim"])))
}

/// `inset` or `outset` of another piece.
fn moved(node: &Node, inward: bool, reading: &mut Reading<'_>) -> Option<(ShapeSpec, Edges)> {
    let (group, what) = if inward {
        ("pieces.PIECE.inset", "the inset")
    } else {
        ("pieces.PIECE.outset", "the outset")
    };
    let mut fields = Fields::of(node, group, what, reading)?;
    let of = fields.require("of", reading);
    let by = fields.require("by", reading);
    fields.finish(reading);
    let by = by.and_then(|node| reading.positive(node, "‘by’", true));
    let of = of?;
    let piece = reading.text(of, "‘of’")?;
    let pieces = reading.piece_keys();
    if !pieces.contains(&piece.as_str()) {
        let remedy = names::suggestion(&piece, &pieces);
        let message = format!("there is no piece ‘{piece}’");
        reading.error("unknown-piece", &of.place, message, remedy);
        return None;
    }
    let by = by?;
    let by = if inward { by } else { by.negated() };
    let edges = Edges::Like(piece.clone());
    let place = of.place.clone();
    let of = piece;
    Some((ShapeSpec::Inset { of, by, place }, edges))
}

fn svg(node: &Node, reading: &mut Reading<'_>) -> Option<(ShapeSpec, Edges)> {
    let group = "pieces.PIECE.drawing";
    let mut fields = Fields::of(node, group, "the drawing", reading)?;
    let file = fields.require("file", reading);
    let id = fields.require("path", reading);
    let named = fields.require("edges", reading);
    fields.finish(reading);
    let edges = named.and_then(|node| svg_edges(node, reading));
    let (file, id) = (file?, id?);
    let name = reading.text(file, "‘file’")?;
    let id = reading.text(id, "‘path’")?;
    let texts = texts(&name, &id, file, reading)?;
    let edges = edges?;
    let known = Edges::Known(edges.clone());
    let shape = ShapeSpec::Svg {
        file: name,
        id,
        edges,
        texts,
        place: file.place.clone(),
    };
    Some((shape, known))
}

fn svg_edges(node: &Node, reading: &mut Reading<'_>) -> Option<Vec<String>> {
    let mut edges: Vec<String> = Vec::new();
    let mut good = true;
    for item in reading.list(node) {
        match outlines::edge_name(item, reading) {
            Some(name) if edges.contains(&name) => {
                let message = format!("two edges are called ‘{name}’");
                reading.error("same-name", &item.place, message, "rename one of them");
                good = false;
            }
            Some(name) => edges.push(name),
            None => good = false,
        }
    }
    good.then_some(edges)
}

/// The drawings' texts; a drawing that cannot be had or lacks the path is reported once.
fn texts(name: &str, id: &str, node: &Node, reading: &mut Reading<'_>) -> Option<Texts> {
    let mut texts = Texts::new();
    let keys: Vec<String> = reading.sizes.iter().map(|size| size.key.clone()).collect();
    let mut good = true;
    let mut seen: Vec<String> = Vec::new();
    for key in keys {
        let path = name.replace("{size}", &key);
        if !good && seen.contains(&path) {
            continue;
        }
        let first = !seen.contains(&path);
        seen.push(path.clone());
        let Some(source) = reading.named_file(&path, &node.place) else {
            good = false;
            continue;
        };
        if first && let Err(diagnostic) = drawing::path(&source, id) {
            reading.diagnostics.push(diagnostic);
            good = false;
        }
        texts.insert(key, source);
    }
    good.then_some(texts)
}
