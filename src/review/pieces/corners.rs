//! Corners: where joined edges run on, and where a hem is turned up.

use super::{One, Said};
use crate::diagnostic::Level;
use crate::geometry::Edge;
use crate::piece::Piece;
use std::f64::consts::PI;

/// A joined edge that turns by more than this, degrees, has a point; by the second if its two halves
/// leave the seam at angles as different as the third (from judgement: an underarm may turn by 100).
const TURNS: f64 = 110.0;
const UNEVEN: [f64; 2] = [30.0, 60.0];

/// Edges that meet at more than this, degrees, are one line in two parts (from judgement).
const PARTED: f64 = 165.0;

/// A hem narrower than this, mm, gives way to what its ends lack (common practice).
const HEM: f64 = 6.0;

/// What the end of a turned hem may be longer or shorter than what lies under it, mm (from judgement:
/// a thread, which a press takes up).
const ENDS: f64 = 0.5;

/// The edges before and after an edge, and the inner angles there, degrees.
fn around<'a>(piece: &'a Piece, edge: &str) -> Option<[(&'a str, f64); 2]> {
    let edges = piece.outline.edges();
    let count = edges.len();
    let index = edges.iter().position(|one| one.name == edge)?;
    let (before, after) = (
        &edges[(index + count - 1) % count],
        &edges[(index + 1) % count],
    );
    let inner = |a: kurbo::Vec2, b: kurbo::Vec2| (PI - a.cross(b).atan2(a.dot(b))).to_degrees();
    let own = &edges[index];
    Some([
        (
            before.name.as_str(),
            inner(before.end_tangent(), own.start_tangent()),
        ),
        (
            after.name.as_str(),
            inner(own.end_tangent(), after.start_tangent()),
        ),
    ])
}

/// A free edge that runs over a seam runs on smoothly, such as a neckline over the shoulder.
pub(super) fn kinks(one: &One, said: &mut Said) {
    for seam in &one.design.seams {
        let pieces = (one.piece(&seam.join.piece), one.piece(&seam.to.piece));
        let (Some(from), Some(to)) = pieces else {
            continue;
        };
        let both = (around(from, &seam.join.edge), around(to, &seam.to.edge));
        let (Some(own), Some(mut other)) = both else {
            continue;
        };
        if !seam.same_way {
            other.reverse();
        }
        for ((edge, a), (next, b)) in own.into_iter().zip(other) {
            let free = |piece: &Piece, edge: &str| {
                piece.fold.as_deref() != Some(edge) && !one.is_joined(&piece.key, edge)
            };
            let turns = (a + b - 180.0).abs();
            // an edge that runs straight on is parted there and not crossed by the seam
            let parted = a.max(b) > PARTED;
            let uneven = !parted && turns > UNEVEN[0] && (a - b).abs() > UNEVEN[1];
            let kinked = turns > TURNS || uneven;
            if from.key == to.key || !kinked || !free(from, edge) || !free(to, next) {
                continue;
            }
            let message = format!(
                "Where {} is sewn, {edge} of {} and {next} of {} meet in a point: they turn by \
                 {turns:.0}°{}",
                seam.name,
                from.title,
                to.title,
                one.inside()
            );
            let remedy = "Let both leave the seam at angles that make 180° together.";
            let what = format!("{} {edge}", seam.name);
            said.tell(
                Level::Warning,
                "joined-edge-kink",
                &what,
                (&seam.place, message, remedy),
            );
        }
    }
}

/// A hem turned up between slanting sides needs corners shaped for it: ‘folded’, or square ones.
pub(super) fn hems(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces() {
        let edges = piece.outline.edges();
        let count = edges.len();
        for (index, edge) in edges.iter().enumerate() {
            let deep = piece.allowances.get(index).copied().unwrap_or(0.0);
            if deep < HEM || count < 2 || one.is_joined(&piece.key, &edge.name) {
                continue;
            }
            let sides = [(index + count - 1) % count, (index + 1) % count];
            let angles = around(piece, &edge.name);
            for (side, (_, angle)) in sides.into_iter().zip(angles.into_iter().flatten()) {
                let beside = piece.allowances.get(side).copied().unwrap_or(0.0);
                let on_fold = piece.fold.as_deref() == Some(edges[side].name.as_str());
                let folded = is_folded(spec, &edge.name, &edges[side].name);
                if beside >= deep || on_fold || folded || !(30.0..=150.0).contains(&angle) {
                    continue;
                }
                let Some(lacks) = lacks(edge, &edges[side], deep) else {
                    continue;
                };
                if lacks.abs() <= ENDS {
                    continue;
                }
                let message = format!(
                    "Turned up, the allowance of {} of {} is {} than what lies under it at {}, by \
                     {:.1} mm{}",
                    edge.name,
                    piece.title,
                    if lacks > 0.0 { "shorter" } else { "longer" },
                    edges[side].name,
                    lacks.abs(),
                    one.inside()
                );
                let remedy = "Give that corner ‘folded’ under ‘corners’.";
                let what = format!("{} {}", piece.key, edge.name);
                said.tell(
                    Level::Warning,
                    "hem-corner",
                    &what,
                    (&spec.place, message, remedy),
                );
            }
        }
    }
}

/// How much farther out the side `beside` lies `deep` mm inside the hem `edge` than the straight
/// allowance that is folded onto it, mm.
fn lacks(edge: &Edge, beside: &Edge, deep: f64) -> Option<f64> {
    let ends = beside.start().distance(edge.end()) < beside.end().distance(edge.start());
    let (corner, out) = if ends {
        (edge.end(), edge.end_tangent())
    } else {
        (edge.start(), -edge.start_tangent())
    };
    let length = beside.length();
    let at = |far: f64| {
        let along = if ends { far } else { length - far };
        beside.station(along).point - corner
    };
    let depth = |way: kurbo::Vec2| way.cross(out).abs();
    // As far along the side as the hem is deep.
    let mut far = deep;
    for _ in 0..20 {
        far += deep - depth(at(far.min(length)));
    }
    if !(0.0..=length).contains(&far) {
        return None;
    }
    let tangent = if ends {
        beside.start_tangent()
    } else {
        -beside.end_tangent()
    };
    let straight = tangent * (deep / depth(tangent).max(1e-9));
    Some(at(far).dot(out) + straight.dot(out))
}

fn is_folded(spec: &crate::design::PieceSpec, a: &str, b: &str) -> bool {
    use crate::design::CornerSpec;
    let is =
        |names: &[String; 2]| (names[0] == a && names[1] == b) || (names[0] == b && names[1] == a);
    let own = spec.corner_specs.iter().find(|(names, ..)| is(names));
    let treated = own.map_or(spec.corner, |(_, corner, _)| *corner);
    treated == CornerSpec::Folded
}
