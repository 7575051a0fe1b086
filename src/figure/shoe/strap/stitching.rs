//! The rows of stitches of a strap.

use super::super::{StrapLook, part};
use super::{LINES, POINTS};
use crate::figure::drawing::polyline::length;
use crate::figure::drawing::{Curve, LineKind, Mesh};
use crate::geometry::space::Vec3;

/// Stitching this far from the strap's edges, as a share of its width.
const STITCH: f64 = 0.16;

/// How a strap is sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::figure::shoe) enum Sewn {
    /// Of two layers: along both edges.
    Layers,
    /// Folded along its middle: along the open edge, which lies to the heel, and across its outer end.
    Folded,
}

impl Sewn {
    /// A strap whose end shows beside an elastic is square, as a folded one is; one with a round end is
    /// of two layers (common practice).
    pub(in crate::figure::shoe) fn of(strap: StrapLook) -> Self {
        match strap.elastic {
            Some(_) => Self::Folded,
            None => Self::Layers,
        }
    }
}

/// The stitching of a strap `thick` above its `base`.
pub(in crate::figure::shoe) fn stitching(
    base: &Mesh,
    thick: f64,
    width: f64,
    sewn: Sewn,
) -> Vec<Curve> {
    let inset = 1.0 - 2.0 * STITCH;
    // The lines stand as the sine of equal steps.
    let step = inset.asin() / std::f64::consts::PI * (LINES - 1) as f64;
    let middle = (LINES / 2) as f64;
    let long = {
        let line = (LINES / 2) * POINTS;
        length(&base.vertices[line..line + POINTS])
    };
    let points_to = |mm: f64| ((mm / long * POINTS as f64).ceil() as usize).min(POINTS - 2);
    let at = |line: f64, point: usize| {
        let (whole, share) = ((line as usize).min(LINES - 2), line);
        let share = share - whole as f64;
        let mix = |values: &[Vec3]| {
            values[whole * POINTS + point].lerp(values[(whole + 1) * POINTS + point], share)
        };
        let normal = mix(&base.normals);
        (mix(&base.vertices) + normal * thick, normal)
    };
    let curve = |(points, normals): (Vec<Vec3>, Vec<Vec3>)| {
        Curve::new(points, normals, LineKind::Stitch).tagged(part::STRAP_STITCH)
    };
    let along = |line: f64, from: usize| curve((from..POINTS).map(|i| at(line, i)).unzip());
    match sewn {
        Sewn::Layers => {
            // Not into the round end.
            let from = points_to((0.2 + 0.7 * STITCH) * width * 1.1);
            vec![along(middle - step, from), along(middle + step, from)]
        }
        Sewn::Folded => {
            let from = points_to(STITCH * width);
            let last = (LINES - 1) as f64;
            let across = (0..LINES).map(|i| {
                let share = i as f64 / last;
                at(middle - step + (last - middle + step) * share, from)
            });
            vec![along(middle - step, from), curve(across.unzip())]
        }
    }
}
