//! How paint looks, and which shapes paths have: whether it leaves ink, whether a line can be followed and
//! closes. Millimetres; colours from 0 to 1.

use super::paint::{self, OPAQUE};
use hayro_interpret::{Paint as Brush, StrokeProps};
use kurbo::{Affine, BezPath, PathEl, Point, Shape};

/// Paint with all three colours above this is white: it leaves no ink.
const WHITE: f32 = 0.995;

/// Paint fainter than this is invisible.
pub(super) const FAINT: f32 = 0.004;

/// Lines lighter than this (of 1) are too pale to cut or sew by.
const PALE: f32 = 0.75;

/// Ends of a line that lie nearer than this, mm, close it.
const CLOSED_WITHIN: f64 = 1e-3;

/// Coordinates beyond this, mm, lie on no sheet; such paths are dropped before they can upset
/// curve arithmetic.
pub(super) const FAR: f64 = 1e5;

/// Lengths of dashes and gaps in turn, mm; empty for a solid line.
pub(super) fn dashes_of(props: &StrokeProps, scale: f64) -> Vec<f64> {
    let lengths = props.dash_array.iter().map(|d| f64::from(*d) * scale);
    let lengths: Vec<f64> = lengths.collect();
    match lengths.iter().any(|d| *d > 0.0) {
        true => lengths,
        false => Vec::new(),
    }
}

/// A colour with its opacity, both 0 to 1.
#[derive(Debug, Clone, Copy)]
pub(super) struct Look {
    /// Red, green and blue.
    pub colour: [f32; 3],
    /// Opacity.
    pub alpha: f32,
}

impl Look {
    /// Whether a line of this look can be followed.
    pub(super) fn is_plain(self) -> bool {
        self.alpha >= OPAQUE && paint::lightness(self.colour) <= PALE
    }

    /// The look of `paint`; `None` for a pattern.
    pub(super) fn of(paint: &Brush<'_>) -> Option<Self> {
        match paint {
            Brush::Pattern(_) => None,
            Brush::Color(color) => {
                let [red, green, blue, alpha] = color.to_rgba().components();
                let colour = [red, green, blue];
                Some(Self { colour, alpha })
            }
        }
    }
}

/// The colour of `paint` if it leaves ink; black for a pattern.
pub(super) fn inked(look: Option<Look>) -> Option<[f32; 3]> {
    let Some(Look { colour, alpha }) = look else {
        return Some([0.0; 3]);
    };
    let white = colour.iter().all(|c| *c > WHITE);
    (!white && alpha > FAINT).then_some(colour)
}

/// Whether a clip is an upright rectangle: then it fills its box.
pub(super) fn is_upright(path: &BezPath) -> bool {
    let bounds = path.bounding_box();
    (path.area().abs() - bounds.area()).abs() <= 1e-6 * bounds.area().max(1.0)
}

/// Whether `path` is one closed subpath.
pub(super) fn is_ring(path: &BezPath) -> bool {
    let elements = path.elements();
    let moves = elements
        .iter()
        .filter(|e| matches!(e, PathEl::MoveTo(_)))
        .count();
    let Some(PathEl::MoveTo(start)) = elements.first() else {
        return false;
    };
    let closed = match elements.last() {
        Some(PathEl::ClosePath) => true,
        Some(last) => last
            .end_point()
            .is_some_and(|end| end.distance(*start) < CLOSED_WITHIN),
        None => false,
    };
    moves == 1 && closed && elements.len() > 3
}

/// `path` on the page, unless a coordinate is no number or lies on no sheet.
pub(super) fn on_page(path: &BezPath, transform: Affine) -> Option<BezPath> {
    let near = |p: &Point| p.x.abs() < FAR && p.y.abs() < FAR;
    let placed = transform * path;
    let sound = placed.elements().iter().all(|element| match element {
        PathEl::MoveTo(a) | PathEl::LineTo(a) => near(a),
        PathEl::QuadTo(a, b) => near(a) && near(b),
        PathEl::CurveTo(a, b, c) => near(a) && near(b) && near(c),
        PathEl::ClosePath => true,
    });
    (sound && !placed.is_empty()).then_some(placed)
}
