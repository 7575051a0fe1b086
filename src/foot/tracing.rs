//! From the designer's tracing to a clean ring on the foot's axes, in mm, with every mistake told.

use crate::design::{FootSpec, Tracing};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::curve::CHORD_POINTS;
use crate::geometry::smooth::{FEWEST_POINTS, SmoothFault, smooth_outline};
use crate::geometry::{Edge, Outline, OutlineFault, curve};
use kurbo::{Affine, BezPath, ParamCurveNearest, PathEl, Point, Shape, Vec2};

/// A heel or toe mark may lie this share of the foot's length off the outline.
const MARK_OFF: f64 = 0.1;

/// The tracing as a closed path on the foot's axes, clockwise with y downwards (from the toe to the
/// inner side), its hindmost point at x = 0. Half the pencil line is taken off.
pub(super) fn ring_on_axes(spec: &FootSpec, diagnostics: &mut Diagnostics) -> Option<BezPath> {
    let ring = match &spec.tracing {
        Tracing::Points(points) => smoothed(spec, points, diagnostics)?,
        Tracing::Path(path) => drawn(spec, path, diagnostics)?,
    };
    let [heel, toe] = match spec.marks {
        Some(marks) => checked_marks(spec, marks, &ring, diagnostics)?,
        None => longest_chord(&ring),
    };
    let axes = axes(spec, heel, toe);
    let Ok(outline) = Outline::new(vec![Edge::new("tracing", axes * ring)]) else {
        diagnostics.push(unusable(spec, "encloses nothing"));
        return None;
    };
    let outline = match outline.inset(spec.pencil) {
        Ok(outline) => outline,
        Err(_) => {
            diagnostics.push(pencil_too_thick(spec));
            return None;
        }
    };
    let hindmost = outline.bounds().x0;
    let [along, across] = spec.grading;
    let ring = outline
        .transformed(Affine::scale_non_uniform(along, across) * Affine::translate((-hindmost, 0.0)))
        .path();
    Some(if ring.area() < 0.0 {
        curve::reversed(&ring)
    } else {
        ring
    })
}

fn smoothed(
    spec: &FootSpec,
    points: &[[f64; 2]],
    diagnostics: &mut Diagnostics,
) -> Option<BezPath> {
    let points: Vec<Point> = points.iter().map(|[x, y]| Point::new(*x, *y)).collect();
    let fault = match smooth_outline(&points) {
        Ok(path) => return Some(path),
        Err(fault) => fault,
    };
    let place = Some(&spec.place);
    diagnostics.push(match fault {
        SmoothFault::TooFew(count) => Diagnostic::error(
            "tracing-points",
            place,
            format!("The tracing has {count} different points; it needs at least {FEWEST_POINTS}."),
        )
        .remedy("Read off 40 or more points round the foot, in order."),
        SmoothFault::NotFinite => unusable(spec, "holds a coordinate that is not a number"),
        SmoothFault::NoArea => unusable(spec, "encloses nothing"),
        SmoothFault::Crosses(point) => {
            let [heel, toe] = spec.marks.map_or_else(
                || chord_of(&points),
                |marks| marks.map(|[x, y]| Point::new(x, y)),
            );
            crosses(spec, axes(spec, heel, toe) * point)
        }
    });
    None
}

/// A drawn path: one closed ring that does not cross itself.
fn drawn(spec: &FootSpec, path: &BezPath, diagnostics: &mut Diagnostics) -> Option<BezPath> {
    let begins = |e: &&PathEl| matches!(e, PathEl::MoveTo(_));
    if !path.is_finite() {
        diagnostics.push(unusable(spec, "holds a coordinate that is not a number"));
        return None;
    }
    if path.elements().iter().filter(begins).count() != 1 {
        diagnostics.push(unusable(spec, "is not one single closed path"));
        return None;
    }
    let mut ring = path.clone();
    if !matches!(ring.elements().last(), Some(PathEl::ClosePath)) {
        ring.close_path();
    }
    let ring = curve::chained(ring.segments());
    let fault = Outline::new(vec![Edge::new("tracing", ring)])
        .and_then(|outline| outline.check_simple().map(|()| outline));
    match fault {
        Ok(outline) => Some(outline.path()),
        Err(OutlineFault::Crosses(point) | OutlineFault::RunsBack(point)) => {
            let [heel, toe] = spec.marks.map_or_else(
                || longest_chord(path),
                |marks| marks.map(|[x, y]| Point::new(x, y)),
            );
            diagnostics.push(crosses(spec, axes(spec, heel, toe) * point));
            None
        }
        Err(_) => {
            diagnostics.push(unusable(spec, "encloses nothing"));
            None
        }
    }
}

/// From the tracing's axes to the foot's: the heel at the origin, the toe along x, the inner side
/// at y > 0.
fn axes(spec: &FootSpec, heel: Point, toe: Point) -> Affine {
    let chord = toe - heel;
    let along = if chord.hypot() > 0.0 {
        chord.normalize()
    } else {
        Vec2::new(1.0, 0.0)
    };
    // To the right of the foot on a page with y downwards, toe up.
    let right = Vec2::new(-along.y, along.x);
    let inner = if spec.inner_left { -right } else { right };
    Affine::new([along.x, inner.x, along.y, inner.y, 0.0, 0.0]) * Affine::translate(-heel.to_vec2())
}

fn checked_marks(
    spec: &FootSpec,
    marks: [[f64; 2]; 2],
    ring: &BezPath,
    diagnostics: &mut Diagnostics,
) -> Option<[Point; 2]> {
    let [heel, toe] = marks.map(|[x, y]| Point::new(x, y));
    let [back, front] = longest_chord(ring);
    let length = back.distance(front);
    let mut sound = true;
    for (words, mark) in [("heel", heel), ("toe", toe)] {
        let near = ring.segments().map(|s| s.nearest(mark, 1e-6).distance_sq);
        let off = near.fold(f64::INFINITY, f64::min).sqrt();
        if off.is_nan() || off > MARK_OFF * length {
            sound = false;
            let message = format!("The {words} mark lies {off:.1} mm off the tracing.");
            diagnostics.push(marks_error(spec, message));
        }
    }
    if sound && heel.distance(toe) < 0.5 * length {
        sound = false;
        let message = format!(
            "The heel and toe marks are {:.1} mm apart, but the tracing is {length:.1} mm long.",
            heel.distance(toe)
        );
        diagnostics.push(marks_error(spec, message));
    }
    sound.then_some([heel, toe])
}

fn marks_error(spec: &FootSpec, message: String) -> Diagnostic {
    Diagnostic::error("tracing-marks", Some(&spec.place), message)
        .remedy("Give ‘heel’ and ‘toe’ as points at the ends of the foot, in the tracing's axes.")
}

/// The ends of the longest chord, the one with the wider half second: heel and toe.
fn longest_chord(ring: &BezPath) -> [Point; 2] {
    chord_of(&curve::spread(ring, CHORD_POINTS))
}

fn chord_of(points: &[Point]) -> [Point; 2] {
    let mut best = [Point::ZERO, Point::new(1.0, 0.0)];
    let mut longest = 0.0;
    for (index, a) in points.iter().enumerate() {
        for b in &points[index + 1..] {
            if a.distance(*b) > longest {
                longest = a.distance(*b);
                best = [*a, *b];
            }
        }
    }
    let along = (best[1] - best[0]).normalize();
    let width = |second: bool| {
        let half = points
            .iter()
            .map(|p| *p - best[0])
            .filter(|v| (v.dot(along) > 0.5 * longest) == second)
            .map(|v| along.cross(v));
        let (low, high) = half.fold((0.0_f64, 0.0_f64), |(low, high), w| {
            (low.min(w), high.max(w))
        });
        high - low
    };
    if width(true) >= width(false) {
        best
    } else {
        [best[1], best[0]]
    }
}

pub(super) fn unusable(spec: &FootSpec, what: &str) -> Diagnostic {
    Diagnostic::error(
        "tracing-points",
        Some(&spec.place),
        format!("The tracing {what}."),
    )
    .remedy("Trace once round the foot with the pencil upright and close the line.")
}

fn crosses(spec: &FootSpec, point: Point) -> Diagnostic {
    let side = if point.y > 0.0 { "inner" } else { "outer" };
    let message = format!(
        "The tracing crosses itself {:.1} mm from the heel, on the {side} side.",
        point.x.max(0.0)
    );
    Diagnostic::error("tracing-crosses", Some(&spec.place), message)
        .remedy("Put the points there in the order in which they lie along the line.")
}

fn pencil_too_thick(spec: &FootSpec) -> Diagnostic {
    let message = format!(
        "Taking {:.2} mm of pencil line off the tracing leaves nothing of it, or two parts.",
        spec.pencil
    );
    Diagnostic::error("tracing-points", Some(&spec.place), message)
        .remedy("Check ‘pencil’ (half the line's thickness) and the tracing's unit.")
}
