//! An edge drawn up on threads: two rows in its allowance, their ends beside the notches between which
//! they run, and arrows that say that the cloth is pushed together. Millimetres, some on paper.

use super::arrow::{Kind, straight};
use super::find::Finder;
use super::hem::beside;
use super::notch_seen::half_width;
use super::plan::{Arrow, Group, Plan};
use super::ply::Ply;
use super::request::{Gather, Named};
use super::target::target;
use super::worked::Thread;
use crate::geometry::{Edge, curve};
use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveNearest, Point, Vec2};

/// The threads lie at these shares of the allowance.
const THREADS: [f64; 2] = [0.3, 0.65];
/// They hang out by this share of their length.
const TAILS: f64 = 0.1;
/// White between a notch and the nearest thread that hangs out beside it, and from one to the next, on
/// paper.
const CLEAR: f64 = 0.9;
const APART: f64 = 1.1;

/// Two threads in the allowance, hanging out at both ends, and arrows that say that the cloth is
/// pushed together between.
pub(super) fn add(plan: &mut Plan, asked: &Gather, finder: &mut Finder) -> Option<()> {
    let [g, p] = target(plan, asked.piece.as_ref(), Some(&asked.edge), finder)?;
    let ply = plan.groups[g].plies[p].clone();
    let edge = finder.edge(&ply.piece, &asked.edge)?.clone();
    let index = ply
        .piece
        .outline
        .edges()
        .iter()
        .position(|e| e.name == edge.name)?;
    let allowance = ply.piece.allowances.get(index).copied().unwrap_or(0.0);
    let ends = match &asked.between {
        None => [(0.0, 0), (edge.length(), 0)],
        Some(names) => {
            let mut ends = [(0.0, 0); 2];
            for (end, name) in ends.iter_mut().zip(names) {
                *end = place_on(&ply, &edge, name, finder)?;
            }
            ends.sort_by(|a, b| a.0.total_cmp(&b.0));
            ends
        }
    };
    let group = &mut plan.groups[g];
    let threads =
        (0..THREADS.len()).filter_map(|number| thread(&ply, &edge, ends, (number, allowance)));
    group.threads.extend(threads);
    push_together(group, &ply, &edge, ends.map(|end| end.0), allowance);
    plan.swings = true;
    Some(())
}

/// A thread between two places, each with the number of notches that stand there: it ends beside them, and
/// hangs out over the cut edge there; else it runs on along the edge.
fn thread(
    ply: &Ply,
    edge: &Edge,
    ends: [(f64, u32); 2],
    (number, allowance): (usize, f64),
) -> Option<Thread> {
    let line = beside(edge, -THREADS[number] * allowance);
    let [from, to] = ends.map(|end| end.0);
    // beside a bent edge the line is longer or shorter than the edge
    let beside = |at: f64| {
        let out = THREADS[number] * allowance * outward(edge, at).normalize();
        reached(&line, edge.station(at).point + out)
    };
    let part = curve::part(&line, beside(from), beside(to), 1e-3);
    let (first, last) = part.segments().next().zip(part.segments().last())?;
    let along = [-curve::tangent(&first, 0.0), curve::tangent(&last, 1.0)];
    let reach = TAILS * (to - from);
    let turned = |way: Vec2| ply.onto * way.to_point() - ply.onto * Point::ZERO;
    // the inner thread ends first, so that the two hang side by side
    let inner = (THREADS.len() - 1 - number) as f64;
    let short = ends.map(|(_, notches)| match notches {
        0 => 0.0,
        count => half_width(count) + CLEAR + inner * APART,
    });
    let way = |end: usize| match ends[end] {
        (_, 0) => along[end],
        (at, _) => outward(edge, at),
    };
    Some(Thread {
        line: ply.onto * part,
        short,
        tails: [0, 1].map(|end| turned(way(end) * reach)),
    })
}

/// How far along `line` it comes nearest to `point`, mm.
pub(super) fn reached(line: &BezPath, point: Point) -> f64 {
    let (mut gone, mut best) = (0.0, (f64::INFINITY, 0.0));
    for segment in line.segments() {
        let near = segment.nearest(point, 1e-6);
        if near.distance_sq < best.0 {
            let before = segment.subsegment(0.0..near.t).arclen(1e-3);
            best = (near.distance_sq, gone + before);
        }
        gone += segment.arclen(1e-3);
    }
    best.1
}

fn outward(edge: &Edge, at: f64) -> Vec2 {
    let station = edge.station(at);
    Vec2::new(station.tangent.y, -station.tangent.x)
}

/// How far along the edge a notch stands, and how many there are side by side.
pub(super) fn place_on(
    ply: &Ply,
    edge: &Edge,
    name: &Named,
    finder: &mut Finder,
) -> Option<(f64, u32)> {
    let notch = finder.notch(ply, name)?;
    if notch.edge != edge.name {
        let message = format!("Notch ‘{}’ is not on edge ‘{}’", name.text, edge.name);
        let remedy = format!("It stands on ‘{}’.", notch.edge);
        finder.wrong(&name.place, message, remedy);
        return None;
    }
    let on = ply.piece.notches.iter().find(|n| n.name == name.text)?;
    Some((on.at, on.count.max(1)))
}

fn push_together(group: &mut Group, ply: &Ply, edge: &Edge, ends: [f64; 2], allowance: f64) {
    let [from, to] = ends;
    let length = to - from;
    let outside = |at: f64| -> Point {
        edge.station(at).point + outward(edge, at) * (allowance + 0.09 * length)
    };
    for (start, end) in [(0.2, 0.38), (0.8, 0.62)] {
        let path = straight(outside(from + start * length), outside(from + end * length));
        group.arrows.push(Arrow {
            path: ply.onto * path,
            kind: Kind::Plain,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::Tint;
    use crate::plates::fixtures::toe;
    use kurbo::Affine;

    #[test]
    fn threads_end_beside_a_notch_and_touch_neither_it_nor_each_other() {
        let ply = Ply::drawn(&toe(1.7, 4.8), Tint::Right);
        let edge = ply.piece.outline.edges()[0].clone();
        let whole = edge.length();
        let ends = [0.2, 0.8].map(|share| share * whole);
        for (scale, count) in [(0.3, 1), (0.6, 1), (0.6, 2)] {
            let paper = Affine::scale(scale);
            let threads = [0, 1].map(|n| {
                let thread = thread(&ply, &edge, ends.map(|at| (at, count)), (n, 4.8)).unwrap();
                thread.on_paper(paper).1
            });
            for (end, at) in ends.into_iter().enumerate() {
                let station = edge.station(at);
                let along = station.tangent.normalize();
                let off = |p: Point| (p - paper * station.point).dot(along).abs();
                let tails = threads.each_ref().map(|tails| {
                    let points = curve::spread(&tails[end], 8);
                    points.into_iter().map(off).fold(f64::MAX, f64::min)
                });
                // half a notch is 0.8 mm wide, the second of two stands 1.84 mm on
                let notch = 0.8 + 0.92 * f64::from(count - 1);
                assert!(
                    tails[1] > notch + 0.4 && tails[0] > tails[1] + 0.5,
                    "{tails:?}"
                );
            }
        }
    }
}
