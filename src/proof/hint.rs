//! Why an outline may be missing, for the message: its shape is there, but mirrored, at another
//! scale, drawn as another kind of line, or already taken for another piece.

use super::intended::{IntendedLine, IntendedOutline};
use super::outline::{Drawn, looks_like};
use super::ring::Ring;
use kurbo::{Affine, Rect};

/// Scales between these are looked for; fitting one common paper onto another gives 0.89 to 0.98.
const SCALES: std::ops::RangeInclusive<f64> = 0.5..=2.0;

/// A scaled outline must lie within this of the drawn one, mm.
const WITHIN: f64 = 0.1;

/// A mirrored outline lies within this of the drawn one, mm: as near as a right one.
const MIRRORED_WITHIN: f64 = 0.01;

/// A sentence that begins with a blank, or nothing.
pub fn hint(outline: &IntendedOutline, drawn: &Drawn<'_>) -> String {
    let Some(ring) = Ring::new(&outline.path) else {
        return " (what was intended is no closed outline)".to_string();
    };
    let mirrored = ring.transformed(Affine::scale_non_uniform(-1.0, 1.0));
    let mut best: Option<(usize, String)> = None;
    for (sheet, _, line, other) in drawn.lines() {
        let kind = looks_like(line, outline.line);
        let found = if ring.placed_on(other, WITHIN).is_some() {
            if kind {
                Some((
                    1,
                    "its shape is drawn fewer times than it is needed".to_string(),
                ))
            } else {
                let drawn_as = drawn_as(line.width, line.dashed);
                Some((0, format!("its shape is drawn {drawn_as}")))
            }
        } else if mirrored.placed_on(other, WITHIN).is_some() {
            Some((2, "it is drawn mirrored".to_string()))
        } else {
            scale_of(&ring, other).map(|scale| {
                (
                    3,
                    format!("its shape is drawn at {:.1} % of its size", scale * 100.0),
                )
            })
        };
        if let Some((rank, words)) = found
            && best.as_ref().is_none_or(|(b, _)| rank < *b)
        {
            best = Some((rank, format!("; {words} on page {}", sheet + 1)));
        }
    }
    best.map_or_else(String::new, |(_, words)| words)
}

/// Whether the outline's mirror image is drawn: nearly symmetrical, it may be taken for the outline,
/// drawn badly.
pub fn is_mirrored(outline: &IntendedOutline, drawn: &Drawn<'_>) -> bool {
    let Some(ring) = Ring::new(&outline.path) else {
        return false;
    };
    let mirrored = ring.transformed(Affine::scale_non_uniform(-1.0, 1.0));
    let mut lines = drawn.lines();
    lines.any(|(_, _, line, other)| {
        looks_like(line, outline.line) && mirrored.placed_on(other, MIRRORED_WITHIN).is_some()
    })
}

fn drawn_as(width: f64, dashed: bool) -> String {
    let style = if dashed { "dashed" } else { "solid" };
    format!("as a {style} line {width:.2} mm wide")
}

/// The scale at which `drawn` has the shape of `ring`, unless it is true scale.
fn scale_of(ring: &Ring, drawn: &Ring) -> Option<f64> {
    let reach = |r: Rect| r.width().max(r.height());
    let scale = reach(drawn.bounds()) / reach(ring.bounds());
    let other_scale = (scale - 1.0).abs() > 1e-4 && SCALES.contains(&scale);
    let found = other_scale
        && ring
            .transformed(Affine::scale(scale))
            .placed_on(drawn, WITHIN)
            .is_some();
    found.then_some(scale)
}

/// `cut line` or `seam line`.
pub fn words_of(line: IntendedLine) -> &'static str {
    match line {
        IntendedLine::Cut => "cut line",
        IntendedLine::Seam => "seam line",
    }
}
