//! Every figure computed for a design, as `numbers.json` (schema 1). Lengths in mm and areas in
//! mm², rounded to 1e-6; paths to 1e-4 mm, y down, in the piece's own axes.

use crate::design::{Design, Dimension, LineKind};
use crate::geometry::outline::LENGTH_TOLERANCE;
use crate::geometry::path_text::{path_text, rounded as rounded_coordinate};
use crate::geometry::{curve, outline::Outline};
use crate::piece::{Cut, Mark, MarkKind, Notch, Piece, SizedPieces, WalkedSeam};
use kurbo::{BezPath, Point, Shape};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// Version of the form of `numbers.json`; raised when the meaning of a key changes.
pub const SCHEMA: u32 = 1;

/// What was made of a design on one paper.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PagesFact {
    /// Pages of the booklet, plates included.
    pub pages: usize,
    /// Plates among them.
    pub plates: usize,
    /// Sheets side by side that the widest piece needs; 1 if none is spread.
    pub sheets_across: usize,
    /// Sheets below each other that the highest piece needs; 1 if none is spread.
    pub sheets_down: usize,
    /// Page numbers to print for each size, by its key, in the order of the sizes.
    pub sizes: Vec<(String, Vec<usize>)>,
    /// Width and height of a large sheet, mm; none of a paper printed page by page.
    pub sheet: Option<[f64; 2]>,
}

/// All figures of a design, borrowed from the stages that computed them.
#[derive(Debug, Clone, Copy)]
pub struct Numbers<'a> {
    /// The design.
    pub design: &'a Design,
    /// Its pieces in every size, in the design's order.
    pub sizes: &'a [SizedPieces],
    /// Figures of the foot by size and name, mm.
    pub feet: &'a BTreeMap<String, BTreeMap<String, f64>>,
    /// Values of a shoe drafted from the foot, by size and name, mm.
    pub fits: &'a BTreeMap<String, BTreeMap<String, f64>>,
    /// Lengths that formulas and text may name, by size and name, mm.
    pub values: &'a BTreeMap<String, BTreeMap<String, f64>>,
    /// What to buy and cut, as the stage of materials writes it.
    pub materials: &'a Value,
    /// Pages by paper.
    pub pages: &'a BTreeMap<String, PagesFact>,
}

impl Numbers<'_> {
    /// The content of `numbers.json`.
    pub fn to_value(&self) -> Value {
        let sizes: Map<String, Value> = self
            .sizes
            .iter()
            .map(|size| (size.size.clone(), self.size_value(size)))
            .collect();
        let pages: Map<String, Value> = self
            .pages
            .iter()
            .map(|(paper, fact)| (paper.clone(), pages_value(fact)))
            .collect();
        json!({
            "schema": SCHEMA,
            "design": self.design.key,
            "edition": self.design.edition,
            "draft": self.design.draft,
            "sizes": sizes,
            "materials": all_rounded(self.materials),
            "pages": pages,
        })
    }

    /// The text of `numbers.json`, indented, with a line feed at its end.
    pub fn to_json(&self) -> String {
        format!("{:#}\n", self.to_value())
    }

    /// What the draft of a shoe found, and the corrections it was drafted with.
    fn fit_value(&self, size: &SizedPieces) -> Value {
        let Some(found) = self.fits.get(&size.size) else {
            return json!({});
        };
        let values: Map<String, Value> = found
            .iter()
            .map(|(name, value)| (name.clone(), number(*value)))
            .collect();
        let known = self.design.sizes.iter().find(|s| s.key == size.size);
        let declared = known.map_or("", |s| s.declared.as_str());
        let entries = self.design.fit.iter().filter(|e| e.holds_for(declared));
        let corrections: Vec<Value> = entries
            .map(|entry| {
                let unit = match entry.change.dimension() {
                    Dimension::Angle => "by_degrees",
                    _ => "by_mm",
                };
                json!({
                    "on": entry.on,
                    "change": entry.words(),
                    unit: number(entry.by),
                    "why": entry.why,
                })
            })
            .collect();
        json!({"values_mm": values, "corrections": corrections})
    }

    fn named_values(&self, size: &SizedPieces) -> Value {
        let values = self.values.get(&size.size).into_iter().flatten();
        values
            .map(|(name, value)| (name.clone(), number(*value)))
            .collect::<Map<String, Value>>()
            .into()
    }

    fn size_value(&self, size: &SizedPieces) -> Value {
        let foot: Map<String, Value> = self
            .feet
            .get(&size.size)
            .into_iter()
            .flatten()
            .map(|(name, value)| (name.clone(), number(*value)))
            .collect();
        let pieces: Map<String, Value> = size
            .pieces
            .iter()
            .map(|piece| (piece.key.clone(), piece_value(piece)))
            .collect();
        let seams: Vec<Value> = size.seams.iter().map(seam_value).collect();
        json!({
            "title": size.title,
            "foot": foot,
            "values_mm": self.named_values(size),
            "pieces": pieces,
            "seams": seams,
            "fit": self.fit_value(size),
        })
    }
}

/// A length, area or share rounded to 1e-6; `null` if it is not finite.
fn number(value: f64) -> Value {
    Value::from((value * 1e6).round() / 1e6 + 0.0)
}

/// A tree of values with every number rounded as [`number`] does; whole ones stay whole.
fn all_rounded(value: &Value) -> Value {
    match value {
        Value::Number(found) if found.is_f64() => found.as_f64().map_or(Value::Null, number),
        Value::Array(list) => list.iter().map(all_rounded).collect(),
        Value::Object(map) => {
            let of = |(key, value): (&String, &Value)| (key.clone(), all_rounded(value));
            Value::Object(map.iter().map(of).collect())
        }
        other => other.clone(),
    }
}

fn point(at: Point) -> Value {
    json!([rounded_coordinate(at.x), rounded_coordinate(at.y)])
}

fn piece_value(piece: &Piece) -> Value {
    let edges: Map<String, Value> = piece
        .outline
        .edges()
        .iter()
        .zip(&piece.allowances)
        .map(|(edge, allowance)| {
            let figures = json!({
                "length_mm": number(edge.length()),
                "allowance_mm": number(*allowance),
            });
            (edge.name.clone(), figures)
        })
        .collect();
    let notches: Vec<Value> = piece.notches.iter().map(notch_value).collect();
    let marks: Vec<Value> = piece.marks.iter().map(mark_value).collect();
    let cuts: Vec<Value> = piece.cuts.iter().map(cut_value).collect();
    json!({
        "number": piece.number,
        "title": piece.title,
        "seam_line": seam_line_value(&piece.outline),
        "cut_line": line_value(&piece.cut_line),
        "edges": edges,
        "notches": notches,
        "marks": marks,
        "grain": piece.grain.map(|[from, to]| json!([point(from), point(to)])),
        "fold": piece.fold,
        "cuts": cuts,
    })
}

fn seam_line_value(outline: &Outline) -> Value {
    line_value(&outline.path())
}

fn line_value(path: &BezPath) -> Value {
    let bounds = path.bounding_box();
    let sides = [bounds.x0, bounds.y0, bounds.x1, bounds.y1].map(number);
    json!({
        "perimeter_mm": number(curve::length(path, LENGTH_TOLERANCE)),
        "area_mm2": number(path.area()),
        "bounds_mm": sides,
        "path": path_text(path),
    })
}

fn notch_value(notch: &Notch) -> Value {
    json!({
        "name": notch.name,
        "edge": notch.edge,
        "at_mm": number(notch.at),
        "point_mm": point(notch.point),
        "centre": notch.centre,
        "count": notch.count,
    })
}

fn mark_value(mark: &Mark) -> Value {
    let mut figures = match &mark.kind {
        MarkKind::Hole { at, diameter } => round_mark("hole", *at, *diameter),
        MarkKind::Eyelet { at, diameter } => round_mark("eyelet", *at, *diameter),
        MarkKind::Button { at, diameter } => round_mark("button", *at, *diameter),
        MarkKind::Buttonhole { from, to } => json!({
            "kind": "buttonhole",
            "from_mm": point(*from),
            "to_mm": point(*to),
            "length_mm": number(from.distance(*to)),
        }),
        MarkKind::Line { kind, path } => json!({
            "kind": line_kind(*kind),
            "length_mm": number(curve::length(path, LENGTH_TOLERANCE)),
            "path": path_text(path),
        }),
    };
    if let (Some(words), Value::Object(figures)) = (&mark.words, &mut figures) {
        figures.insert("words".to_string(), Value::from(words.as_str()));
    }
    figures
}

fn line_kind(kind: LineKind) -> &'static str {
    match kind {
        LineKind::Placement => "placement",
        LineKind::Stitching => "stitching",
        LineKind::Fold => "fold",
    }
}

fn round_mark(kind: &str, at: Point, diameter: f64) -> Value {
    json!({ "kind": kind, "at_mm": point(at), "diameter_mm": number(diameter) })
}

fn cut_value(cut: &Cut) -> Value {
    json!({ "material": cut.material, "count": cut.count, "mirrored": cut.mirrored })
}

fn seam_value(seam: &WalkedSeam) -> Value {
    let pairs: Vec<Value> = seam
        .notch_pairs
        .iter()
        .map(|(from, to, apart)| json!({ "from": from, "to": to, "apart_mm": number(*apart) }))
        .collect();
    json!({
        "name": seam.name,
        "from": [seam.from.0, seam.from.1],
        "to": [seam.to.0, seam.to.1],
        "length_from_mm": number(seam.length_from),
        "length_to_mm": number(seam.length_to),
        "easing_percent": number(seam.easing_percent),
        "gap_mm": number(seam.gap),
        "end_angles_deg": seam.end_angles.map(number),
        "notch_pairs": pairs,
    })
}

fn pages_value(fact: &PagesFact) -> Value {
    let of = |(size, pages): &(String, Vec<usize>)| (size.clone(), json!(pages));
    let sizes: Map<String, Value> = fact.sizes.iter().map(of).collect();
    let mut value = json!({
        "pages": fact.pages,
        "plates": fact.plates,
        "sheets_across": fact.sheets_across,
        "sheets_down": fact.sheets_down,
        "sizes": sizes,
    });
    if let Some(sheet) = fact.sheet {
        value["sheet_mm"] = json!(sheet.map(number));
    }
    value
}

#[cfg(test)]
mod tests;
