//! The table of pieces that are drawn anew: how far each moved, where, and in figures. Lengths in mm.

use super::{Told, size_of, title};
use crate::design::{LengthStyle, printed};
use crate::edition::compare::PieceChange;
use crate::edition::record::GRAIN;
use crate::language::Places;
use serde_json::{Value, json};

/// A piece that is drawn anew: how far it moved, where, and its figures.
pub(super) fn row(piece: &PieceChange, told: &Told<'_>) -> Value {
    let (words, style) = (&told.design.words, told.design.lengths);
    let moved = match &piece.moved {
        Some(moved) => length(moved.mm, style),
        None => words.say("compared.only", &[("what", &what(piece, told))]),
    };
    let at = piece.moved.as_ref();
    let figures = [
        lengths(piece, told),
        allowances(piece, told),
        turn(piece, told),
    ];
    json!({
        "piece": title(piece, told),
        "size": size_of(piece, told),
        "moved": moved,
        "at": at.map(|moved| words.named("edges", &moved.edge)),
        "edges": figures.concat(),
    })
}

/// What changed of a piece whose seam line did not move.
fn what(piece: &PieceChange, told: &Told<'_>) -> String {
    let words = &told.design.words;
    let widened = piece.edges.iter().any(|edge| {
        let allowance = |of: Option<[f64; 2]>| of.map(|[_, allowance]| allowance);
        allowance(edge.old) != allowance(edge.new)
    });
    let others = piece.marks.iter().any(|mark| mark != GRAIN) || piece.turned.is_none();
    let all = [
        (piece.cut_line > 0.0 && widened, "compared.allowance"),
        (piece.cut_line > 0.0 && !widened, "compared.cut line"),
        (piece.turned.is_some(), "compared.grain"),
        (!piece.marks.is_empty() && others, "compared.marks"),
    ];
    let told = all.into_iter().filter(|(differs, _)| *differs);
    words.joined(&told.map(|(_, key)| words.get(key)).collect::<Vec<_>>())
}

/// A length to a tenth of a millimetre however long it is, in the forms that the design prints.
fn length(mm: f64, style: LengthStyle) -> String {
    let metric = style.figures(&format!("{mm:.1} mm"));
    match printed::inch(mm, style.denominator) {
        None => metric,
        Some(inch) => style.pair(&metric, &inch),
    }
}

/// The edges whose lengths differ in print.
fn lengths(piece: &PieceChange, told: &Told<'_>) -> Vec<String> {
    let (words, style) = (&told.design.words, told.design.lengths);
    let lengths = piece.edges.iter().filter_map(|change| {
        let [old, new] = [change.old?[0], change.new?[0]];
        let (old, new) = (length(old, style), length(new, style));
        let edge = words.named("edges", &change.edge);
        let places: Places<'_> = &[("edge", &edge), ("old", &old), ("new", &new)];
        (old != new).then(|| words.say("compared.edge", places))
    });
    lengths.collect()
}

/// The seam allowances that differ in print, old and new: one line for all edges that changed alike, which
/// are named unless they are all that the piece has.
fn allowances(piece: &PieceChange, told: &Told<'_>) -> Vec<String> {
    let words = &told.design.words;
    let figures = |mm: f64| match mm > 0.0 {
        true => printed::both(mm, told.design.lengths),
        false => words.get("compared.no allowance").to_string(),
    };
    let mut alike: Vec<([String; 2], Vec<&str>)> = Vec::new();
    for change in &piece.edges {
        let (Some([_, old]), Some([_, new])) = (change.old, change.new) else {
            continue;
        };
        let pair = [figures(old), figures(new)];
        if pair[0] == pair[1] {
            continue;
        }
        let edge = words.named("edges", &change.edge);
        match alike.iter_mut().find(|(other, _)| *other == pair) {
            Some((_, edges)) => edges.push(edge),
            None => alike.push((pair, vec![edge])),
        }
    }
    let all = edge_count(piece, told);
    let line = |([old, new], edges): &([String; 2], Vec<&str>)| {
        let places: Places<'_> = &[("old", old), ("new", new), ("edges", &words.joined(edges))];
        match edges.len() == all {
            true => words.say("compared.allowance all", places),
            false => words.say("compared.allowance at", places),
        }
    };
    alike.iter().map(line).collect()
}

fn edge_count(piece: &PieceChange, told: &Told<'_>) -> usize {
    let mut sizes = told.new.sizes.iter();
    let size = sizes.find(|size| size.size == piece.size);
    let mut pieces = size.into_iter().flat_map(|size| &size.pieces);
    let found = pieces.find(|other| other.piece == piece.piece);
    found.map_or(0, |piece| piece.edges.len())
}

/// By how many degrees the grain line turned.
fn turn(piece: &PieceChange, told: &Told<'_>) -> Vec<String> {
    let by = piece.turned.map(|degrees| {
        let whole = format!("{:.1}", degrees.abs());
        let figures = format!("{}°", whole.trim_end_matches(".0"));
        told.design.lengths.figures(&figures)
    });
    let say = |by: String| told.design.words.say("compared.turned", &[("by", &by)]);
    by.map(say).into_iter().collect()
}
