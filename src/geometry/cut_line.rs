//! The cut line: a seam line moved outward by an allowance that may differ from edge to edge, with
//! a chosen treatment at each corner.

use super::outline::Outline;
use kurbo::{BezPath, Point};

/// What the allowance does at the corner where one edge ends and the next begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corner {
    /// The two cut lines run on until they meet, but no further from the corner than `limit` times
    /// the larger allowance; beyond that the point is cut off square to its bisector.
    Mitre {
        /// Largest reach as a multiple of the larger allowance, at least 1.
        limit: f64,
    },
    /// An arc about the corner.
    Round,
    /// A straight line between the ends of the two cut lines.
    Chamfer,
    /// Each allowance ends square to its own seam line, past the corner by the other's width.
    Square,
    /// The edge whose allowance is turned in is this corner's *hem*: the neighbour's cut line,
    /// inside the hem's allowance, is mirrored about the hem's stitching line, so that the turned
    /// hem lies level with the neighbour's cut edge.
    Folded {
        /// Whether the edge that begins at the corner is the hem (else the one that ends there).
        hem_begins: bool,
    },
}

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
    /// Nothing came out (should not happen for an outline that does not cross itself).
    Nothing,
}

/// The cut line of `outline`: closed, clockwise on the page, never crossing itself.
///
/// `allowances[i]` (mm, ≥ 0) belongs to edge `i`; `corners[i]` is the corner at which edge `i`
/// begins. `tolerance` (mm) bounds the distance between the curve returned and the true parallel
/// curve.
///
/// # Errors
/// See [`CutFault`].
pub fn cut_line(
    outline: &Outline,
    allowances: &[f64],
    corners: &[Corner],
    tolerance: f64,
) -> Result<BezPath, CutFault> {
    let _ = (outline, allowances, corners, tolerance);
    Err(CutFault::Nothing)
}
