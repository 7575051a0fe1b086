//! Marks along the seam between upper and sole, on both, and how they walk. Millimetres.

use super::easing::Zone;
use super::flat::FlatPatch;
use super::notch::{NotchedPiece, ShoeNotch};
use super::shoe_form::ShoeForm;
use crate::foot::form::FootSide;

/// A stretch of the seam between two marks, on the sole and on the piece sewn to it.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkStep {
    /// The mark where it begins.
    pub from: &'static str,
    /// The mark where it ends.
    pub to: &'static str,
    /// Length on the sole, mm.
    pub sole: f64,
    /// Length on the piece, mm.
    pub piece: f64,
}

/// A mark on the sole and on the piece sewn to it, mm from the starts of their edges.
struct Mark {
    name: &'static str,
    sole: f64,
    piece: f64,
}

/// The notches of all pieces, and the walk round the sole from its inner side mark over the toe.
pub(super) fn notches(
    form: &ShoeForm,
    zone: Zone,
    toe: &FlatPatch,
    heel: &FlatPatch,
) -> (Vec<ShoeNotch>, Vec<WalkStep>) {
    let mut notches = Vec::new();
    let mut walk = Vec::new();
    for (marks, notched, sole_edge) in [
        (toe_marks(zone, toe), NotchedPiece::Toe, "toe edge"),
        (heel_marks(form, heel), NotchedPiece::Heel, "heel edge"),
    ] {
        // The first and the last mark are the piece's corners.
        for mark in &marks[1..marks.len() - 1] {
            for (piece, edge, distance) in [
                (notched, "sole edge", mark.piece),
                (NotchedPiece::Sole, sole_edge, mark.sole),
            ] {
                notches.push(ShoeNotch {
                    piece,
                    edge,
                    name: mark.name,
                    distance,
                });
            }
        }
        walk.extend(marks.windows(2).map(|w| WalkStep {
            from: w[0].name,
            to: w[1].name,
            sole: w[1].sole - w[0].sole,
            piece: w[1].piece - w[0].piece,
        }));
    }
    (notches, walk)
}

/// Marks of the toe piece, in mm from the inner side mark.
fn toe_marks(zone: Zone, toe: &FlatPatch) -> Vec<Mark> {
    let stations = [
        ("side mark, inner", 0.0),
        ("ease notch, inner", zone.inner),
        ("quarter, inner", 0.5 * (zone.inner + zone.toe)),
        ("centre toe", zone.toe),
        ("quarter, outer", 0.5 * (zone.toe + zone.outer)),
        ("ease notch, outer", zone.outer),
        ("side mark, outer", zone.end),
    ];
    marked(&stations, toe)
}

/// Marks of the heel piece, in mm from the outer side mark.
fn heel_marks(form: &ShoeForm, heel: &FlatPatch) -> Vec<Mark> {
    let edge = &form.surface.edge;
    let side = |side: FootSide| {
        let mark = form.side_seams[side as usize].sole().distance;
        edge.length(side) - mark
    };
    let centre = side(FootSide::Outer);
    let stations = [
        ("side mark, outer", 0.0),
        ("centre heel", centre),
        ("side mark, inner", centre + side(FootSide::Inner)),
    ];
    marked(&stations, heel)
}

fn marked(stations: &[(&'static str, f64)], piece: &FlatPatch) -> Vec<Mark> {
    let mark = |(name, sole): &(&'static str, f64)| Mark {
        name,
        sole: *sole,
        piece: piece.on_sole_edge(*sole),
    };
    stations.iter().map(mark).collect()
}
