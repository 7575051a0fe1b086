//! The drawings of the change sheet: old against new, as large as they find room. Lengths in mm.

use super::{Room, Told, has_row, place_of, size_of, title};
use crate::edition::compare::PieceChange;
use crate::edition::overlay::{drawing, overlaid};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Scales at which the pieces are drawn: the first that fits. Only a piece by itself is drawn at one of
/// the last.
const SCALES: [f64; 5] = [1.0, 0.75, 0.5, 0.35, 0.2];
const OF_SEVERAL: usize = 3;

/// Width of the drawings' room, mm: that of the text.
const WIDTH: f64 = 162.0;

/// Gap between drawings, and room for the words below each, mm.
const GAP: f64 = 8.0;
const CAPTION: f64 = 9.0;

/// A drawing needs room for its words, mm.
const LEAST: f64 = 30.0;

type Drawn = (Vec<Value>, BTreeMap<String, Vec<u8>>, f64);

/// Each piece that moved so far that it is seen, in the size in which it moved most. Where not all find
/// room at half their size, those that moved least are left out.
pub(super) fn drawings(told: &Told<'_>, room: Room) -> Drawn {
    let mut most: Vec<&PieceChange> = Vec::new();
    let seen = |piece: &&PieceChange| piece.is_shown() && has_row(piece);
    for piece in told.comparison.pieces.iter().filter(seen) {
        match most.iter_mut().find(|known| known.piece == piece.piece) {
            Some(known) if piece.most() > known.most() => *known = piece,
            Some(_) => {}
            None => most.push(piece),
        }
    }
    most.sort_by(|a, b| b.most().total_cmp(&a.most()));
    while !most.is_empty() {
        let scales = if most.len() > 1 {
            &SCALES[..OF_SEVERAL]
        } else {
            &SCALES[..]
        };
        let found = scales
            .iter()
            .find_map(|scale| drawn_at(*scale, &most, told, room));
        if let Some(found) = found {
            return found;
        }
        most.pop();
    }
    (Vec::new(), BTreeMap::new(), 1.0)
}

/// The drawings at one scale, in the order of the pieces; `None` if they do not fit.
fn drawn_at(scale: f64, pieces: &[&PieceChange], told: &Told<'_>, room: Room) -> Option<Drawn> {
    let mut pieces = pieces.to_vec();
    pieces.sort_by_key(|piece| place_of(piece, told));
    let of = |change: &&PieceChange| overlaid((told.old, told.new), change, scale);
    let drawn: Vec<_> = pieces.iter().filter_map(of).collect();
    let sizes = drawn
        .iter()
        .map(|one| [one.room.width().max(LEAST), one.room.height()]);
    if drawn.len() < pieces.len() || height(sizes) > room.height {
        return None;
    }
    let mut files = BTreeMap::new();
    let mut entries = Vec::new();
    for (at, (change, one)) in pieces.iter().zip(&drawn).enumerate() {
        let path = format!("changes/{}.svg", at + 1);
        let shown = (&*format!("/{path}"), one.room.width(), one.room.height());
        entries.push(entry(change, told, shown));
        files.insert(path, drawing(one));
    }
    Some((entries, files, scale))
}

/// Height of drawings of these sizes in rows, mm.
fn height(sizes: impl Iterator<Item = [f64; 2]>) -> f64 {
    let (mut x, mut y, mut high) = (0.0, 0.0, 0.0_f64);
    for [width, tall] in sizes {
        if width > WIDTH {
            return f64::INFINITY;
        }
        if x > 0.0 && x + width > WIDTH {
            (x, y, high) = (0.0, y + high + GAP, 0.0);
        }
        x += width + GAP;
        high = high.max(tall + CAPTION);
    }
    y + high
}

fn entry(change: &PieceChange, told: &Told<'_>, (svg, width, height): (&str, f64, f64)) -> Value {
    let words = &told.design.words;
    let (name, size) = (
        title(change, told),
        words.size_inside(&size_of(change, told)),
    );
    let alt = match &change.moved {
        Some(moved) => {
            let by = told.design.lengths.figures(&format!("{:.1} mm", moved.mm));
            let edge = words.named("edges", &moved.edge);
            let places: crate::language::Places<'_> = &[
                ("piece", &name),
                ("size", &size),
                ("length", &by),
                ("edge", &edge),
            ];
            words.say("compared.alt", places)
        }
        None => words.say("compared.alt alone", &[("piece", &name), ("size", &size)]),
    };
    json!({
        "svg": svg, "alt": alt, "width": width, "height": height, "room": width.max(LEAST),
        "piece": name, "size": size,
    })
}
