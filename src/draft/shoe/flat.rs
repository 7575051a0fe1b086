//! Patches of the upper laid flat: lengths of the edges true, the rest as little changed as can be.
//! Millimetres; y upwards, the toe piece with its toe below, the heel piece with its sole below.

use super::choices::ShoeChoices;
use super::easing::{Easing, Zone, eased_steps};
use super::patch::{MeshedPatch, UpperEdge, UpperPiece};
use super::spreading::Spread;
use crate::geometry::flatten::{HeldEdge, Patch, Strain};
use kurbo::{Affine, Point, Vec2};

/// Edges have their lengths to this, as a share.
const HELD: f64 = 2e-5;

/// Rounds of free flattening before edges are held: the start is conformal, and shrinks the far end.
const FREE_ROUNDS: usize = 10;

/// A flat patch.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FlatPatch {
    pub(super) patch: MeshedPatch,
    /// Where the mesh's points lie.
    pub(super) flat: Vec<Point>,
    /// How each triangle is strained.
    pub(super) strain: Vec<Strain>,
    /// How much larger the cloth is round each point than on the form, as a share.
    pub(super) area_strain: Vec<f64>,
    /// Lengths of the steps of the sole edge, easing included.
    pub(super) sole_steps: Vec<f64>,
    /// Length of the topline, what is gathered included.
    topline: f64,
    /// Lengths of inner and outer side.
    pub(super) sides: [f64; 2],
}

/// Why a patch has no flat piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FlatFault {
    /// The mesh is broken.
    Mesh,
    /// A part of it is folded over.
    Folded,
}

/// Flattens the toe patch: first with the sole edge free, which tells how full the piece wants to
/// be, then with the sole edge eased as the cloth allows. `sides` are the lengths of the side seams.
pub(super) fn flat_toe(
    patch: MeshedPatch,
    sides: [f64; 2],
    zone: Zone,
    choices: &ShoeChoices,
) -> Result<(FlatPatch, Easing), FlatFault> {
    let ready = Patch::new(&patch.mesh).ok_or(FlatFault::Mesh)?;
    let start = start(&ready)?;
    let mut held = held_edges(&patch, sides, None);
    let natural = ready.held(&start, &held, HELD).ok_or(FlatFault::Mesh)?;
    let sole = patch.edge(UpperEdge::Sole);
    let ends = sole.points.windows(2);
    let free: Vec<f64> = ends
        .map(|w| natural[w[0]].distance(natural[w[1]]))
        .collect();
    let (easing, sole_steps) = eased_steps(sole, &free, zone, choices);
    held.extend(held_steps(&sole.points, &sole_steps));
    let flat = ready.held(&natural, &held, HELD).ok_or(FlatFault::Mesh)?;
    Ok((finished(patch, flat, sole_steps, sides)?, easing))
}

/// Flattens the heel patch, all its edges held, and spreads it where its topline will be gathered.
/// `sides` are the lengths of the side seams.
pub(super) fn flat_heel(
    patch: MeshedPatch,
    sides: [f64; 2],
    spread: Option<&Spread>,
) -> Result<FlatPatch, FlatFault> {
    let ready = Patch::new(&patch.mesh).ok_or(FlatFault::Mesh)?;
    let start = start(&ready)?;
    let sole_steps: Vec<f64> = patch.edge(UpperEdge::Sole).steps().collect();
    let held = held_edges(&patch, sides, Some(&sole_steps));
    let mut flat = ready.held(&start, &held, HELD).ok_or(FlatFault::Mesh)?;
    if let Some(spread) = spread {
        flat = spread.opened(&patch, &flat).ok_or(FlatFault::Folded)?;
    }
    let mut piece = finished(patch, flat, sole_steps, sides)?;
    piece.topline += spread.map_or(0.0, |spread| spread.added);
    Ok(piece)
}

fn start(ready: &Patch<'_>) -> Result<Vec<Point>, FlatFault> {
    let conformal = ready.conformal().ok_or(FlatFault::Mesh)?;
    let flat = ready.relaxed(&conformal, FREE_ROUNDS, 1e-4);
    flat.ok_or(FlatFault::Mesh)
}

fn held_steps(points: &[usize], steps: &[f64]) -> Vec<HeldEdge> {
    let held = points.windows(2).zip(steps).map(|(w, length)| HeldEdge {
        ends: [w[0], w[1]],
        length: *length,
    });
    held.collect()
}

/// Topline and sides, and the sole edge if its steps are given.
fn held_edges(patch: &MeshedPatch, sides: [f64; 2], sole: Option<&[f64]>) -> Vec<HeldEdge> {
    let mut held = Vec::new();
    for edge in &patch.edges {
        let scale = match edge.edge {
            UpperEdge::Inner => sides[0] / edge.length(),
            UpperEdge::Outer => sides[1] / edge.length(),
            UpperEdge::Topline => 1.0,
            UpperEdge::Sole => {
                held.extend(
                    sole.map(|s| held_steps(&edge.points, s))
                        .unwrap_or_default(),
                );
                continue;
            }
        };
        let steps: Vec<f64> = edge.steps().map(|step| scale * step).collect();
        held.extend(held_steps(&edge.points, &steps));
    }
    held
}

fn finished(
    patch: MeshedPatch,
    flat: Vec<Point>,
    sole_steps: Vec<f64>,
    sides: [f64; 2],
) -> Result<FlatPatch, FlatFault> {
    let ready = Patch::new(&patch.mesh).ok_or(FlatFault::Mesh)?;
    let strain = ready.strain(&flat);
    // A ratio that is no number is a fold too.
    if !strain.iter().all(|s| s.area_ratio > 0.0) {
        return Err(FlatFault::Folded);
    }
    let area_strain = ready.area_strain_at_points(&strain);
    let mut piece = FlatPatch {
        topline: patch.edge(UpperEdge::Topline).length(),
        patch,
        flat,
        strain,
        area_strain,
        sole_steps,
        sides,
    };
    piece.lay_upright();
    Ok(piece)
}

impl FlatPatch {
    /// The points of an edge.
    pub(super) fn edge_points(&self, edge: UpperEdge) -> Vec<Point> {
        let points = self.patch.edge(edge).points.iter();
        points.map(|i| self.flat[*i]).collect()
    }

    /// The true length of an edge, easing and gathers included, mm.
    pub(super) fn true_length(&self, edge: UpperEdge) -> f64 {
        match edge {
            UpperEdge::Sole => self.sole_steps.iter().sum(),
            UpperEdge::Inner => self.sides[0],
            UpperEdge::Outer => self.sides[1],
            UpperEdge::Topline => self.topline,
        }
    }

    /// The distance along the piece's sole edge of the point that meets `along` on the sole, both in
    /// mm from the edge's start.
    pub(super) fn on_sole_edge(&self, along: f64) -> f64 {
        let sole = self.patch.edge(UpperEdge::Sole);
        let above = sole.along.partition_point(|a| *a <= along);
        let above = above.clamp(1, sole.along.len() - 1);
        let before: f64 = self.sole_steps[..above - 1].iter().sum();
        let step = sole.along[above] - sole.along[above - 1];
        let share = ((along - sole.along[above - 1]) / step).clamp(0.0, 1.0);
        before + share * self.sole_steps[above - 1]
    }

    /// Turns the piece so that its side marks lie level with the origin half way between, the toe
    /// below them and the heel's topline above.
    fn lay_upright(&mut self) {
        let sole = self.edge_points(UpperEdge::Sole);
        let top = self.edge_points(UpperEdge::Topline);
        let (first, last) = (sole[0], sole[sole.len() - 1]);
        let middle = first.midpoint(last);
        let along = (last - first) / (last - first).hypot().max(1e-300);
        let across = Vec2::new(-along.y, along.x);
        let (goal, wanted) = match self.patch.piece {
            UpperPiece::Toe => (sole[sole.len() / 2] - middle, -1.0),
            UpperPiece::Heel => (top[top.len() / 2] - sole[sole.len() / 2], 1.0),
        };
        let sign = if across.dot(goal) < 0.0 { -1.0 } else { 1.0 };
        let up = wanted * sign * across;
        // The turn that brings `up` upright.
        let turn = Affine::new([up.y, up.x, -up.x, up.y, 0.0, 0.0]);
        let upright = turn * Affine::translate(-middle.to_vec2());
        for point in &mut self.flat {
            *point = upright * *point;
        }
    }
}
