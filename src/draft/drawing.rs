//! An outline taken from an SVG drawing in true size, parted into named edges at its corners.

use crate::design::drawing;
use crate::diagnostic::{Diagnostic, Place, SourceText};
use crate::geometry::{Edge, curve};
use std::sync::Arc;

/// A turn sharper than this parts two edges. Hand-drawn smooth joints are a degree or two off; the
/// flattest real corners of small pieces, where a topline meets a seam, turn by 20° and more.
pub const CORNER_DEGREES: f64 = 10.0;

/// The edges of the closed path `id` in the drawing `text`, in mm, named in the order of the path
/// by `names`. `named` is where the design names the drawing.
pub(super) fn outline(
    text: &Arc<SourceText>,
    id: &str,
    names: &[String],
    named: &Place,
) -> Result<Vec<Edge>, Diagnostic> {
    let path = drawing::path(text, id)?;
    let stretches = curve::corners(&path, CORNER_DEGREES);
    if stretches.len() != names.len() {
        let message = format!(
            "The path {id} of {} has {} stretches between corners, but {} edges are named",
            text.path,
            stretches.len(),
            names.len()
        );
        let remedy = "name one edge for each stretch, in the order of the path from its start; a \
                      turn of more than 10 degrees counts as a corner";
        return Err(Diagnostic::error("drawing-edges", Some(named), message).remedy(remedy));
    }
    Ok(names
        .iter()
        .zip(stretches)
        .map(|(name, curve)| Edge::new(name.clone(), curve))
        .collect())
}
