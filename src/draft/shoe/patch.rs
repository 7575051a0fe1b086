//! The two patches of an upper as they lie on the shoe's form: their edges, and a mesh of each.
//! Millimetres, the foot's axes.

use super::chart::{Chart, Layout};
use super::shoe_form::ShoeForm;
use super::topline::FormPoint;
use crate::foot::form::FootSide;
use crate::geometry::mesh::{
    Mesh, MeshFault, Spacing, delaunay_flips, halton, scatter, triangulate,
};
use crate::geometry::space::Vec3;
use kurbo::Point;

/// A piece of the upper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum UpperPiece {
    /// From the side seams round the toe.
    Toe,
    /// From the side seams round the heel.
    Heel,
}

impl UpperPiece {
    /// `toe` or `heel`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            UpperPiece::Toe => "toe",
            UpperPiece::Heel => "heel",
        }
    }

    fn layout(self) -> Layout {
        match self {
            UpperPiece::Toe => Layout::Plan,
            UpperPiece::Heel => Layout::Wall,
        }
    }
}

/// An edge of a piece of the upper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum UpperEdge {
    Sole,
    Inner,
    Topline,
    Outer,
}

impl UpperEdge {
    /// The edges of a piece in the order in which they go round it, clockwise seen from outside with
    /// the sole below for the heel, and below on the page for the toe.
    pub(super) fn around(piece: UpperPiece) -> [UpperEdge; 4] {
        match piece {
            UpperPiece::Toe => [Self::Sole, Self::Outer, Self::Topline, Self::Inner],
            UpperPiece::Heel => [Self::Sole, Self::Inner, Self::Topline, Self::Outer],
        }
    }

    /// Its name on the piece's outline.
    pub(super) fn name(self) -> &'static str {
        match self {
            UpperEdge::Sole => "sole edge",
            UpperEdge::Inner => "inner side",
            UpperEdge::Topline => "topline",
            UpperEdge::Outer => "outer side",
        }
    }
}

/// One edge of a meshed patch.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct MeshedEdge {
    pub(super) edge: UpperEdge,
    /// Its points in the mesh, from end to end.
    pub(super) points: Vec<usize>,
    /// How far each of them is along the edge as it lies on the form, mm: true arc length, not that
    /// of the mesh's chords.
    pub(super) along: Vec<f64>,
}

impl MeshedEdge {
    /// Length on the form, mm.
    pub(super) fn length(&self) -> f64 {
        self.along[self.along.len() - 1]
    }

    /// Lengths of its steps, mm.
    pub(super) fn steps(&self) -> impl Iterator<Item = f64> {
        self.along.windows(2).map(|w| w[1] - w[0])
    }
}

/// A patch with its mesh.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct MeshedPatch {
    pub(super) piece: UpperPiece,
    pub(super) mesh: Mesh,
    /// In the order of [`UpperEdge::around`].
    pub(super) edges: [MeshedEdge; 4],
}

impl MeshedPatch {
    pub(super) fn edge(&self, edge: UpperEdge) -> &MeshedEdge {
        let at = UpperEdge::around(self.piece)
            .iter()
            .position(|e| *e == edge);
        &self.edges[at.unwrap_or(0)]
    }
}

/// A place on the surface.
type Place = (FootSide, f64, f64);

/// Distances along the boundary, and from it to the points inside, as shares of the mesh's fineness.
const STEP: f64 = 0.8;
const APART: f64 = 0.8;
const FROM_EDGE: f64 = 0.62;

/// Points of the sole's edge on each side of a patch.
const SOLE_POINTS: usize = 300;

/// Places tried for every point that there is room for.
const TRIES: f64 = 5.0;

/// Meshes of an upper.
pub(super) struct Mesher<'a> {
    form: &'a ShoeForm,
    chart: Chart<'a>,
    /// About how far points lie apart, mm.
    fineness: f64,
}

impl<'a> Mesher<'a> {
    pub(super) fn new(form: &'a ShoeForm, fineness: f64) -> Self {
        Self {
            form,
            chart: Chart::new(&form.surface),
            fineness,
        }
    }

    /// The mesh of one piece.
    pub(super) fn mesh(&self, piece: UpperPiece) -> Result<MeshedPatch, MeshFault> {
        let mut points: Vec<Vec3> = Vec::new();
        let mut charted: Vec<Point> = Vec::new();
        let mut edges = Vec::new();
        for edge in UpperEdge::around(piece) {
            edges.push(self.boundary(piece, edge, &mut points, &mut charted));
        }
        let ring = points.len();
        let count = edges.len();
        for (index, edge) in edges.iter_mut().enumerate() {
            // Each edge ends where the next begins.
            let next = edge.points[edge.points.len() - 1] + 1;
            edge.points.push(if index + 1 == count { 0 } else { next });
        }
        let candidates = self.candidates(piece);
        let places: Vec<Vec3> = candidates
            .iter()
            .map(|(side, distance, place)| self.form.point(*side, *distance, *place))
            .collect();
        let spacing = Spacing {
            apart: APART * self.fineness,
            from_fixed: FROM_EDGE * self.fineness,
        };
        for index in scatter(&places, &points, spacing) {
            let (side, distance, place) = candidates[index];
            points.push(places[index]);
            charted.push(self.chart.at(piece.layout(), side, distance, place));
        }
        let mut mesh = Mesh {
            triangles: triangulate(&charted, ring)?,
            points,
        };
        delaunay_flips(&mut mesh);
        let edges = edges.try_into().map_err(|_| MeshFault::Outside)?;
        Ok(MeshedPatch { piece, mesh, edges })
    }

    /// Adds the points of an edge but its last one, and tells where they lie.
    fn boundary(
        &self,
        piece: UpperPiece,
        edge: UpperEdge,
        points: &mut Vec<Vec3>,
        charted: &mut Vec<Point>,
    ) -> MeshedEdge {
        let dense = self.dense(piece, edge);
        let at = |(side, distance, place): &Place| self.form.point(*side, *distance, *place);
        let in_space: Vec<Vec3> = dense.iter().map(at).collect();
        let mut along = vec![0.0];
        for pair in in_space.windows(2) {
            along.push(along[along.len() - 1] + pair[0].distance(pair[1]));
        }
        let whole = along[along.len() - 1];
        let mut count = ((whole / (STEP * self.fineness)).round() as usize).clamp(4, 2000);
        if edge == UpperEdge::Sole {
            count += count % 2;
        }
        let first = points.len();
        let in_chart: Vec<Point> = dense
            .iter()
            .map(|(side, distance, place)| self.chart.at(piece.layout(), *side, *distance, *place))
            .collect();
        let wanted = |i: usize| whole * i as f64 / count as f64;
        for i in 0..count {
            let above = along
                .partition_point(|a| *a <= wanted(i))
                .clamp(1, along.len() - 1);
            let span = (along[above] - along[above - 1]).max(1e-300);
            let share = (wanted(i) - along[above - 1]) / span;
            points.push(in_space[above - 1].lerp(in_space[above], share));
            charted.push(in_chart[above - 1].lerp(in_chart[above], share));
        }
        MeshedEdge {
            edge,
            points: (first..first + count).collect(),
            along: (0..=count).map(wanted).collect(),
        }
    }

    /// An edge as many places close together.
    fn dense(&self, piece: UpperPiece, edge: UpperEdge) -> Vec<Place> {
        let seam = |side: FootSide| {
            let points = &self.form.side_seams[side as usize].points;
            points.iter().map(move |p| (side, p.distance, p.place))
        };
        let rising = match piece {
            UpperPiece::Toe => FootSide::Outer,
            UpperPiece::Heel => FootSide::Inner,
        };
        match edge {
            UpperEdge::Sole => self.dense_sole(piece),
            UpperEdge::Topline => {
                let mut first = self.dense_topline(piece, rising);
                let mut second = self.dense_topline(piece, other(rising));
                match piece {
                    // Both begin on the ridge at the throat.
                    UpperPiece::Toe => first.reverse(),
                    // Both end at the back of the heel.
                    UpperPiece::Heel => second.reverse(),
                }
                first.extend(second.into_iter().skip(1));
                first
            }
            UpperEdge::Inner | UpperEdge::Outer => {
                let side = if edge == UpperEdge::Inner {
                    FootSide::Inner
                } else {
                    FootSide::Outer
                };
                let mut places: Vec<Place> = seam(side).collect();
                if side != rising {
                    places.reverse();
                }
                places
            }
        }
    }

    /// The sole's edge: of the toe piece from the inner mark round the toe, of the heel piece from
    /// the outer mark round the heel.
    fn dense_sole(&self, piece: UpperPiece) -> Vec<Place> {
        let mark = |side: FootSide| self.form.side_seams[side as usize].sole().distance;
        let (first, middle): (FootSide, fn(&ShoeForm, FootSide) -> f64) = match piece {
            UpperPiece::Toe => (FootSide::Inner, |_, _| 0.0),
            UpperPiece::Heel => (FootSide::Outer, |form, side| form.surface.edge.length(side)),
        };
        let run = |side: FootSide, from: f64, to: f64| {
            let at = move |i: usize| from + (to - from) * i as f64 / (SOLE_POINTS - 1) as f64;
            (0..SOLE_POINTS).map(move |i| (side, at(i), 0.0))
        };
        let second = other(first);
        run(first, mark(first), middle(self.form, first))
            .chain(run(second, middle(self.form, second), mark(second)).skip(1))
            .collect()
    }

    /// One side's part of the topline: of the toe piece from the throat to the seam, of the heel
    /// piece from the seam to the back of the heel.
    fn dense_topline(&self, piece: UpperPiece, side: FootSide) -> Vec<Place> {
        let seam = self.form.side_seams[side as usize].top();
        let line = self.form.toplines[side as usize].iter();
        let place = |p: &FormPoint| (side, p.distance, p.place);
        let end = place(&seam);
        match piece {
            UpperPiece::Toe => {
                let before = line.filter(|p| p.distance < seam.distance - 1e-9);
                before.map(place).chain([end]).collect()
            }
            UpperPiece::Heel => {
                let behind = line.filter(|p| p.distance > seam.distance + 1e-9);
                [end].into_iter().chain(behind.map(place)).collect()
            }
        }
    }

    /// Places all over the piece, evenly enough.
    fn candidates(&self, piece: UpperPiece) -> Vec<Place> {
        let mut places = Vec::new();
        for side in FootSide::BOTH {
            let seam = &self.form.side_seams[side as usize];
            let (sole, top) = (seam.sole(), seam.top());
            let highest = self.chart.share(side, top.distance, top.place);
            let back = self.form.surface.edge.length(side);
            let (from, to) = match piece {
                UpperPiece::Toe => (0.0, sole.distance.max(top.distance)),
                UpperPiece::Heel => (sole.distance.min(top.distance), back),
            };
            let throat = self.form.toplines[side as usize][0].distance;
            let rise = self.form.surface.height(self.form.cut.throat).max(1.0);
            let room = (to - from) * rise / (APART * self.fineness).powi(2);
            let tries = (TRIES * room).clamp(200.0, 60_000.0) as usize;
            for (across, up) in (0..tries).map(halton) {
                let distance = from + (to - from) * across;
                let top_here = if distance <= throat {
                    1.0
                } else {
                    self.form.topline_place(side, distance)
                };
                let limit = self.chart.share(side, distance, top_here);
                let share = up;
                let lean = (share / highest.max(1e-9)).min(1.0);
                let seam_here = sole.distance + (top.distance - sole.distance) * lean;
                let within = match piece {
                    UpperPiece::Toe => distance < seam_here,
                    UpperPiece::Heel => distance > seam_here,
                };
                if within && share < limit {
                    places.push((side, distance, self.chart.place(side, distance, share)));
                }
            }
        }
        // Both sides take turns, so that neither crowds the other at the middle.
        let middle = places.iter().position(|p| p.0 == FootSide::Outer);
        let outer = places.split_off(middle.unwrap_or(places.len()));
        interleaved(places, outer)
    }
}

fn interleaved(first: Vec<Place>, second: Vec<Place>) -> Vec<Place> {
    let mut all = Vec::with_capacity(first.len() + second.len());
    let (mut first, mut second) = (first.into_iter(), second.into_iter());
    loop {
        let (a, b) = (first.next(), second.next());
        if a.is_none() && b.is_none() {
            return all;
        }
        all.extend(a);
        all.extend(b);
    }
}

fn other(side: FootSide) -> FootSide {
    match side {
        FootSide::Inner => FootSide::Outer,
        FootSide::Outer => FootSide::Inner,
    }
}
