//! A piece too large for a page is shown through windows on several pages. This file tells whether
//! the windows together show all of its outline, and by how much they overlap. Millimetres, in the
//! piece's own axes.

use super::ring::Ring;
use kurbo::{Point, Rect};

/// Overlap that neighbouring sheets need at least, mm: enough to lay one on the other and tape
/// them (common practice is 5 to 15).
pub const OVERLAP_FROM: f64 = 5.0;

/// Overlaps smaller by this, mm, are let pass: the rounding of a PDF's numbers.
pub const OVERLAP_SLACK: f64 = 0.01;

/// Greatest distance of the points at which an outline is looked for in the windows, mm. A gap
/// narrower than this may be missed, and an overlap may be taken for larger by this; neither could
/// be seen on paper.
const SPACING: f64 = 0.05;

/// Overlaps are not measured beyond this, mm.
const OVERLAP_TO: f64 = 64.0;

/// A point may lie this far outside a window, mm, and still be shown.
const SLACK: f64 = 1e-3;

/// What windows show of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coverage {
    /// A point that no window shows.
    pub gap: Option<Point>,
    /// The least overlap of neighbouring windows where the outline crosses from one to the other,
    /// mm, to 0.05; never more than 64.
    pub overlap: f64,
}

/// What `windows` show of `outline`.
///
/// The overlap is measured by drawing the inner sides of all windows in: as long as every point of
/// the outline is still shown when each is drawn in by `d`, neighbours overlap by `2 d`.
pub fn coverage(outline: &Ring, windows: &[Rect]) -> Coverage {
    let bounds = outline.bounds();
    let inner: Vec<Rect> = windows.iter().map(|w| inner_sides(*w, bounds)).collect();
    let mut least = OVERLAP_TO / 2.0;
    for point in outline.fine_points(SPACING) {
        let depths = inner.iter().map(|window| depth(*window, point));
        let deepest = depths.fold(f64::NEG_INFINITY, f64::max);
        if deepest < -SLACK {
            return Coverage {
                gap: Some(point),
                overlap: 0.0,
            };
        }
        least = least.min(deepest);
    }
    Coverage {
        gap: None,
        overlap: 2.0 * least.max(0.0),
    }
}

/// `window` with the sides that do not run through the box of the outline moved out of the way.
fn inner_sides(window: Rect, outline: Rect) -> Rect {
    let far = 1e9;
    Rect::new(
        if window.x0 > outline.x0 {
            window.x0
        } else {
            -far
        },
        if window.y0 > outline.y0 {
            window.y0
        } else {
            -far
        },
        if window.x1 < outline.x1 {
            window.x1
        } else {
            far
        },
        if window.y1 < outline.y1 {
            window.y1
        } else {
            far
        },
    )
}

/// How far `point` lies inside `window`, mm; negative outside.
fn depth(window: Rect, point: Point) -> f64 {
    let across = (point.x - window.x0).min(window.x1 - point.x);
    across.min(point.y - window.y0).min(window.y1 - point.y)
}
