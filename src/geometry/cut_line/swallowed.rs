//! Finding what an allowance has swallowed: edges without a cut line, and notches, slits or hollows
//! that have closed up.

use super::corner::outward;
use super::ring::{self, Seam, Strand};
use crate::geometry::curve;
use crate::geometry::probe::is_inside;
use kurbo::{ParamCurve, ParamCurveNearest, PathSeg, Point, Vec2};

/// Looks at each segment of the seam line: enough that a stretch longer than a thirty-second of it is
/// seen.
const LOOKS: usize = 32;

/// The outward turn, in radians, that a cut line may jump over: 60 degrees. A convex edge that ends
/// in an inward corner always loses a little of its bend there; a notch that closes takes its two
/// outward corners with it, more than 100 degrees in all.
const JUMPED: f64 = std::f64::consts::PI / 3.0;

/// Whether a point level with the corners of a path lies within it is asked again this far beside it, mm: rays
/// through corners may be counted amiss.
const ASIDE: Vec2 = Vec2::new(1.3e-6, 1.7e-6);

/// A look at the seam line.
struct Look {
    edge: usize,
    point: Point,
    tangent: Vec2,
    /// Whether the cut line runs at the allowance's distance here.
    kept: bool,
}

/// The edge and a point on its seam line where the allowance has swallowed something, if any.
/// `raw` is the ring before the clean-up, `cut` the one after.
pub(super) fn swallowed(
    seams: &[Seam],
    raw: &[Strand],
    cut: &[Strand],
    tolerance: f64,
) -> Option<(usize, Point)> {
    for seam in seams {
        let runs_beside = |s: &&Strand| s.parallel && s.edge == seam.edge;
        if raw.iter().any(|s| runs_beside(&s)) && !cut.iter().any(|s| runs_beside(&s)) {
            return Some((seam.edge, middle(seam)));
        }
    }
    let looks = looks(seams, cut, 2.0 * tolerance + 1e-4);
    jumped(&looks)
}

/// A point of the seam line that lies outside the cut line: where an allowance that ends at an edge without
/// one was cut back along a straight line that the edge itself bends across.
pub(super) fn uncovered(seams: &[Seam], cut: &[Strand], tolerance: f64) -> Option<(usize, Point)> {
    let path = ring::path_of_strands(cut);
    let far = |point: Point| {
        let near = cut
            .iter()
            .map(|s| s.segment.nearest(point, 1e-9).distance_sq);
        near.fold(f64::INFINITY, f64::min).sqrt()
    };
    let outside = |point: &Point| {
        !is_inside(&path, *point)
            && far(*point) > 2.0 * tolerance
            && !is_inside(&path, *point + ASIDE)
    };
    seams.iter().find_map(|seam| {
        let at = |look: usize| look as f64 / LOOKS as f64;
        let points =
            |segment: &PathSeg| (0..=LOOKS).map(|look| segment.eval(at(look))).find(outside);
        Some((seam.edge, seam.segments.iter().find_map(points)?))
    })
}

fn middle(seam: &Seam) -> Point {
    let half = seam.segments.len() / 2;
    let t = if seam.segments.len().is_multiple_of(2) {
        0.0
    } else {
        0.5
    };
    seam.segments.get(half).map_or(Point::ZERO, |s| s.eval(t))
}

fn looks(seams: &[Seam], cut: &[Strand], near: f64) -> Vec<Look> {
    let mut looks = Vec::new();
    for seam in seams {
        let own: Vec<&Strand> = cut.iter().filter(|s| s.edge == seam.edge).collect();
        for segment in &seam.segments {
            for look in 0..=LOOKS {
                let t = look as f64 / LOOKS as f64;
                let (point, tangent) = (segment.eval(t), curve::tangent(segment, t));
                let moved = point + seam.allowance * outward(tangent);
                let on_cut_line =
                    |s: &&Strand| s.segment.nearest(moved, 1e-9).distance_sq <= near * near;
                looks.push(Look {
                    edge: seam.edge,
                    point,
                    tangent,
                    kept: own.iter().any(on_cut_line),
                });
            }
        }
    }
    looks
}

/// The middle of a lost stretch that turns outward too much.
fn jumped(looks: &[Look]) -> Option<(usize, Point)> {
    let count = looks.len();
    let first_kept = looks.iter().position(|l| l.kept)?;
    let mut turned = 0.0;
    let mut began: Option<usize> = None;
    for step in 1..=count {
        let (before, look) = (
            &looks[(first_kept + step - 1) % count],
            &looks[(first_kept + step) % count],
        );
        if look.kept {
            if let Some(start) = began.take()
                && turned > JUMPED
            {
                let middle = &looks[(first_kept + (start + step) / 2) % count];
                return Some((middle.edge, middle.point));
            }
            turned = 0.0;
        } else if !before.kept {
            let turn = before
                .tangent
                .cross(look.tangent)
                .atan2(before.tangent.dot(look.tangent));
            turned += turn.max(0.0);
        } else {
            began = Some(step);
        }
    }
    None
}
