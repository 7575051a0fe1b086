//! A seam: both pieces with the edges that are joined, side by side, or right sides together with the
//! stitches. Millimetres.

use super::find::Finder;
use super::fit::{lay, meeting, mirror_axis};
use super::fold;
use super::notch_seen::NotchSeen;
use super::plan::{Group, Plan, Spot};
use super::ply::Ply;
use super::request::{Named, Shown, Side};
use super::stitch::Look;
use super::worked::Row;
use crate::design::{SeamSpec, Stitch};
use crate::figure::Tint;
use crate::geometry::Edge;
use crate::geometry::probe::meetings;
use crate::piece::WalkedSeam;
use kurbo::{BezPath, Point, Shape, Vec2};

/// Edges of pieces with no allowance may part by this much, mm, and still count as laid together.
const LEAST_APART: f64 = 1.0;

/// Letters of notches that meet; further pairs go without.
const LETTERS: [&str; 8] = ["a", "b", "c", "d", "e", "f", "g", "h"];

/// An arrow keeps this share of the edge away from its notches.
const CLEAR_OF_NOTCH: f64 = 0.07;

/// Two edges that are sewn together: side by side, or right sides together with the seam.
pub(super) fn plan(
    name: &Named,
    together: bool,
    stitch: Option<Look>,
    finder: &mut Finder,
) -> Option<Plan> {
    let walked = finder.seam(name)?;
    let spec = finder.design.seams.iter().find(|s| s.name == name.text)?;
    let pieces = [&walked.from, &walked.to].map(|(piece, edge)| {
        let named = |text: &String| Named {
            text: text.clone(),
            place: name.place.clone(),
        };
        (named(piece), named(edge))
    });
    let [join, to] = pieces.map(|(piece, edge)| {
        let piece = finder.piece(&piece)?;
        let [_, up] = finder.tints(&Shown::plain(&piece.key, &name.place), piece)?;
        Some(JoinedEdge {
            ply: Ply::opened(piece, up),
            right: up,
            edge: edge.text,
        })
    });
    let (join, mut to) = (join?, to?);
    if join.ply.piece.key == to.ply.piece.key && join.edge == to.edge {
        // the half that was opened has the edge twice
        let other = format!("{} mirrored", to.edge);
        if to.ply.piece.outline.edge(&other).is_some() {
            to.edge = other;
        }
    }
    let usual = finder.design.thread.as_ref().map(|thread| thread.stitch);
    let own = spec.stitch.or(usual).unwrap_or(Stitch::Backstitch);
    let look = stitch.unwrap_or(Look::Seam(own));
    match together {
        true => sewn(join, to, spec, look, name, finder),
        false => Some(beside(join, to, spec.same_way, walked)),
    }
}

/// A piece with the edge that is joined.
struct JoinedEdge {
    ply: Ply,
    right: Tint,
    edge: String,
}

impl JoinedEdge {
    fn edge(&self) -> Option<&Edge> {
        self.ply.piece.outline.edge(&self.edge)
    }

    /// The point at a share of its edge.
    fn at(&self, share: f64) -> Point {
        let edge = self.edge();
        edge.map(|e| e.station(share * e.length()).point)
            .unwrap_or_default()
    }

    /// A letter for each of its notches that meets another, in the order of the seam; `pick` says
    /// which of the two names is its own.
    fn notes(&self, walked: &WalkedSeam, pick: usize) -> Vec<(String, Point, Vec2)> {
        let pairs = walked.notch_pairs.iter().zip(LETTERS);
        let found = pairs.filter_map(|(pair, letter)| {
            let name = [&pair.0, &pair.1][pick];
            let on = |n: &&NotchSeen| n.name == *name && n.edge == self.edge;
            let notch = self.ply.notches.iter().find(on)?;
            Some((letter.to_string(), notch.point, notch.outward))
        });
        found.collect()
    }

    /// How far the middle of the edge lies right of the middle of the piece, as a share of half
    /// its width.
    fn leaning(&self) -> f64 {
        let bounds = self.ply.surface.bounding_box();
        let middle = self.edge().map(middle_of).unwrap_or(bounds.center());
        (middle.x - bounds.center().x) / bounds.width().max(1e-9)
    }
}

fn middle_of(edge: &Edge) -> Point {
    edge.station(edge.length() / 2.0).point
}

/// Both pieces, right side up, the joined edges heavy, an arrow from one to the other, and a letter at
/// each pair of notches.
fn beside(mut join: JoinedEdge, to: JoinedEdge, same_way: bool, walked: &WalkedSeam) -> Plan {
    let same = join.ply.piece.key == to.ply.piece.key;
    let swapped = !same && join.leaning() < to.leaning();
    let ways = free_shares(&join, &to, same_way, swapped).into_iter();
    let ends = ways.map(|share| [join.at(share), to.at(partner(share, same_way))]);
    let ends: Vec<[Point; 2]> = ends.collect();
    let noted = [join.notes(walked, 0), to.notes(walked, 1)];
    let curves = [&join, &to].map(|j| j.edge().map(|e| e.curve.clone()).unwrap_or_default());
    let spot = |group, at| Spot { group, at };
    let mut plan = Plan::default();
    if same {
        join.ply.joined.extend(curves);
        let mut group = Group::of(join.ply);
        group.notes.extend(noted.into_iter().flatten());
        plan.groups.push(group);
        let ways = ends.iter().map(|[a, b]| [spot(0, *a), spot(0, *b)]);
        plan.links.push(ways.collect());
        return plan;
    }
    for ((mut j, curve), notes) in [join, to].into_iter().zip(curves).zip(noted) {
        j.ply.joined.push(curve);
        let mut group = Group::of(j.ply);
        group.notes = notes;
        plan.groups.push(group);
    }
    let (from, onto) = if swapped { (1, 0) } else { (0, 1) };
    if swapped {
        plan.groups.reverse();
    }
    let ways = ends.iter().map(|[a, b]| [spot(from, *a), spot(onto, *b)]);
    plan.links.push(ways.collect());
    plan
}

/// The share of the partner's edge that meets a share of the own.
fn partner(share: f64, same_way: bool) -> f64 {
    if same_way { share } else { 1.0 - share }
}

/// Where along the joined edge an arrow may leave it, the best first: clear of the notches, near the middle,
/// and where it has a short way to the other piece, at the right or, if `swapped`, at the left.
fn free_shares(join: &JoinedEdge, to: &JoinedEdge, same_way: bool, swapped: bool) -> Vec<f64> {
    let shares = |j: &JoinedEdge| {
        let length = j.edge().map_or(1.0, Edge::length);
        let on = j.ply.piece.notches.iter().filter(|n| n.edge == j.edge);
        on.map(|n| n.at / length).collect::<Vec<_>>()
    };
    let own = shares(join);
    let others = shares(to).into_iter().map(|n| partner(n, same_way));
    let all: Vec<f64> = own.into_iter().chain(others).collect();
    let clear = |share: f64| all.iter().all(|n| (n - share).abs() > CLEAR_OF_NOTCH);
    let way = if swapped { -1.0 } else { 1.0 };
    let length = join.edge().map_or(1.0, Edge::length);
    let cost = |share: f64| {
        let far = to.at(partner(share, same_way)).x - join.at(share).x;
        way * far + 1.5 * (share - 0.5).abs() * length
    };
    let tried = (5..=15).map(|i| f64::from(i) / 20.0);
    let mut free: Vec<f64> = tried.filter(|s| clear(*s)).collect();
    free.sort_by(|a, b| cost(*a).total_cmp(&cost(*b)));
    if free.is_empty() { vec![0.5] } else { free }
}

/// The joined piece turned over and laid on the other, edge on edge, with the stitches.
fn sewn(
    join: JoinedEdge,
    to: JoinedEdge,
    spec: &SeamSpec,
    look: Look,
    name: &Named,
    finder: &mut Finder,
) -> Option<Plan> {
    let same = join.ply.piece.key == to.ply.piece.key;
    if same && join.edge != to.edge {
        let axis = mirror_axis(join.edge()?, to.edge()?)?;
        let mut plan = fold::folded(&join.ply, to.right, &axis, join.edge()?, name, finder)?;
        let row = across(&to.ply, to.edge()?);
        if let Some(group) = plan.groups.last_mut() {
            group.rows.push(Row::new(row, look));
        }
        return Some(plan);
    }
    let pairs = meeting(join.edge()?, to.edge()?, spec.same_way);
    let laid = lay(&pairs, !spec.same_way);
    flat_enough(laid.apart, [&join, &to], name, finder)?;
    let path = across(&to.ply, to.edge()?);
    let mut below = to.ply;
    below.below = true;
    let over = Ply {
        tint: Side::Wrong.tint(join.right),
        ..join.ply.moved(laid.motion)
    };
    let mut group = Group::of(below);
    group.number = None;
    group.plies.push(over);
    group.rows.push(Row::new(path, look));
    Some(Plan {
        groups: vec![group],
        ..Plan::default()
    })
}

/// Refuses edges that would have to be bent to lie on each other: a flat drawing of them would lie.
fn flat_enough(
    apart: f64,
    edges: [&JoinedEdge; 2],
    name: &Named,
    finder: &mut Finder,
) -> Option<()> {
    let allowed = edges.iter().filter_map(|j| {
        let all = j.ply.piece.outline.edges();
        let index = all.iter().position(|e| e.name == j.edge)?;
        j.ply.piece.allowances.get(index).copied()
    });
    let allowed = allowed.fold(LEAST_APART, f64::max);
    if apart <= allowed {
        return Some(());
    }
    let message = format!(
        "The edges of seam ‘{}’ cannot lie on each other flat: they part by up to {apart:.1} mm, \
         more than the allowance of {allowed:.1} mm",
        name.text
    );
    let remedy = "Leave out ‘laid’: then the pieces lie side by side, with an arrow.";
    finder.wrong(&name.place, message, remedy);
    None
}

/// The seam along an edge, run on straight over the allowances at both ends.
fn across(ply: &Ply, edge: &Edge) -> BezPath {
    let (start, end) = (edge.start(), edge.end());
    let out = |at: Point, way: Vec2| {
        let reach = ply.surface.bounding_box().size().to_vec2().hypot();
        let line = kurbo::Line::new(at, at + way * reach);
        let hits = ply.surface.segments().flat_map(|s| meetings(&s, line));
        let nearest = hits.map(|hit| hit.share * reach).fold(f64::MAX, f64::min);
        // an end that lies inside the cloth without an allowance near it stays where it is
        let widest = ply.piece.allowances.iter().copied().fold(0.0, f64::max);
        at + way
            * if nearest <= 2.5 * widest {
                nearest
            } else {
                0.0
            }
    };
    let mut path = BezPath::new();
    path.move_to(out(start, -edge.start_tangent()));
    path.line_to(start);
    for segment in edge.curve.segments() {
        path.push(segment.as_path_el());
    }
    path.line_to(out(end, edge.end_tangent()));
    ply.onto * path
}
