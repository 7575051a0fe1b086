//! Holes, eyelets, buttons, buttonholes and lines inside a piece.

use super::finish::Context;
use super::model::{Mark, MarkKind};
use super::notch;
use crate::design::{Formula, MarkKindSpec, MarkSpec, PointSpec};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::Outline;
use kurbo::{BezPath, Point, Shape, Vec2};

/// The marks of a piece; each must lie on the piece.
pub(super) fn of_piece(context: &Context, diagnostics: &mut Diagnostics) -> Vec<Mark> {
    let mut marks = Vec::new();
    for spec in &context.spec.marks {
        let Some(kind) = kind(context, spec, diagnostics) else {
            continue;
        };
        if let Some(off) = off_piece(&kind, &context.drafted.outline) {
            let message = format!(
                "A mark of {} lies off the piece in size {}: x {:.1} mm, y {:.1} mm",
                context.spec.title, context.size.title, off.x, off.y
            );
            let bounds = context.drafted.outline.bounds();
            let remedy = format!(
                "The piece reaches from x {:.1} to {:.1} mm and from y {:.1} to {:.1} mm.",
                bounds.x0, bounds.x1, bounds.y0, bounds.y1
            );
            let said = Diagnostic::error("mark-outside", Some(&spec.place), message);
            diagnostics.push(said.remedy(remedy));
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
fn point(context: &Context, spec: &PointSpec, diagnostics: &mut Diagnostics) -> Option<Point> {
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

/// A point of the mark that lies outside the seam line by more than 0.1 mm, if there is one.
fn off_piece(kind: &MarkKind, outline: &Outline) -> Option<Point> {
    let ring = outline.path();
    let points = match kind {
        MarkKind::Hole { at, .. } | MarkKind::Eyelet { at, .. } | MarkKind::Button { at, .. } => {
            vec![*at]
        }
        MarkKind::Buttonhole { from, to } => vec![*from, *to],
        MarkKind::Line { path, .. } => path
            .segments()
            .flat_map(|s| [kurbo::ParamCurve::start(&s), kurbo::ParamCurve::end(&s)])
            .collect(),
    };
    let near = |p: &Point| {
        let distance =
            |s: kurbo::PathSeg| kurbo::ParamCurveNearest::nearest(&s, *p, 1e-6).distance_sq;
        ring.segments().map(distance).fold(f64::INFINITY, f64::min) < 0.01
    };
    points.into_iter().find(|p| !ring.contains(*p) && !near(p))
}
