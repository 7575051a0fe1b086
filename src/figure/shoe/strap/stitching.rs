//! The rows of stitches of a strap, and the chalk mark where its button will sit.

use super::super::{Sewn, Way, part};
use super::{LINES, POINTS};
use crate::figure::drawing::polyline::length;
use crate::figure::drawing::{Curve, LineKind, Mesh};
use crate::geometry::space::Vec3;
use std::f64::consts::{PI, TAU};

/// The middle line and the last, as places between lines.
const MIDDLE: f64 = (LINES / 2) as f64;
const LAST: f64 = (LINES - 1) as f64;

/// Points round the mark of a button.
const ROUND: usize = 48;

/// Points along each side of a row round an end.
const SIDE: usize = 12;

/// Stitching this far from the strap's edges, as a share of its width.
const STITCH: f64 = 0.16;

/// The stitching of a strap `thick` above its `base`.
pub(in crate::figure::shoe) fn stitching(
    base: &Mesh,
    thick: f64,
    width: f64,
    sewn: Sewn,
) -> Vec<Curve> {
    let step = line_at(1.0 - 2.0 * STITCH) - MIDDLE;
    let long = long(base);
    let points_to = |mm: f64| ((mm / long * POINTS as f64).ceil() as usize).min(POINTS - 2);
    let at = |line: f64, point: usize| on_face(base, thick, line, point as f64);
    let curve = |(points, normals): (Vec<Vec3>, Vec<Vec3>)| {
        Curve::new(points, normals, LineKind::Stitch).tagged(part::STRAP_STITCH)
    };
    let along = |line: f64, from: usize| curve((from..POINTS).map(|i| at(line, i)).unzip());
    match sewn {
        Sewn::Layers => {
            // Not into the round end.
            let from = points_to((0.2 + 0.7 * STITCH) * width * 1.1);
            vec![along(MIDDLE - step, from), along(MIDDLE + step, from)]
        }
        Sewn::Folded { open } => {
            let from = points_to(STITCH * width);
            let (row, fold) = match open {
                Way::Heel => (MIDDLE - step, LAST),
                Way::Toe => (MIDDLE + step, 0.0),
            };
            let across = (0..LINES).map(|i| at(row + (fold - row) * i as f64 / LAST, from));
            vec![along(row, from), curve(across.unzip())]
        }
    }
}

/// Which end of a band: where its points begin, or where they end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::figure::shoe) enum End {
    First,
    Last,
}

/// The row that sews the `end` of a ribbon on, `thick` above its `base`: along three sides of what lies on the cloth,
/// and across where it leaves it, `lap` mm from its end.
pub(in crate::figure::shoe) fn lap_stitching(
    (base, thick): (&Mesh, f64),
    width: f64,
    lap: f64,
    end: End,
) -> Curve {
    let a_mm = (POINTS - 1) as f64 / long(base);
    let from_end = |mm: f64| match end {
        End::First => mm * a_mm,
        End::Last => (POINTS - 1) as f64 - mm * a_mm,
    };
    let [low, high] = [STITCH * width, lap].map(from_end);
    let [hind, front] = [-1.0, 1.0].map(|way| line_at(way * (1.0 - 2.0 * STITCH)));
    let corners = [(hind, high), (hind, low), (front, low), (front, high)];
    let sides = (0..4).flat_map(|i| {
        let (from, to) = (corners[i], corners[(i + 1) % 4]);
        (0..SIDE).map(move |step| {
            let share = step as f64 / SIDE as f64;
            (
                from.0 + (to.0 - from.0) * share,
                from.1 + (to.1 - from.1) * share,
            )
        })
    });
    let (points, normals) = sides
        .map(|(line, point)| on_face(base, thick, line, point))
        .unzip();
    let row = Curve::new(points, normals, LineKind::Stitch).closed();
    row.tagged(part::STRAP_STITCH)
}

/// The mark where a button will sit, `from_end` mm from the outer end of a strap, a circle of `radius`.
pub(in crate::figure::shoe) fn button_mark(
    (base, thick): (&Mesh, f64),
    width: f64,
    from_end: f64,
    radius: f64,
) -> Curve {
    let a_mm = (POINTS - 1) as f64 / long(base);
    let at = |i: usize| {
        let (sin, cos) = (TAU * i as f64 / ROUND as f64).sin_cos();
        let line = line_at(2.0 * radius * cos / width);
        on_face(base, thick, line, (from_end + radius * sin) * a_mm)
    };
    let (points, normals) = (0..=ROUND).map(at).unzip();
    let curve = Curve::new(points, normals, LineKind::Detail).closed();
    curve.tagged(part::BUTTON_MARK)
}

/// The line, not a whole one, at a place across: -1 at the hind edge, 1 at the front one. They stand as
/// the sine of equal steps.
fn line_at(across: f64) -> f64 {
    MIDDLE + across.clamp(-1.0, 1.0).asin() / PI * LAST
}

/// How long a strap is along its middle.
fn long(base: &Mesh) -> f64 {
    let line = (LINES / 2) * POINTS;
    length(&base.vertices[line..line + POINTS])
}

/// A point of the upper face with its normal, between lines and points.
fn on_face(base: &Mesh, thick: f64, line: f64, point: f64) -> (Vec3, Vec3) {
    let parted = |place: f64, last: usize| {
        let whole = (place.max(0.0) as usize).min(last - 1);
        (whole, (place - whole as f64).clamp(0.0, 1.0))
    };
    let ((line, beside), (point, beyond)) = (parted(line, LINES - 1), parted(point, POINTS - 1));
    let mix = |values: &[Vec3]| {
        let on = |line: usize| {
            let at = line * POINTS + point;
            values[at].lerp(values[at + 1], beyond)
        };
        on(line).lerp(on(line + 1), beside)
    };
    let normal = mix(&base.normals);
    (mix(&base.vertices) + normal * thick, normal)
}
