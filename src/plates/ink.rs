//! What is drawn: ways of drawing a line, in the house style's widths and dashes, and lines and shapes drawn so.
//! Millimetres.

use super::field::flat;
use kurbo::{Affine, BezPath, Line, Point, Rect, Shape};

/// A way of drawing a line: width in mm, dash and gap in mm, round ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width.
    pub width: f64,
    /// Dash and gap; none is solid.
    pub dash: Option<[f64; 2]>,
    /// Round ends (for dots).
    pub round: bool,
}

/// A line without round ends.
pub const fn stroke(width: f64, dash: Option<[f64; 2]>) -> Stroke {
    Stroke {
        width,
        dash,
        round: false,
    }
}

/// Cut line.
pub const CUT: Stroke = stroke(0.5, None);
/// Cut line of a piece less than 8 mm across.
pub const CUT_FINE: Stroke = stroke(0.35, None);
/// Seam line.
pub const SEAM: Stroke = stroke(0.25, Some([2.4, 1.2]));
/// Seam line where the allowance is under 4 mm.
pub const SEAM_FINE: Stroke = stroke(0.25, Some([1.5, 0.8]));
/// Fold.
pub const FOLD: Stroke = stroke(0.3, Some([7.0, 1.6]));
/// Where something is placed.
pub const PLACING: Stroke = stroke(0.25, Some([0.9, 0.9]));
/// Stitching that shows: round dots.
pub const STITCHING: Stroke = Stroke {
    width: 0.3,
    dash: Some([0.01, 1.1]),
    round: true,
};
/// Grain line, ticks, marks.
pub const THIN: Stroke = stroke(0.25, None);
/// White under a fold that runs along the cut line.
pub const BARE: Stroke = stroke(0.9, None);

/// Flattening tolerance for clearances, mm: well under the 2 mm that labels keep from lines.
pub const FLAT: f64 = 0.05;

/// What is drawn of a piece, in the piece's own axes or in a drawing's.
#[derive(Debug, Clone, Default)]
pub struct Ink {
    /// Stroked paths, in drawing order after cut and seam line.
    pub strokes: Vec<(BezPath, Stroke)>,
    /// Filled shapes.
    pub fills: Vec<BezPath>,
}

impl Ink {
    /// Adds another's.
    pub fn append(&mut self, mut other: Self) {
        self.strokes.append(&mut other.strokes);
        self.fills.append(&mut other.fills);
    }

    /// Whether nothing is drawn.
    pub fn is_empty(&self) -> bool {
        self.strokes.is_empty() && self.fills.is_empty()
    }

    /// Room of all of it, if there is any.
    pub fn bounds(&self) -> Option<Rect> {
        let boxes = self
            .paths()
            .map(|(p, half)| p.bounding_box().inflate(half, half));
        boxes.reduce(|all, r| all.union(r))
    }

    /// The ink moved.
    pub fn transformed(self, by: Affine) -> Self {
        Self {
            strokes: self.strokes.into_iter().map(|(p, s)| (by * p, s)).collect(),
            fills: self.fills.into_iter().map(|p| by * p).collect(),
        }
    }

    fn paths(&self) -> impl Iterator<Item = (&BezPath, f64)> {
        let strokes = self.strokes.iter().map(|(p, s)| (p, s.width / 2.0));
        strokes.chain(self.fills.iter().map(|p| (p, 0.0)))
    }

    /// All of it as straight lines.
    pub fn lines(&self) -> Vec<Line> {
        self.paths().flat_map(|(p, _)| flat(p, FLAT)).collect()
    }
}

/// An open path through points.
pub fn path_of(points: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (i, point) in points.iter().enumerate() {
        if i == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path
}
