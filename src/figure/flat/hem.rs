//! An edge turned to the wrong side: a hem, or a casing with elastic in it. The turned allowance is
//! mirrored in its seam line. Millimetres.

use super::arrow::{Kind, straight as straight_way};
use super::board::round;
use super::find::Finder;
use super::fold::{mirrored, parted, straight};
use super::lying::lying;
use super::plan::{Arrow, Group, Plan};
use super::ply::Ply;
use super::request::{Named, Shown, Side, TurnedIn};
use super::stitch::Look;
use super::worked::{HIDDEN_ELASTIC, Row};
use crate::design::Formula;
use crate::geometry::{Corner, Edge, curve, cut_line};
use crate::plates::ink::path_of;
use kurbo::{BezPath, Circle, Point, Shape, Vec2};

/// Points along a curved edge, to the millimetre.
pub(super) const PER_MM: f64 = 2.0;

/// The stitches of a hem stand this share of its depth from the fold, unless the design says.
const STITCHED_AT: f64 = 0.86;
/// Half the width of elastic, as a share of the depth of its casing.
const ELASTIC: f64 = 0.24;

/// The piece, wrong side up unless asked for, with an edge turned in.
pub(super) fn plan(
    shown: &Shown,
    edge: &Named,
    stitch: Option<&(Look, Formula)>,
    turned: TurnedIn,
    finder: &mut Finder,
) -> Option<Plan> {
    let side = shown.side.unwrap_or(Side::Wrong);
    let asked = Shown {
        side: Some(side),
        ..shown.clone()
    };
    let (ply, right) = lying(&asked, finder, shown.opened)?;
    let found = finder.edge(&ply.piece, edge)?.clone();
    let all = ply.piece.outline.edges();
    let index = all.iter().position(|e| e.name == found.name)?;
    let depth = ply.piece.allowances.get(index).copied().unwrap_or(0.0);
    if depth < 1e-6 {
        let message = format!(
            "Edge ‘{}’ of {} has no allowance to turn in",
            edge.text, ply.piece.title
        );
        finder.wrong(&edge.place, message, "Name an edge with an allowance.");
        return None;
    }
    // of one turned twice half is seen, and the other half lies beneath it
    let depth = if turned.twice { depth / 2.0 } else { depth };
    let under = side.other().tint(right);
    let [rest, strip] = match straight(&found.curve) {
        Some(axis) => {
            let [rest, mut moving] = parted(&ply, &axis);
            if turned.twice {
                [moving, _] = parted(&moving, &axis.moved_left(depth));
            }
            let mut strip = mirrored(moving, &axis, under);
            strip.seam_line = BezPath::new();
            [rest, strip]
        }
        None => curved(&ply, index, depth, under, finder, edge)?,
    };
    // turned to the wrong side: on top when that is up, hidden when the right side is
    let [lower, upper] = match side {
        Side::Wrong => [rest, strip],
        Side::Right => [strip, rest],
    };
    let mut group = Group::of(Ply {
        below: true,
        ..lower
    });
    group.plies.push(upper);
    let inside = |by: f64| ply.onto * beside(&found, by);
    if let Some((look, at)) = stitch {
        let at = finder.length(at)?;
        let at = if at > 0.0 { at } else { STITCHED_AT * depth };
        group.rows.push(Row::in_strip(inside(at), *look, depth));
    }
    if turned.elastic {
        with_elastic(&mut group, &ply, &found, depth);
    }
    Some(Plan {
        groups: vec![group],
        ..Plan::default()
    })
}

/// The body without the allowance of the edge, and the turned allowance along a curve.
fn curved(
    ply: &Ply,
    index: usize,
    depth: f64,
    under: crate::figure::Tint,
    finder: &mut Finder,
    named: &Named,
) -> Option<[Ply; 2]> {
    let outline = &ply.piece.outline;
    let edge = outline.edges().get(index)?;
    let mut allowances = ply.piece.allowances.clone();
    *allowances.get_mut(index)? = 0.0;
    let corners = vec![Corner::Square; allowances.len()];
    let Ok(body) = cut_line(outline, &allowances, &corners, 0.01) else {
        let message = format!("Edge ‘{}’ cannot be drawn turned in", named.text);
        finder.wrong(&named.place, message, "Show the piece itself.");
        return None;
    };
    let mut surface = edge.curve.clone();
    for point in points(edge, depth).into_iter().rev() {
        surface.line_to(point);
    }
    surface.close_path();
    let bare = |n: &&super::notch_seen::NotchSeen| n.edge != edge.name;
    let rest = Ply {
        surface: body,
        notches: ply.notches.iter().filter(bare).cloned().collect(),
        ..ply.clone()
    };
    let strip = Ply {
        surface,
        tint: under,
        seam_line: BezPath::new(),
        marks: Vec::new(),
        rounds: Vec::new(),
        notches: Vec::new(),
        ..ply.clone()
    };
    Some([rest, strip])
}

/// Points along an edge, `by` mm inside it (outside if negative).
fn points(edge: &Edge, by: f64) -> Vec<Point> {
    let length = edge.length();
    let count = (length * PER_MM).ceil().clamp(8.0, 2000.0);
    let at = |i: usize| {
        let station = edge.station(i as f64 / count * length);
        station.point + Vec2::new(-station.tangent.y, station.tangent.x) * by
    };
    (0..=count as usize).map(at).collect()
}

/// The line `by` mm inside an edge.
pub(super) fn beside(edge: &Edge, by: f64) -> BezPath {
    if by.abs() < 1e-9 {
        return edge.curve.clone();
    }
    path_of(&points(edge, by))
}

/// A cross near the start of an edge: where elastic is fastened.
fn cross(edge: &Edge, by: f64, size: f64) -> BezPath {
    let line = beside(edge, by);
    let mut path = BezPath::new();
    let Some(station) = curve::station(&line, 2.0 * size, 1e-3) else {
        return path;
    };
    let along = station.tangent * size;
    let across = Vec2::new(-along.y, along.x);
    for way in [along + across, along - across] {
        path.move_to(station.point - way);
        path.line_to(station.point + way);
    }
    path
}

/// Elastic in a casing: its edges hidden, a cross where it is fastened, its other end free.
fn with_elastic(group: &mut Group, ply: &Ply, edge: &Edge, depth: f64) {
    let middle = STITCHED_AT * depth / 2.0;
    for by in [-ELASTIC, ELASTIC] {
        let line = beside(edge, middle + by * depth);
        group.lines.push((ply.onto * line, HIDDEN_ELASTIC));
    }
    let fastened = cross(edge, middle, 0.3 * depth);
    group.lines.push((ply.onto * fastened, round(0.45)));
    pulled(group, ply, edge, middle, depth);
}

/// The free end of the elastic, with the pin that it is drawn through with, and the way it goes.
fn pulled(group: &mut Group, ply: &Ply, edge: &Edge, by: f64, depth: f64) {
    let line = beside(edge, by);
    let Some(end) = curve::station(&line, f64::MAX, 1e-3) else {
        return;
    };
    let (along, across) = (end.tangent, Vec2::new(-end.tangent.y, end.tangent.x));
    let out = |far: f64, side: f64| end.point + along * far * depth + across * side * depth;
    let strip = path_of(&[
        out(0.0, ELASTIC),
        out(0.9, ELASTIC),
        out(0.9, -ELASTIC),
        out(0.0, -ELASTIC),
    ]);
    let pin = Circle::new(out(1.25, 0.0), 0.22 * depth).to_path(1e-3);
    let bar = path_of(&[out(0.6, 0.0), out(1.03, 0.0)]);
    for path in [strip, pin, bar] {
        group.lines.push((ply.onto * path, round(0.3)));
    }
    group.arrows.push(Arrow {
        path: ply.onto * straight_way(out(1.7, 0.0), out(3.0, 0.0)),
        kind: Kind::Plain,
    });
}
