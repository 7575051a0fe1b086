//! Ends of lines run to where they belong: the outer contour closes, other lines end on the line
//! they meet. Millimetres on paper.

use super::chain::{Chain, End};
use super::line_kind::LineKind;
use super::polyline::lengths;
use kurbo::{Point, Vec2};
use std::collections::BTreeSet;

/// Ends of the contour farther apart than this are not brought together...
const CONTOUR: f64 = 2.6;
/// ...and both run to where their tangents meet, if that is nearer than this to both.
const CORNER: f64 = 1.5;
/// Tangents meet if the sine of their angle is above this.
const MEETING: f64 = 0.25;

/// A contour may close on itself if it has more samples than this.
const CLOSES: usize = 40;

/// How far an end runs on along its tangent to the line it meets, how far if it would otherwise have
/// to be bent, and from how far inside that is looked for, so that an end that overshot is cut back.
const AHEAD: f64 = 0.9;
const FAR_AHEAD: f64 = 2.0;
const INSIDE: f64 = 0.3;

/// How far an end runs to the nearest point of a line if it meets none; ends of the contour farther.
const ASIDE: f64 = 0.7;
const CONTOUR_ASIDE: f64 = 1.8;

/// How much of the chain's end is replaced by the way to its new end.
const REPLACED: f64 = 0.12;

/// Over what length a line that runs aside is bent, mm, and as a share of the line at most: shorter
/// and it would end in a hook.
const BENT: f64 = 2.5;
const BENT_SHARE: f64 = 0.6;

/// A chain's number and one of its ends.
type Tip = (usize, End);

/// Where an end is to run.
struct Move {
    tip: Tip,
    to: Point,
    manner: Manner,
}

/// How an end gets there.
enum Manner {
    /// Straight on in this direction, or cut back.
    Straight(Vec2),
    /// The line's last part is bent.
    Bent,
}

/// Brings the ends of all chains to where they belong.
pub(super) fn snap(chains: &mut [Chain]) {
    let (mut moves, done) = close_contour(chains);
    for number in 0..chains.len() {
        let chain = &chains[number];
        if chain.closed || chain.kind.floats() {
            continue;
        }
        for end in End::BOTH {
            let tip = (number, end);
            if chain.gap(end) > 0.0 || done.contains(&tip) {
                continue;
            }
            moves.extend(open_end(chains, tip));
        }
    }
    for step in moves {
        apply(&mut chains[step.tip.0], &step);
    }
}

/// Pairs of contour ends, nearest first.
fn close_contour(chains: &[Chain]) -> (Vec<Move>, BTreeSet<Tip>) {
    let open = |chain: &Chain| chain.kind == LineKind::Outer && !chain.closed;
    let tips: Vec<Tip> = chains
        .iter()
        .enumerate()
        .filter(|(_, chain)| open(chain))
        .flat_map(|(number, _)| End::BOTH.map(|end| (number, end)))
        .collect();
    let mut pairs = Vec::new();
    for (i, a) in tips.iter().enumerate() {
        for b in &tips[i + 1..] {
            if a.0 != b.0 || chains[a.0].points.len() > CLOSES {
                let distance = chains[a.0].end(a.1).distance(chains[b.0].end(b.1));
                pairs.push((distance, *a, *b));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut done = BTreeSet::new();
    let mut moves = Vec::new();
    for (distance, a, b) in pairs {
        if distance > CONTOUR || done.contains(&a) || done.contains(&b) {
            continue;
        }
        let to = corner(chains, a, b);
        for tip in [a, b] {
            done.insert(tip);
            moves.push(Move {
                tip,
                to,
                manner: Manner::Straight(chains[tip.0].outward(tip.1)),
            });
        }
    }
    (moves, done)
}

/// Where two ends meet: on both tangents if that is near, else in the middle.
fn corner(chains: &[Chain], a: Tip, b: Tip) -> Point {
    let (p, q) = (chains[a.0].end(a.1), chains[b.0].end(b.1));
    let (t, u) = (chains[a.0].outward(a.1), chains[b.0].outward(b.1));
    let sine = t.cross(u);
    if sine.abs() > MEETING {
        let meet = p + t * ((q - p).cross(u) / sine);
        if meet.distance(p) < CORNER && meet.distance(q) < CORNER {
            return meet;
        }
    }
    p.midpoint(q)
}

/// Where an end that is no end of the contour runs: on along its tangent, or to the nearest line.
fn open_end(chains: &[Chain], tip: Tip) -> Option<Move> {
    let straight = |to| Move {
        tip,
        to,
        manner: Manner::Straight(chains[tip.0].outward(tip.1)),
    };
    if let Some(to) = ahead(chains, tip, AHEAD) {
        return Some(straight(to));
    }
    let nearest = aside(chains, tip)?;
    let bent = Move {
        tip,
        to: nearest,
        manner: Manner::Bent,
    };
    Some(ahead(chains, tip, FAR_AHEAD).map_or(bent, straight))
}

/// Where the tangent of an end first meets a line of the same or higher rank, no farther than
/// `farthest`.
fn ahead(chains: &[Chain], tip: Tip, farthest: f64) -> Option<Point> {
    let chain = &chains[tip.0];
    let (point, outward) = (chain.end(tip.1), chain.outward(tip.1));
    let from = point - outward * INSIDE;
    let mut best: Option<(f64, Point)> = None;
    for (number, other) in chains.iter().enumerate() {
        let weaker = other.kind.floats() || other.kind.rank() > chain.kind.rank();
        if number == tip.0 || weaker {
            continue;
        }
        let reach = best.map_or(farthest, |(distance, _)| distance);
        if let Some(hit) = first_hit(from, outward, &other.points, reach + INSIDE) {
            let way = hit - INSIDE;
            if way.abs() < reach {
                best = Some((way.abs(), point + outward * way));
            }
        }
    }
    best.map(|(_, to)| to)
}

/// The nearest point of a line of the same or higher rank.
fn aside(chains: &[Chain], tip: Tip) -> Option<Point> {
    let chain = &chains[tip.0];
    let point = chain.end(tip.1);
    let mut limit = if chain.kind == LineKind::Outer {
        CONTOUR_ASIDE
    } else {
        ASIDE
    };
    let rank = chain.kind.rank().max(LineKind::Edge.rank());
    let mut best = None;
    for (number, other) in chains.iter().enumerate() {
        if number == tip.0 || other.kind.rank() > rank {
            continue;
        }
        for candidate in &other.points {
            let distance = candidate.distance(point);
            if distance < limit {
                limit = distance;
                best = Some(*candidate);
            }
        }
    }
    best
}

/// Smallest distance up to `limit` along a ray at which it meets a polyline.
fn first_hit(from: Point, way: Vec2, chain: &[Point], limit: f64) -> Option<f64> {
    let mut best = None;
    let mut limit = limit;
    for pair in chain.windows(2) {
        let (along, off) = (pair[1] - pair[0], pair[0] - from);
        let sine = way.cross(along);
        if sine.abs() < 1e-9 {
            continue;
        }
        let distance = off.cross(along) / sine;
        let share = off.cross(way) / sine;
        if (0.0..=limit).contains(&distance) && (0.0..=1.0).contains(&share) {
            limit = distance;
            best = Some(distance);
        }
    }
    best
}

fn apply(chain: &mut Chain, step: &Move) {
    if step.tip.1 == End::First {
        chain.reverse();
    }
    match step.manner {
        Manner::Straight(outward) => extend(chain, step.to, outward),
        Manner::Bent => bend(chain, step.to),
    }
    if step.tip.1 == End::First {
        chain.reverse();
    }
}

/// Lets the last end run straight to a point; what lies beyond it is cut off.
fn extend(chain: &mut Chain, to: Point, outward: Vec2) {
    let along = lengths(&chain.points);
    let whole = along.last().copied().unwrap_or(0.0);
    let over = (chain.end(End::Last) - to).dot(outward).max(0.0) + REPLACED;
    let kept = along.iter().filter(|l| whole - **l > over).count().max(2);
    chain.points.truncate(kept);
    chain.points.push(to);
}

/// Bends the last part so that it ends at a point.
fn bend(chain: &mut Chain, to: Point) {
    let along = lengths(&chain.points);
    let whole = along.last().copied().unwrap_or(0.0);
    let reach = BENT.min(BENT_SHARE * whole).max(1e-9);
    let way = to - chain.end(End::Last);
    for (point, along) in chain.points.iter_mut().zip(&along) {
        let share = (1.0 - (whole - along) / reach).max(0.0);
        *point += way * (share * share * (3.0 - 2.0 * share));
    }
}
