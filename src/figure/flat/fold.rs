//! Folding: a ply parted along a line, the part beyond it mirrored in the line and laid on the rest.
//! Lengths and areas of the cloth stay. Millimetres.

use super::arrow::{Kind, swung};
use super::find::Finder;
use super::fit::mirror_axis;
use super::half::Axis;
use super::lying::lying;
use super::plan::{Arrow, Group, Plan};
use super::ply::Ply;
use super::request::{Along, Named, Shown, Side};
use crate::figure::Tint;
use crate::geometry::probe::meetings;
use crate::geometry::{Edge, curve};
use crate::piece::MarkKind;
use kurbo::{Affine, BezPath, ParamCurve, ParamCurveArclen, PathSeg, Point, Shape, Vec2};

/// A line whose points lie further than this from its chord, mm, cannot be folded on.
const STRAIGHT: f64 = 0.2;

/// A corner is turned back by this share of the piece's smaller dimension.
const CORNER: f64 = 0.34;
/// And by at least this, or nobody would see it.
const LEAST_CORNER: f64 = 0.13;
/// A corner turns by at least this, radians.
const SHARP: f64 = 0.9;
/// A corner is turned back by this share of the shorter of its sides.
const SIDES: f64 = 0.4;
/// What is turned back is less than this share of the piece.
const LARGEST_FLAP: f64 = 0.09;

/// The states of folding that are asked for.
pub(super) fn plan(
    shown: &Shown,
    along: &Along,
    (states, over): ([bool; 2], bool),
    finder: &mut Finder,
) -> Option<Plan> {
    let (ply, right) = lying(shown, finder, true)?;
    let axis = axis(&ply, shown, along, finder)?;
    let side = shown.side.unwrap_or(Side::Right);
    let [_, moving] = parted(&ply, &axis);
    let mut plan = Plan {
        states: states == [true, true],
        swings: states[0],
        ..Plan::default()
    };
    if states[0] {
        let mut flat = ply.clone();
        flat.folds.push(on_piece(&ply, &axis));
        let from = middle(&moving.surface);
        let path = ply.onto * swung(from, axis.mirror() * from, 0.22);
        let mut group = Group::of(flat);
        group.number = None;
        let kind = Kind::Plain;
        group.arrows.push(Arrow { path, kind });
        plan.groups.push(group);
    }
    if states[1] {
        let folded = laid_over(&ply, &axis, side.other().tint(right));
        plan.groups.push(match over {
            true => turned_over(folded, [side, side.other()].map(|side| side.tint(right))),
            false => folded,
        });
    }
    Some(plan)
}

/// A ply folded so that `edge` comes to lie on its mirror image in `axis`.
pub(super) fn folded(
    ply: &Ply,
    right: Tint,
    axis: &Axis,
    edge: &Edge,
    name: &Named,
    finder: &mut Finder,
) -> Option<Plan> {
    let middle = edge.station(edge.length() / 2.0).point;
    let axis = match axis.left_of(middle) > 0.0 {
        true => *axis,
        false => axis.turned(),
    };
    let [rest, moving] = parted(ply, &axis);
    if rest.surface.is_empty() || moving.surface.is_empty() {
        let message = format!(
            "The edges of seam ‘{}’ lie on one side of a fold",
            name.text
        );
        finder.wrong(&name.place, message, "Leave out ‘laid’.");
        return None;
    }
    Some(Plan {
        groups: vec![laid_over(ply, &axis, Side::Wrong.tint(right))],
        ..Plan::default()
    })
}

/// The ply with what lies left of `axis` folded over.
pub(super) fn laid_over(ply: &Ply, axis: &Axis, under: Tint) -> Group {
    let [mut rest, moving] = parted(ply, axis);
    rest.below = true;
    let flap = mirrored(moving, axis, under);
    let mut group = Group::of(rest);
    group.number = None;
    group.plies.push(flap);
    group
}

/// A folded ply turned over: what lay below is above, the other side of both is up. `tints` are those of
/// the side that lay up and of the other.
fn turned_over(mut group: Group, [up, down]: [Tint; 2]) -> Group {
    let over = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    group.plies.reverse();
    let last = group.plies.len().saturating_sub(1);
    for (index, ply) in group.plies.iter_mut().enumerate() {
        ply.onto = over * ply.onto;
        ply.below = index < last;
        ply.tint = if index < last { up } else { down };
    }
    group
}

/// A part that is folded over: mirrored in the line, its other side up.
pub(super) fn mirrored(part: Ply, axis: &Axis, tint: Tint) -> Ply {
    Ply {
        onto: part.onto * axis.mirror(),
        tint,
        ..part
    }
}

/// The ply with its upper right corner turned back, so that the sides within are seen.
pub(super) fn corner_back(ply: &Ply, under: Tint) -> [Ply; 2] {
    let outline = ply.outline();
    let bounds = outline.bounding_box();
    let (furthest, out, reach) = corner_of(&outline);
    let across = bounds.width().min(bounds.height());
    let most = reach.clamp(LEAST_CORNER * across, CORNER * across);
    let back = ply.onto.inverse();
    let along = Vec2::new(-out.y, out.x);
    let whole = ply.surface.area().abs();
    let at = |depth: f64| {
        let point = furthest - out * depth;
        let axis = Axis::through(back * point, back * (point + along))?;
        // its left is the side of the corner
        Some(match axis.left_of(back * furthest) > 0.0 {
            true => axis,
            false => axis.turned(),
        })
    };
    let depths = (0..8).map(|i| most * 0.8_f64.powi(i));
    let small = |axis: &Axis| axis.closed_left(&ply.surface).area().abs() < LARGEST_FLAP * whole;
    let Some(axis) = depths.filter_map(at).find(small) else {
        return [ply.clone(), ply.clone()];
    };
    let [rest, moving] = parted(ply, &axis);
    let mut flap = mirrored(moving, &axis, under);
    flap.notches.clear();
    [rest, flap]
}

/// The highest corner of an outline, the right one of two, with its way out and how far in it may be
/// turned back without leaving its own two sides; where there is none, the furthest point at the
/// upper right.
fn corner_of(outline: &BezPath) -> (Point, Vec2, f64) {
    let segments: Vec<PathSeg> = outline.segments().collect();
    let clockwise = if outline.area() < 0.0 { -1.0 } else { 1.0 };
    let mut best: Option<(f64, Point, Vec2, f64)> = None;
    for (index, segment) in segments.iter().enumerate() {
        let before = &segments[(index + segments.len() - 1) % segments.len()];
        let (a, b) = (curve::tangent(before, 1.0), curve::tangent(segment, 0.0));
        let turn = clockwise * a.cross(b).atan2(a.dot(b));
        let out = a - b;
        if !(SHARP..3.0).contains(&turn) || out.hypot() < 1e-9 {
            continue;
        }
        let at = segment.start();
        let high = at.x * 0.2 - at.y;
        if best.is_none_or(|(most, ..)| high > most + 1e-9) {
            let sides = [before, segment].map(|s| s.arclen(1e-3));
            let reach = SIDES * sides[0].min(sides[1]);
            best = Some((high, at, out.normalize(), reach));
        }
    }
    if let Some((_, at, out, reach)) = best {
        return (at, out, reach);
    }
    let out = Vec2::new(1.0, -1.0).normalize();
    let reach = |p: &Point| p.to_vec2().dot(out);
    let points = segments.iter().flat_map(|s| [s.eval(0.0), s.eval(0.5)]);
    let furthest = points.max_by(|a, b| reach(a).total_cmp(&reach(b)));
    (furthest.unwrap_or_default(), out, f64::INFINITY)
}

/// What stays, right of the line, and what moves, left of it; the line in the piece's axes.
pub(super) fn parted(ply: &Ply, axis: &Axis) -> [Ply; 2] {
    [axis.turned(), *axis].map(|axis| {
        let keeps = |p: Point| axis.left_of(p) >= -1e-6;
        let lines = |list: &[BezPath]| {
            let parts = list.iter().map(|path| axis.open_left(path));
            parts.filter(|path| !path.is_empty()).collect::<Vec<_>>()
        };
        Ply {
            surface: axis.closed_left(&ply.surface),
            seam_line: axis.open_left(&ply.seam_line),
            marks: ply
                .marks
                .iter()
                .map(|(path, stroke)| (axis.open_left(path), *stroke))
                .filter(|(path, _)| !path.is_empty())
                .collect(),
            rounds: ply.rounds.iter().filter(|r| keeps(r.0)).copied().collect(),
            notches: ply
                .notches
                .iter()
                .filter(|n| keeps(n.point))
                .cloned()
                .collect(),
            parted: ply.parted.iter().copied().chain([axis]).collect(),
            folds: Vec::new(),
            joined: lines(&ply.joined),
            cut_off: None,
            ..ply.clone()
        }
    })
}

/// Where the piece is folded, its moving part on the left.
fn axis(ply: &Ply, shown: &Shown, along: &Along, finder: &mut Finder) -> Option<Axis> {
    match along {
        Along::Line(name) => {
            let path = line(ply, shown, name, finder)?;
            let axis = straight(&path);
            let Some(axis) = axis else {
                let message = format!("The line ‘{}’ is not straight", name.text);
                finder.wrong(&name.place, message, "Cloth folds along straight lines.");
                return None;
            };
            let area = |axis: &Axis| axis.closed_left(&ply.surface).area().abs();
            Some(match area(&axis) > area(&axis.turned()) + 1e-6 {
                true => axis.turned(),
                false => axis,
            })
        }
        Along::Edges { lay, on } => {
            let moving = finder.edge(&ply.piece, lay)?;
            let still = finder.edge(&ply.piece, on)?;
            let axis = mirror_axis(moving, still)?;
            let middle = moving.station(moving.length() / 2.0).point;
            Some(match axis.left_of(middle) > 0.0 {
                true => axis,
                false => axis.turned(),
            })
        }
    }
}

/// The course of a line of the piece, or of its edge on the fold.
fn line(ply: &Ply, shown: &Shown, name: &Named, finder: &mut Finder) -> Option<BezPath> {
    let piece = finder.piece(&shown.piece)?;
    if piece.fold.as_deref() == Some(name.text.as_str()) {
        return piece
            .outline
            .edge(&name.text)
            .map(|edge| edge.curve.clone());
    }
    let lines = ply.piece.marks.iter().filter_map(|mark| match &mark.kind {
        MarkKind::Line { path, .. } => Some((mark.words.as_deref().unwrap_or("line"), path)),
        _ => None,
    });
    let lines: Vec<_> = lines.collect();
    let found = lines.iter().find(|(words, _)| *words == name.text);
    if found.is_none() {
        let message = format!("{} has no line ‘{}’ to fold on", piece.title, name.text);
        let known = lines
            .iter()
            .map(|(words, _)| *words)
            .chain(piece.fold.as_deref());
        let remedy = super::find::nearest(&name.text, known);
        finder.wrong(&name.place, message, remedy);
    }
    found.map(|(_, path)| (*path).clone())
}

/// The axis of a path that keeps to its chord.
pub(super) fn straight(path: &BezPath) -> Option<Axis> {
    let from = path.segments().next()?.start();
    let to = path.segments().last()?.end();
    let axis = Axis::through(from, to)?;
    let on = |p: Point| axis.left_of(p).abs() <= STRAIGHT;
    let all = path
        .segments()
        .all(|s| (0..=8).all(|i| on(s.eval(f64::from(i) / 8.0))));
    all.then_some(axis)
}

/// The stretch of the axis that lies on the piece.
fn on_piece(ply: &Ply, axis: &Axis) -> BezPath {
    let reach = ply.surface.bounding_box().size().to_vec2().hypot() + 1.0;
    let foot = ply.surface.bounding_box().center();
    let middle = axis.point + axis.along * (foot - axis.point).dot(axis.along);
    let line = kurbo::Line::new(middle - axis.along * reach, middle + axis.along * reach);
    let hits = ply.surface.segments().flat_map(|s| meetings(&s, line));
    let places: Vec<f64> = hits.map(|hit| hit.share).collect();
    let low = places.iter().copied().fold(f64::MAX, f64::min);
    let high = places.iter().copied().fold(f64::MIN, f64::max);
    let mut path = BezPath::new();
    if low <= high {
        path.move_to(line.eval(low));
        path.line_to(line.eval(high));
    }
    path
}

/// The centre of a surface's outline.
fn middle(surface: &BezPath) -> Point {
    let points = curve::spread(surface, 64);
    let sum: Vec2 = points.iter().map(|p| p.to_vec2()).sum();
    (sum / points.len().max(1) as f64).to_point()
}
