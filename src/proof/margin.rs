//! How near the ink of a page comes to its edge, in mm.

use super::sheet::{Ink, Sheet};
use kurbo::Rect;

/// Ink this much, mm, inside a margin is let pass: the rounding of a PDF's numbers.
pub const MARGIN_SLACK: f64 = 1e-3;

/// Smallest distance of ink from the edge of a page that is no plate and has no bleed, mm. Home
/// printers leave 3 to 6.35 mm white, some 6.7 (common practice).
pub const TEXT_MARGIN: f64 = 7.0;

/// The ink of `sheet` nearest to an edge, with its distance; `None` if the page is blank.
pub fn nearest_ink(sheet: &Sheet) -> Option<(f64, Ink)> {
    let distance = |area: Rect| {
        let across = area.x0.min(sheet.width - area.x1);
        across.min(area.y0).min(sheet.height - area.y1)
    };
    let all = sheet.ink.iter().map(|ink| (distance(ink.bounds), *ink));
    all.min_by(|a, b| a.0.total_cmp(&b.0))
}
