//! The notches of a shoe's parts: where its seams are parted, in a way that can be told from the
//! cut cloth. Millimetres.

use super::shoe::{NotchedPiece, ShoeNotch};
use crate::design::ShoePart;
use crate::geometry::Outline;
use std::collections::BTreeMap;

/// A notch that the draft puts on a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftedNotch {
    /// Its name, e.g. `centre toe`.
    pub name: String,
    /// The edge.
    pub edge: String,
    /// Distance from the start of the edge, mm.
    pub at: f64,
    /// With a centre tick.
    pub centre: bool,
    /// Triangles side by side.
    pub count: u32,
}

/// Triangles at the inner side, so that it is told from the outer one, which has one (common
/// practice: a double notch marks one of two like edges).
const INNER: u32 = 2;

/// Parts of the lining, each with the part of the shoe whose notches it takes.
const LINED: [(ShoePart, ShoePart); 3] = [
    (ShoePart::LiningSole, ShoePart::Sole),
    (ShoePart::ToeLining, ShoePart::Toe),
    (ShoePart::HeelLining, ShoePart::Heel),
];

/// All notches by part: along the sole, at the side marks, at the middle of the side seams. Parts of
/// the lining take them at the same shares of their edges.
pub(super) fn notches_of(
    list: &[ShoeNotch],
    outlines: &BTreeMap<ShoePart, Outline>,
) -> BTreeMap<ShoePart, Vec<DraftedNotch>> {
    let mut notches: BTreeMap<ShoePart, Vec<DraftedNotch>> = BTreeMap::new();
    notches.insert(ShoePart::Sole, side_marks());
    for notch in list {
        notches
            .entry(part_of(notch.piece))
            .or_default()
            .push(DraftedNotch {
                name: notch.name.to_string(),
                edge: notch.edge.to_string(),
                at: notch.distance,
                centre: notch.name.starts_with("centre"),
                count: 1,
            });
    }
    for part in [ShoePart::Toe, ShoePart::Heel] {
        let Some(outline) = outlines.get(&part) else {
            continue;
        };
        for (edge, count) in [("inner side", INNER), ("outer side", 1)] {
            let Some(length) = outline.edge(edge).map(|edge| edge.length()) else {
                continue;
            };
            notches
                .entry(part)
                .or_default()
                .push(plain(edge, edge, 0.5 * length, count));
        }
    }
    for (lining, part) in LINED {
        let (Some(own), Some(outer)) = (outlines.get(&lining), outlines.get(&part)) else {
            continue;
        };
        let scaled = notches.get(&part).into_iter().flatten();
        let scaled: Vec<DraftedNotch> = scaled
            .filter_map(|notch| {
                let length = |outline: &Outline| outline.edge(&notch.edge).map(|e| e.length());
                let share = length(own)? / length(outer)?;
                Some(DraftedNotch {
                    at: notch.at * share,
                    ..notch.clone()
                })
            })
            .collect();
        notches.insert(lining, scaled);
    }
    notches
}

/// The part whose edges a notch of the draft stands on.
fn part_of(piece: NotchedPiece) -> ShoePart {
    match piece {
        NotchedPiece::Toe => ShoePart::Toe,
        NotchedPiece::Heel => ShoePart::Heel,
        NotchedPiece::Sole => ShoePart::Sole,
    }
}

/// Where toe piece and heel piece meet on the sole.
fn side_marks() -> Vec<DraftedNotch> {
    vec![
        plain("side mark, inner", "toe edge", 0.0, INNER),
        plain("side mark, outer", "heel edge", 0.0, 1),
    ]
}

fn plain(name: &str, edge: &str, at: f64, count: u32) -> DraftedNotch {
    DraftedNotch {
        name: name.to_string(),
        edge: edge.to_string(),
        at,
        centre: false,
        count,
    }
}
