//! The seam line of one piece from the shape that the design gives it.

use super::drafter::Drafter;
use super::drawing;
use super::outline_fault::{fault_of, too_large};
use crate::design::{DrawnEdge, Formula, PieceSpec, PointSpec, ShapeSpec, ShoePart};
use crate::diagnostic::{Diagnostic, Place};
use crate::foot::EaseFault;
use crate::geometry::{BEYOND_AXIS, Edge, Outline, OutlineFault};
use kurbo::{Arc, BezPath, Point, Rect, Shape, Vec2};
use std::f64::consts::{FRAC_PI_2, TAU};

/// Arcs become cubics within this distance, mm: a hundredth of what a sewer can cut, and small
/// enough that lengths agree to 1e-4 mm.
const ARC_TOLERANCE: f64 = 1e-5;

/// The outline of `spec` for the drafter's size; `None` after a report.
pub(super) fn outline<'d>(drafter: &Drafter<'d>, spec: &'d PieceSpec) -> Option<Outline> {
    let shape = match &spec.shape {
        ShapeSpec::Tracing {
            ease,
            inner_mark,
            outer_mark,
        } => traced(drafter, spec, ease, [inner_mark, outer_mark])?,
        ShapeSpec::Drawn { start, edges } => drawn(drafter, spec, start, edges)?,
        ShapeSpec::Rectangle {
            width,
            height,
            radius,
        } => rectangle(drafter, spec, [width, height], radius.as_ref())?,
        ShapeSpec::Ellipse { width, height } => {
            let width = drafter.positive(width, "The width of an ellipse")?;
            let height = drafter.positive(height, "The height of an ellipse")?;
            ellipse(width, height)
        }
        ShapeSpec::Svg {
            id,
            edges,
            texts,
            place,
            ..
        } => {
            let text = texts.get(&drafter.size.key)?;
            match drawing::outline(text, id, edges, place) {
                Ok(edges) => Outline::new(edges),
                Err(said) => {
                    drafter.say(said);
                    return None;
                }
            }
        }
        ShapeSpec::Shoe { part, place } => Ok(shoe_part(drafter, spec, *part, place)?),
        ShapeSpec::Inset { of, by, .. } => {
            let by = drafter.length(by)?;
            // what is wrong with it, or with those behind it, is told of them
            drafter.piece(of)?;
            let (first, by) = from_first(drafter, of, by)?;
            drafter.piece(first)?.outline.inset(by)
        }
    };
    let checked = shape.and_then(|outline| outline.check_simple().map(|()| outline));
    let place = shape_place(spec);
    let outline = match checked {
        Ok(outline) => outline,
        Err(fault) => {
            drafter.say(fault_of(&fault, spec, place, &drafter.size.title));
            return None;
        }
    };
    if let Some(fault) = too_large(&outline, spec, place, &drafter.size.title) {
        drafter.say(fault);
        return None;
    }
    whole(drafter, spec, outline)
}

/// The piece from which a chain of insets, or of outsets, begins, and how far it is moved in all: an outline
/// that is moved once has no more points than it needs. A piece that is mirrored is a beginning.
fn from_first<'d>(drafter: &Drafter<'d>, of: &'d str, by: f64) -> Option<(&'d str, f64)> {
    let (mut first, mut all) = (of, by);
    loop {
        let spec = drafter.design.pieces.iter().find(|p| p.key == first)?;
        let ShapeSpec::Inset { of, by, .. } = &spec.shape else {
            return Some((first, all));
        };
        let more = drafter.length(by)?;
        if spec.mirror_on.is_some() || more * all < 0.0 {
            return Some((first, all));
        }
        (first, all) = (of, all + more);
    }
}

/// The outline as it is printed: the half that is mirrored becomes a whole, the half on the fold stays
/// one. Neither may lie on both sides of its line.
fn whole(drafter: &Drafter, spec: &PieceSpec, outline: Outline) -> Option<Outline> {
    let refuse = |fault: &OutlineFault, place: &Place| {
        drafter.say(fault_of(fault, spec, place, &drafter.size.title));
    };
    if let Some((edge, place)) = &spec.on_fold
        && let Err(fault @ OutlineFault::AcrossEdge { .. }) = outline.check_half(edge, BEYOND_AXIS)
    {
        refuse(&fault, place);
        return None;
    }
    let Some((edge, place)) = &spec.mirror_on else {
        return Some(outline);
    };
    match outline.unfolded(edge) {
        Ok(whole) => Some(whole),
        Err(fault) => {
            refuse(&fault, place);
            None
        }
    }
}

fn shape_place(spec: &PieceSpec) -> &Place {
    match &spec.shape {
        ShapeSpec::Inset { place, .. }
        | ShapeSpec::Svg { place, .. }
        | ShapeSpec::Shoe { place, .. } => place,
        ShapeSpec::Drawn { edges, .. } => edges.first().map_or(&spec.place, |e| &e.place),
        _ => &spec.place,
    }
}

/// A part of the shoe; one that the draft has no room for is reported.
fn shoe_part(
    drafter: &Drafter,
    spec: &PieceSpec,
    part: ShoePart,
    place: &Place,
) -> Option<Outline> {
    let shoe = drafter.shoe()?;
    let outline = shoe.outlines.get(&part).cloned();
    if outline.is_none() {
        let message = format!(
            "{} cannot be drafted in size {}: there is no room for it inside the sole",
            spec.title, drafter.size.title
        );
        let remedy = "leave the piece out of a shoe so small, or trim the allowance closer";
        drafter.say(Diagnostic::error("shoe-stiffener", Some(place), message).remedy(remedy));
    }
    outline
}

fn traced(
    drafter: &Drafter,
    spec: &PieceSpec,
    ease: &Formula,
    marks: [&Formula; 2],
) -> Option<Result<Outline, OutlineFault>> {
    let [ease_mm, inner, outer] = [
        drafter.length(ease)?,
        drafter.length(marks[0])?,
        drafter.length(marks[1])?,
    ];
    let Some(foot) = drafter.foot else {
        let message = format!(
            "Piece {} is made from a tracing, but size {} has no foot",
            spec.title, drafter.size.title
        );
        let said = Diagnostic::error("foot-missing", Some(&spec.place), message)
            .remedy("Give the size a foot: ‘foot: feet/NAME.yaml’.");
        drafter.say(said);
        return None;
    };
    match foot.outline_with_ease(ease_mm, inner, outer) {
        Ok(outline) => Some(Ok(outline)),
        Err(EaseFault::Outline(fault)) => Some(Err(fault)),
        Err(EaseFault::MarkOutside {
            inner,
            mark,
            length,
        }) => {
            let (side, formula) = if inner {
                ("inner", marks[0])
            } else {
                ("outer", marks[1])
            };
            let message = format!(
                "The {side} side mark must lie between 0 and {length:.1} mm from the heel; in size \
                 {} it is at {mark:.1} mm",
                drafter.size.title
            );
            drafter.say(
                Diagnostic::error("side-mark", Some(&formula.place), message)
                    .remedy("give a distance along the foot, usually ‘0.45 * foot.length’"),
            );
            None
        }
    }
}

fn drawn(
    drafter: &Drafter,
    spec: &PieceSpec,
    start: &PointSpec,
    edges: &[DrawnEdge],
) -> Option<Result<Outline, OutlineFault>> {
    let mut at = drafter.point(spec, start)?;
    let mut list: Vec<Edge> = Vec::new();
    for edge in edges {
        let to = drafter.point(spec, &edge.to)?;
        let handles: Option<Vec<Point>> = edge
            .handles
            .iter()
            .map(|h| drafter.point(spec, h))
            .collect();
        let handles = handles?;
        if list.last().is_none_or(|last| last.name != edge.name) {
            let mut curve = BezPath::new();
            curve.move_to(at);
            list.push(Edge::new(edge.name.clone(), curve));
        }
        let curve = &mut list.last_mut()?.curve;
        match handles.as_slice() {
            [] => curve.line_to(to),
            [a] => curve.quad_to(*a, to),
            [a, b, ..] => curve.curve_to(*a, *b, to),
        }
        at = to;
    }
    Some(Outline::new(list))
}

/// A rectangle from the origin, with quarter circles of `radius` as edges of their own.
fn rectangle(
    drafter: &Drafter,
    spec: &PieceSpec,
    sides: [&Formula; 2],
    radius: Option<&Formula>,
) -> Option<Result<Outline, OutlineFault>> {
    let width = drafter.positive(sides[0], "The width of a rectangle")?;
    let height = drafter.positive(sides[1], "The height of a rectangle")?;
    let rect = Rect::new(0.0, 0.0, width, height);
    let Some(radius) = radius else {
        return Some(Outline::new(plain_rectangle(rect)));
    };
    let r = drafter.positive(radius, "The radius of a corner")?;
    if 2.0 * r > width.min(height) {
        let message = format!(
            "The corners of {} have a radius of {r:.1} mm; with {width:.1} by {height:.1} mm it \
             can be {:.1} mm at most, in size {}",
            spec.title,
            width.min(height) / 2.0,
            drafter.size.title
        );
        let remedy = "make the radius smaller, or the rectangle larger";
        drafter
            .say(Diagnostic::error("corner-radius", Some(&radius.place), message).remedy(remedy));
        return None;
    }
    Some(Outline::new(rounded_rectangle(rect, r)))
}

fn line(name: &str, from: Point, to: Point) -> Edge {
    let mut curve = BezPath::new();
    curve.move_to(from);
    curve.line_to(to);
    Edge::new(name, curve)
}

fn plain_rectangle(r: Rect) -> Vec<Edge> {
    let [a, b, c, d] =
        [(r.x0, r.y0), (r.x1, r.y0), (r.x1, r.y1), (r.x0, r.y1)].map(|(x, y)| Point::new(x, y));
    vec![
        line("top", a, b),
        line("right", b, c),
        line("bottom", c, d),
        line("left", d, a),
    ]
}

fn rounded_rectangle(rect: Rect, radius: f64) -> Vec<Edge> {
    let inner = rect.inset(-radius);
    let quarter = |number: usize, centre: Point| {
        let start = -FRAC_PI_2 + FRAC_PI_2 * (number as f64 - 1.0);
        let arc = Arc::new(centre, Vec2::new(radius, radius), start, FRAC_PI_2, 0.0);
        Edge::new(format!("corner {number}"), arc.to_path(ARC_TOLERANCE))
    };
    let corners = [
        (inner.x1, inner.y0),
        (inner.x1, inner.y1),
        (inner.x0, inner.y1),
        (inner.x0, inner.y0),
    ]
    .map(|(x, y)| Point::new(x, y));
    let sides = plain_rectangle(rect);
    let mut edges = Vec::new();
    for (index, side) in sides.iter().enumerate() {
        let along = (side.end() - side.start()).normalize() * radius;
        let (from, to) = (side.start() + along, side.end() - along);
        if from.distance(to) > 1e-6 {
            edges.push(line(&side.name, from, to));
        }
        edges.push(quarter(index + 1, corners[index]));
    }
    edges
}

/// An ellipse that touches both axes, starting at its right end.
fn ellipse(width: f64, height: f64) -> Result<Outline, OutlineFault> {
    let (centre, radii) = (
        Point::new(width / 2.0, height / 2.0),
        Vec2::new(width, height) / 2.0,
    );
    let arc = Arc::new(centre, radii, 0.0, TAU, 0.0);
    Outline::new(vec![Edge::new("rim", arc.to_path(ARC_TOLERANCE))])
}
