//! Holes, eyelets, buttons, buttonholes and lines inside a piece.

use super::context::Context;
use super::model::{Mark, MarkKind};
use super::notch;
use crate::design::{Formula, MarkKindSpec, MarkSpec, PointSpec};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::probe::is_inside;
use crate::geometry::{Outline, curve};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, Point, Vec2};

#[cfg(test)]
mod tests;

/// A mark may reach this far over the seam line, mm: the width of a pencil line.
const OVER: f64 = 0.1;

/// A line shorter than this, mm, has no length.
const NO_LENGTH: f64 = 0.1;

/// Distance of the points at which a line is looked at, mm, and how many of them at most on one of
/// its curves: a fifth of a millimetre is less than a bend that could be drawn.
const LOOK_EVERY: f64 = 0.2;
const MOST_LOOKS: f64 = 2000.0;

/// The marks of a piece; each must lie on the piece.
pub(super) fn of_piece(context: &Context, diagnostics: &mut Diagnostics) -> Vec<Mark> {
    let mut marks = Vec::new();
    for spec in &context.spec.marks {
        let Some(kind) = kind(context, spec, diagnostics) else {
            continue;
        };
        if let Some(size) = no_size(&kind) {
            let message = format!(
                "{} of {} must be more than nothing; in size {} it is {size:.1} mm",
                what_has_size(&kind),
                context.spec.title,
                context.size.title
            );
            diagnostics.push(Diagnostic::error(
                "not-positive",
                Some(&spec.place),
                message,
            ));
            continue;
        }
        if let Some(off) = off_piece(&kind, context) {
            diagnostics.push(outside(context, spec, &off));
            continue;
        }
        marks.push(Mark {
            kind,
            words: spec.words.clone(),
        });
    }
    marks
}

fn kind(context: &Context, spec: &MarkSpec, diagnostics: &mut Diagnostics) -> Option<MarkKind> {
    let mut round = |at: &PointSpec, diameter: &Formula| {
        Some((
            point(context, at, diagnostics)?,
            context.length(diameter, diagnostics)?,
        ))
    };
    Some(match &spec.kind {
        MarkKindSpec::Hole { at, diameter } => {
            let (at, diameter) = round(at, diameter)?;
            MarkKind::Hole { at, diameter }
        }
        MarkKindSpec::Eyelet { at, diameter } => {
            let (at, diameter) = round(at, diameter)?;
            MarkKind::Eyelet { at, diameter }
        }
        MarkKindSpec::Button { at, diameter } => {
            let (at, diameter) = round(at, diameter)?;
            MarkKind::Button { at, diameter }
        }
        MarkKindSpec::Buttonhole { at, length, angle } => {
            let (at, length) = round(at, length)?;
            let (sin, cos) = angle.to_radians().sin_cos();
            let half = Vec2::new(sin, -cos) * (length / 2.0);
            MarkKind::Buttonhole {
                from: at - half,
                to: at + half,
            }
        }
        MarkKindSpec::Line {
            line,
            through,
            handles,
        } => {
            let all = |list: &[PointSpec], diagnostics: &mut Diagnostics| {
                list.iter()
                    .map(|p| point(context, p, diagnostics))
                    .collect::<Option<Vec<_>>>()
            };
            let through = all(through, diagnostics)?;
            let handles = all(handles, diagnostics)?;
            MarkKind::Line {
                kind: *line,
                path: line_path(&through, &handles)?,
            }
        }
    })
}

fn line_path(through: &[Point], handles: &[Point]) -> Option<BezPath> {
    let (first, rest) = through.split_first()?;
    let mut path = BezPath::new();
    path.move_to(*first);
    match (rest, handles) {
        ([end], [a]) => path.quad_to(*a, *end),
        ([end], [a, b]) => path.curve_to(*a, *b, *end),
        _ => rest.iter().for_each(|p| path.line_to(*p)),
    }
    Some(path)
}

/// A point by coordinates or by the designer's name.
pub(super) fn point(
    context: &Context,
    spec: &PointSpec,
    diagnostics: &mut Diagnostics,
) -> Option<Point> {
    match spec {
        PointSpec::At([x, y]) => Some(Point::new(
            context.length(x, diagnostics)?,
            context.length(y, diagnostics)?,
        )),
        PointSpec::Named(name, _) => context.drafted.points.get(name).copied(),
        PointSpec::OnEdge {
            edge,
            at,
            inward,
            place,
        } => {
            let edge = context.drafted.outline.edge(edge)?;
            let length = edge.length();
            let along = notch::along(context, at, length, diagnostics)?;
            if !(-1e-6..=length + 1e-6).contains(&along) {
                let message = format!(
                    "A mark of {} would stand at {along:.1} mm of edge {}, which is {length:.1} mm \
                     long in size {}",
                    context.spec.title, edge.name, context.size.title
                );
                diagnostics.push(
                    Diagnostic::error("mark-outside", Some(place), message)
                        .remedy("Give a share, or a length that the edge has."),
                );
                return None;
            }
            let station = edge.station(along);
            let inside = Vec2::new(-station.tangent.y, station.tangent.x);
            let depth = match inward {
                Some(formula) => context.length(formula, diagnostics)?,
                None => 0.0,
            };
            Some(station.point + depth * inside)
        }
    }
}

fn outside(context: &Context, spec: &MarkSpec, off: &Off) -> Diagnostic {
    let bounds = context.drafted.outline.bounds();
    let remedy = format!(
        "The piece reaches from x {:.1} to {:.1} mm and from y {:.1} to {:.1} mm.",
        bounds.x0, bounds.x1, bounds.y0, bounds.y1
    );
    let (title, size, at) = (&context.spec.title, &context.size.title, off.at);
    let message = match off.over_the_edge {
        false => format!(
            "A mark of {title} lies off the piece in size {size}: x {:.1} mm, y {:.1} mm",
            at.x, at.y
        ),
        true => format!(
            "A mark of {title} reaches over the seam line in size {size}: at x {:.1} mm, y {:.1} mm \
             by {:.1} mm",
            at.x, at.y, off.by
        ),
    };
    Diagnostic::error("mark-outside", Some(&spec.place), message).remedy(remedy)
}

/// The size of a mark that has none, mm.
fn no_size(kind: &MarkKind) -> Option<f64> {
    let (size, least) = match kind {
        MarkKind::Hole { diameter, .. }
        | MarkKind::Eyelet { diameter, .. }
        | MarkKind::Button { diameter, .. } => (*diameter, 0.0),
        MarkKind::Buttonhole { from, to } => (from.distance(*to), NO_LENGTH),
        MarkKind::Line { path, .. } => (curve::length(path, 1e-3), NO_LENGTH),
    };
    (size <= least).then_some(size)
}

fn what_has_size(kind: &MarkKind) -> &'static str {
    match kind {
        MarkKind::Hole { .. } => "The diameter of a hole",
        MarkKind::Eyelet { .. } => "The diameter of an eyelet",
        MarkKind::Button { .. } => "The diameter of a button",
        MarkKind::Buttonhole { .. } => "The length of a buttonhole",
        MarkKind::Line { .. } => "The length of a line",
    }
}

/// Where a mark leaves the piece.
struct Off {
    at: Point,
    /// How far over the seam line, mm.
    by: f64,
    /// Whether its middle lies on the piece.
    over_the_edge: bool,
}

/// Where the mark lies outside the seam line by more than [`OVER`], if it does. A round mark on the
/// fold is seen on the opened piece. Of a button only the middle counts: it may be wider than its
/// strap, as on most doll shoes (common practice).
fn off_piece(kind: &MarkKind, context: &Context) -> Option<Off> {
    let outline = &context.drafted.outline;
    let ring = Ring::new(outline);
    let round = |at: Point, diameter: f64| {
        ring.off(at).or_else(|| {
            let opened = context.opened_at(at).as_ref().map(Ring::new);
            opened.as_ref().unwrap_or(&ring).off_round(at, diameter)
        })
    };
    match kind {
        MarkKind::Hole { at, diameter } | MarkKind::Eyelet { at, diameter } => {
            round(*at, *diameter)
        }
        MarkKind::Button { at, .. } => ring.off(*at),
        MarkKind::Buttonhole { from, to } => ring.off_path(&line_path(&[*from, *to], &[])?),
        MarkKind::Line { path, .. } => ring.off_path(path),
    }
}

impl Context<'_> {
    /// The whole piece, if it is drawn as a half and `at` lies on its fold.
    fn opened_at(&self, at: Point) -> Option<Outline> {
        let (edge, _) = self.spec.on_fold.as_ref()?;
        let fold = self.drafted.outline.edge(edge)?;
        let near = |s: &kurbo::PathSeg| s.nearest(at, 1e-6).distance_sq <= OVER * OVER;
        fold.segments().iter().any(near).then_some(())?;
        self.drafted.outline.unfolded(edge).ok()
    }
}

/// The seam line, closed.
struct Ring(BezPath);

impl Ring {
    fn new(outline: &Outline) -> Self {
        Self(outline.path())
    }

    /// The nearest point of the seam line and its distance.
    fn nearest(&self, point: Point) -> (Point, f64) {
        let all = self.0.segments().map(|s| {
            let near = s.nearest(point, 1e-6);
            (s.eval(near.t), near.distance_sq.sqrt())
        });
        all.min_by(|a, b| a.1.total_cmp(&b.1))
            .unwrap_or((point, f64::INFINITY))
    }

    fn off(&self, at: Point) -> Option<Off> {
        if is_inside(&self.0, at) {
            return None;
        }
        let (_, by) = self.nearest(at);
        let over_the_edge = false;
        let off = Off {
            at,
            by,
            over_the_edge,
        };
        (by > OVER).then_some(off)
    }

    fn off_round(&self, at: Point, diameter: f64) -> Option<Off> {
        let (near, distance) = self.nearest(at);
        let by = diameter / 2.0 - distance;
        let out = near - at;
        let reach = match distance > 0.0 {
            true => at + out / distance * (diameter / 2.0),
            false => near,
        };
        (by > OVER).then_some(Off {
            at: reach,
            by,
            over_the_edge: true,
        })
    }

    /// The point of `path` that lies furthest outside.
    fn off_path(&self, path: &BezPath) -> Option<Off> {
        let points = path.segments().flat_map(|segment| {
            let looks = (segment.arclen(1e-3) / LOOK_EVERY).ceil();
            let looks = looks.clamp(1.0, MOST_LOOKS) as u32;
            (0..=looks).map(move |i| segment.eval(f64::from(i) / f64::from(looks)))
        });
        points
            .filter_map(|point| self.off(point))
            .max_by(|a, b| a.by.total_cmp(&b.by))
    }
}
