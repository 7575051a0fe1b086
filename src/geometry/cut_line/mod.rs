//! The cut line: a seam line moved outward by an allowance that may differ from edge to edge, with
//! a chosen treatment at each corner. Millimetres, y down, clockwise.
//!
//! How it is made. Each edge's true parallel curve is drawn (`parallel`); where the outline turns
//! outward the chosen corner is put in (`corner`, `fold`); where it turns inward the raw ring
//! goes back through the corner itself, and where an edge is hollow and bent more tightly than its
//! allowance, along its evolute. The raw ring is then the boundary of the piece plus one
//! strip per edge plus one patch per corner, each counted positively, so that everything with a
//! winding number above zero is cloth, and the outer boundary of that is the cut line (`clean`).
//! What an allowance has swallowed is looked for afterwards (`swallowed`).

pub(super) mod clean;
mod corner;
mod fold;
mod hook;
mod parallel;
pub(super) mod ring;
pub(super) mod spikes;
mod swallowed;
mod trim;

#[cfg(test)]
mod tests;

use super::outline::Outline;
use super::runs_back::runs_back;
use super::winding;
use kurbo::{BezPath, ParamCurveNearest, Point, Shape};
use ring::{Seam, Strand};

/// What the allowance does at the corner where one edge ends and the next begins.
///
/// The treatment is for corners that turn outward by a degree or more. Where the outline turns
/// inward the two cut lines simply meet; where it runs on smoothly they run on, with a step square
/// to the seam line if the allowances differ. Where the wider of two unequal allowances would have
/// to be cut down for the two cut lines to meet, it ends square to its own seam line at the corner
/// instead. Beside an edge without allowance (a fold, a raw edge) the neighbour's allowance ends on
/// that edge's line run on, level with it, so that nothing stands out beyond a fold and none of the
/// allowance is missing where the fold is opened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corner {
    /// The two cut lines run on until they meet, but no further from the corner than `limit` times
    /// the larger allowance; beyond that the point is cut off square to its bisector.
    Mitre {
        /// Largest reach as a multiple of the larger allowance, at least 1.
        limit: f64,
    },
    /// An arc about the corner, with the larger allowance as its radius.
    Round,
    /// A straight line between the ends of the two cut lines; beside an edge without allowance,
    /// square to that edge's line.
    Chamfer,
    /// Both cut lines run on straight until they meet, but no further past the corner than the
    /// other's width, where each allowance ends square to its own seam line. Beside an edge without
    /// allowance the neighbour's cut line runs on to that edge's line, but no further past the corner
    /// than its own width, as it would on the opened fold.
    Square,
    /// The edge whose allowance is turned in is this corner's *hem*: the neighbour's cut line,
    /// inside the hem's allowance, is mirrored about the hem's stitching line, so that the turned
    /// hem lies level with the neighbour's cut edge. A corner so sharp that the mirrored line would
    /// reach further than [`FOLD_REACH`] times the larger allowance is mitred.
    Folded {
        /// Whether the edge that begins at the corner is the hem (else the one that ends there).
        hem_begins: bool,
    },
}

/// Limit of the mitres that pressfoot sets on its own account: at corners inside an edge, and where
/// a folded corner cannot be made. Four allowances reach a corner of 29 degrees.
pub const MITRE_LIMIT: f64 = 4.0;

/// How far from its corner a folded corner, or a neighbour's allowance cut off at an edge without
/// allowance, may reach or be cut back, as a multiple of the larger allowance. Larger values make
/// long horns at sharp corners; smaller ones refuse corners that can be sewn.
pub const FOLD_REACH: f64 = 4.0;

/// Why no cut line could be made.
#[derive(Debug, Clone, PartialEq)]
pub enum CutFault {
    /// The counts of edges, allowances and corners differ.
    Mismatch,
    /// An allowance is negative or not finite.
    BadAllowance,
    /// The allowance of edge `edge` swallows a corner or a hollow near `at`.
    Swallowed {
        /// Name of the edge.
        edge: String,
        /// Near this point, mm.
        at: Point,
    },
    /// Nothing came out, or a line that crosses itself or runs back on itself (should not happen for
    /// an outline that does neither).
    Nothing,
}

/// The cut line of `outline`: closed, clockwise on the page, never crossing itself and never running
/// back on itself.
///
/// `allowances[i]` (mm, ≥ 0) belongs to edge `i`; `corners[i]` is the corner at which edge `i`
/// begins. Corners inside an edge are mitred up to [`MITRE_LIMIT`]. `tolerance` (mm) bounds the
/// distance between the curve returned and the true parallel curve; straight stretches stay lines,
/// and along an edge without allowance the cut line is the seam line itself.
///
/// Where the outline turns inward, some of the cut line at its full distance is always lost: the
/// two cut lines meet before they reach the corner. That is no fault as long as they meet. It is
/// one ([`CutFault::Swallowed`]) when a whole edge has no cut line left, or when the cut line jumps
/// over a stretch that turns outward by more than 60 degrees in all: a notch, a slit or a hollow
/// has then closed up, and the buyer could not cut it; or when some of the piece itself lies outside, because
/// the end of an allowance was cut back along an edge without one that bends.
///
/// # Errors
/// See [`CutFault`].
pub fn cut_line(
    outline: &Outline,
    allowances: &[f64],
    corners: &[Corner],
    tolerance: f64,
) -> Result<BezPath, CutFault> {
    let edges = outline.edges();
    if edges.len() != allowances.len() || edges.len() != corners.len() {
        return Err(CutFault::Mismatch);
    }
    if allowances.iter().any(|a| !(a.is_finite() && *a >= 0.0)) {
        return Err(CutFault::BadAllowance);
    }
    let seams: Vec<Seam> = edges
        .iter()
        .zip(allowances)
        .enumerate()
        .map(|(edge, (e, allowance))| Seam {
            segments: e.segments(),
            allowance: *allowance,
            edge,
        })
        .collect();
    let tolerance = tolerance.max(1e-6);
    let raw = spikes::without_spikes(ring::parallel_ring(&seams, corners, tolerance));
    let is_ready = |ring: &[Strand]| {
        let path = ring::path(ring);
        (winding::crossing(&path).is_none() && runs_back(&path).is_none()).then_some(path)
    };
    let swallowed = |(edge, at): (usize, Point)| CutFault::Swallowed {
        edge: edges[edge].name.clone(),
        at,
    };
    let simple = clean::is_simple(&raw).then(|| is_ready(&raw)).flatten();
    let (ring, path) = if let Some(path) = simple {
        (raw, path)
    } else {
        let largest = clean::outer_rings(&raw, |winding| winding > 0)
            .into_iter()
            .max_by(|a, b| area(a).total_cmp(&area(b)))
            .ok_or(CutFault::Nothing)?;
        if let Some(lost) = swallowed::swallowed(&seams, &raw, &largest, tolerance) {
            return Err(swallowed(lost));
        }
        let largest = spikes::without_spikes(largest);
        let path = is_ready(&largest).ok_or(CutFault::Nothing)?;
        (largest, path)
    };
    match swallowed::uncovered(&seams, &ring, tolerance) {
        Some(lost) => Err(swallowed(lost)),
        None => Ok(path),
    }
}

/// The edge of `outline` that lies nearest to `point`; the first of several equally near.
pub fn edge_of(outline: &Outline, point: Point) -> usize {
    let mut best = (f64::INFINITY, 0);
    for (index, edge) in outline.edges().iter().enumerate() {
        for segment in edge.segments() {
            let distance = segment.nearest(point, 1e-9).distance_sq;
            if distance < best.0 {
                best = (distance, index);
            }
        }
    }
    best.1
}

fn area(strands: &[Strand]) -> f64 {
    ring::path(strands).area()
}
