//! A comparison as JSON. Lengths in mm, areas in mm², rounded to 0.001.

use super::{Comparison, HashChange, PieceChange};
use serde_json::{Map, Value, json};

/// All of it. Keys are only ever added.
pub fn to_json(comparison: &Comparison) -> Value {
    let c = comparison;
    let hashes = |list: &[HashChange]| -> Value {
        let of = |h: &HashChange| json!({"name": h.name, "became": h.kind.word()});
        list.iter().map(of).collect()
    };
    let text = c.text.iter().map(|t| {
        json!({
            "language": t.language, "chapter": t.chapter, "step": t.step, "head": t.head,
            "became": t.kind.word(),
        })
    });
    let seams = c.seams.iter().map(|s| {
        json!({
            "size": s.size_title, "seam": s.seam, "old_mm": s.old.map(all), "new_mm": s.new.map(all),
        })
    });
    let lists = c.materials.iter();
    let lists = lists.map(|l| json!({"what": l.what, "old": l.old, "new": l.new}));
    let pages = c.pages.iter();
    let pages = pages.map(|(paper, old, new)| json!({"paper": paper, "old": old, "new": new}));
    let sold = c.sold.iter();
    let sold = sold.map(|(what, old, new)| json!({"what": what, "old": old, "new": new}));
    let plates = c.plates.iter();
    let plates: Map<String, Value> = plates.map(|(p, list)| (p.clone(), json!(list))).collect();
    let renumbered = c.plates_renumbered.iter();
    let renumbered: Map<String, Value> = renumbered
        .map(|(paper, plates)| (paper.clone(), plates.iter().map(pair).collect()))
        .collect();
    json!({
        "sizes": {"added": c.sizes_added, "removed": c.sizes_removed},
        "pieces": c.pieces.iter().map(piece).collect::<Vec<_>>(),
        "seams": seams.collect::<Vec<_>>(),
        "materials": lists.collect::<Vec<_>>(),
        "fit": c.fit,
        "text": text.collect::<Vec<_>>(),
        "pictures": hashes(&c.pictures),
        "look": hashes(&c.look),
        "keys": hashes(&c.keys),
        "sold": sold.collect::<Vec<_>>(),
        "pages": pages.collect::<Vec<_>>(),
        "plates": plates,
        "plates_renumbered": renumbered,
    })
}

fn pair((old, new): &(usize, usize)) -> Value {
    json!({"old": old, "new": new})
}

fn round(value: f64) -> f64 {
    (value * 1e3).round() / 1e3 + 0.0
}

fn all(values: [f64; 2]) -> [f64; 2] {
    values.map(round)
}

fn piece(piece: &PieceChange) -> Value {
    let edges = piece.edges.iter().map(|edge| {
        let part = |of: Option<[f64; 2]>, at: usize| of.map(|of| round(of[at]));
        json!({
            "edge": edge.edge,
            "old_mm": part(edge.old, 0),
            "new_mm": part(edge.new, 0),
            "old_allowance_mm": part(edge.old, 1),
            "new_allowance_mm": part(edge.new, 1),
        })
    });
    let moved = piece.moved.as_ref().map(|moved| {
        json!({
            "most_mm": round(moved.mm),
            "edge": moved.edge,
            "share": round(moved.share),
            "old_point_mm": all([moved.from.x, moved.from.y]),
            "new_point_mm": all([moved.to.x, moved.to.y]),
            "laid_by_mm": all([moved.laid.x, moved.laid.y]),
        })
    });
    json!({
        "size": piece.size,
        "piece": piece.piece,
        "title": piece.title,
        "became": piece.kind.word(),
        "old_size_mm": all(piece.extent[0]),
        "new_size_mm": all(piece.extent[1]),
        "old_area_mm2": round(piece.area[0]),
        "new_area_mm2": round(piece.area[1]),
        "edges": edges.collect::<Vec<_>>(),
        "moved": moved,
        "cut_line_most_mm": round(piece.cut_line),
        "marks": piece.marks,
        "grain_turned_degrees": piece.turned,
        "words": piece.words,
        "cut_otherwise": piece.recut,
        "number": piece.number,
        "old_piece": piece.before.piece,
        "old_number": piece.before.number,
        "old_title": piece.before.title,
        "print_again": piece.is_printed_again(),
    })
}
