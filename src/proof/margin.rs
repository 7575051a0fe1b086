//! How near the ink of a page comes to its edge, in mm.

use super::ink::{Ink, InkKind};
use super::sheet::Sheet;
use kurbo::Rect;

/// Ink this much, mm, inside a margin is let pass: the rounding of a PDF's numbers.
pub const MARGIN_SLACK: f64 = 1e-3;

/// Smallest distance of ink from the edge of a page that is no plate and has no bleed, mm. Home
/// printers leave 3 to 6.35 mm white, some 6.7 (common practice).
pub const TEXT_MARGIN: f64 = 7.0;

/// The ink of `sheet` nearest to an edge, with its distance; `None` if the page is blank. A tint of the
/// whole page is no ink where `tinted` says so: what a printer leaves white of it is no loss.
pub fn nearest_ink(sheet: &Sheet, tinted: bool) -> Option<(f64, Ink)> {
    let distance = |area: Rect| {
        let across = area.x0.min(sheet.width - area.x1);
        across.min(area.y0).min(sheet.height - area.y1)
    };
    let is_tint = |ink: &&Ink| {
        let beyond = ink.bounds.x0.max(ink.bounds.y0) < MARGIN_SLACK
            && ink.bounds.x1 > sheet.width - MARGIN_SLACK
            && ink.bounds.y1 > sheet.height - MARGIN_SLACK;
        tinted && ink.kind == InkKind::Area && beyond
    };
    let all = sheet.ink.iter().filter(|ink| !is_tint(ink));
    let all = all.map(|ink| (distance(ink.bounds), *ink));
    all.min_by(|a, b| a.0.total_cmp(&b.0))
}
