//! What is told of a piece when it is clicked: its edges, seams, notches and cuts in every size, as they
//! are computed. Lengths as the design prints them.

use crate::design::{Design, printed};
use crate::geometry::curve;
use crate::geometry::outline::LENGTH_TOLERANCE;
use crate::piece::{Piece, SizedPieces, WalkedSeam};
use kurbo::Shape;
use serde_json::{Map, Value, json};

/// All pieces of a design by key, each with its sizes.
pub(super) fn facts(design: &Design, sizes: &[SizedPieces]) -> Value {
    let mut all = Map::new();
    for spec in &design.pieces {
        let made = sizes.iter().filter_map(|sized| {
            let piece = sized.pieces.iter().find(|piece| piece.key == spec.key)?;
            Some((sized, piece))
        });
        let made: Vec<_> = made.collect();
        let Some((_, first)) = made.first() else {
            continue;
        };
        let sizes: Vec<Value> = made.iter().map(|(s, p)| size(design, s, p)).collect();
        let piece = json!({
            "number": first.number,
            "title": first.title,
            "note": first.note,
            "cuts": cuts(design, first),
            "sizes": sizes,
        });
        all.insert(spec.key.clone(), piece);
    }
    Value::Object(all)
}

fn length(design: &Design, mm: f64) -> String {
    printed::plain(&printed::both(mm, design.lengths))
}

fn cuts(design: &Design, piece: &Piece) -> Vec<Value> {
    let cloth = |key: &str| {
        let found = design.cloth.iter().find(|cloth| cloth.key == key);
        found.map_or(key, |cloth| cloth.name.as_str()).to_string()
    };
    let cut = |cut: &crate::piece::Cut| json!({"cloth": cloth(&cut.material), "count": cut.count, "mirrored": cut.mirrored});
    piece.cuts.iter().map(cut).collect()
}

fn size(design: &Design, sized: &SizedPieces, piece: &Piece) -> Value {
    let edges = piece.outline.edges().iter().zip(&piece.allowances);
    let edges: Vec<Value> = edges
        .map(|(edge, allowance)| {
            let allowance = (*allowance > 1e-9).then(|| length(design, *allowance));
            json!({
                "name": edge.name,
                "length": length(design, edge.length()),
                "allowance": allowance,
            })
        })
        .collect();
    let notches: Vec<Value> = piece
        .notches
        .iter()
        .map(
            |notch| json!({"name": notch.name, "edge": notch.edge, "at": length(design, notch.at)}),
        )
        .collect();
    let seams = sized.seams.iter();
    let seams: Vec<Value> = seams
        .filter_map(|walked| seam(design, sized, piece, walked))
        .collect();
    let extent = piece.cut_line.bounding_box();
    json!({
        "size": sized.size,
        "title": sized.title,
        "wide": length(design, extent.width()),
        "high": length(design, extent.height()),
        "round": length(design, curve::length(&piece.cut_line, LENGTH_TOLERANCE)),
        "edges": edges,
        "notches": notches,
        "seams": seams,
    })
}

/// A seam as it is seen from the piece; `None` if the piece has no part in it.
fn seam(design: &Design, sized: &SizedPieces, piece: &Piece, walked: &WalkedSeam) -> Option<Value> {
    let from = (&walked.from, walked.length_from);
    let to = (&walked.to, walked.length_to);
    let (own, other) = match (from.0.0 == piece.key, to.0.0 == piece.key) {
        (true, _) => (from, to),
        (_, true) => (to, from),
        _ => return None,
    };
    let title = |key: &str| {
        let found = sized.pieces.iter().find(|piece| piece.key == key);
        found.map_or(key, |piece| piece.title.as_str()).to_string()
    };
    Some(json!({
        "name": walked.name,
        "edge": own.0.1,
        "length": length(design, own.1),
        "to": format!("{}, {}", title(&other.0.0), other.0.1),
        "to_length": length(design, other.1),
        "eased_percent": (walked.easing_percent * 10.0).round() / 10.0,
        "gap_mm": (walked.gap * 100.0).round() / 100.0,
    }))
}
