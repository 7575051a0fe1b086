//! Chains of one kind that run on in each other become one. Millimetres on paper.

use super::chain::{Chain, End};
use kurbo::Vec2;

/// Ends this near are joined if the way out of one, the way into the other and the way across both agree
/// within this many degrees; otherwise the joint would bend the smoothed line.
const RUNS_ON: Reach = Reach {
    near: 0.6,
    straight: 18.0,
};

/// Ends that meet nothing else are brought together from farther off: where a surface turns away its edge
/// and its silhouette leave a little between them.
const BRIDGED: Reach = Reach {
    near: 1.2,
    straight: 30.0,
};

/// How near ends must be, mm, and how straight, degrees.
#[derive(Debug, Clone, Copy)]
struct Reach {
    near: f64,
    straight: f64,
}

/// Chains with more samples than this may close on themselves.
const CLOSES: usize = 12;

/// The chains joined, nearest ends first.
pub(super) fn joined(mut chains: Vec<Chain>) -> Vec<Chain> {
    join_all(&mut chains, RUNS_ON, |_, _| true);
    for chain in &mut chains {
        let near = chain.end(End::First).distance(chain.end(End::Last)) < RUNS_ON.near;
        let free = chain.gaps == [0.0; 2];
        if !chain.closed && chain.points.len() > CLOSES && near && free {
            chain.points.push(chain.end(End::First));
            chain.closed = true;
        }
    }
    chains
}

/// Joins chains over the little that is missing between two ends that are `free`.
pub(super) fn bridge(chains: &mut Vec<Chain>, free: impl Fn(&[Chain], (usize, End)) -> bool) {
    join_all(chains, BRIDGED, free);
}

fn join_all(chains: &mut Vec<Chain>, reach: Reach, free: impl Fn(&[Chain], (usize, End)) -> bool) {
    while let Some(joint) = nearest_joint(chains, reach, &free) {
        let second = chains.remove(joint.second);
        let first = &mut chains[joint.first];
        join(first, second, joint);
    }
}

#[derive(Debug, Clone, Copy)]
struct Joint {
    distance: f64,
    first: usize,
    second: usize,
    first_end: End,
    second_end: End,
}

fn nearest_joint(
    chains: &[Chain],
    reach: Reach,
    free: &impl Fn(&[Chain], (usize, End)) -> bool,
) -> Option<Joint> {
    let mut best: Option<Joint> = None;
    let joins = |chain: &Chain| !chain.closed && !chain.kind.floats();
    for (first, a) in chains.iter().enumerate().filter(|(_, c)| joins(c)) {
        for (second, b) in chains.iter().enumerate().skip(first + 1) {
            if a.kind != b.kind || !joins(b) {
                continue;
            }
            for first_end in End::BOTH {
                for second_end in End::BOTH {
                    if a.gap(first_end) > 0.0 || b.gap(second_end) > 0.0 {
                        continue;
                    }
                    let distance = a.end(first_end).distance(b.end(second_end));
                    let near = distance < best.map_or(reach.near, |joint| joint.distance);
                    let straight = || bend(a, first_end, b, second_end) < reach.straight;
                    let free =
                        || free(chains, (first, first_end)) && free(chains, (second, second_end));
                    if near && straight() && free() {
                        best = Some(Joint {
                            distance,
                            first,
                            second,
                            first_end,
                            second_end,
                        });
                    }
                }
            }
        }
    }
    best
}

/// By how much the ways out of one end, into the other and across both disagree, degrees.
fn bend(a: &Chain, a_end: End, b: &Chain, b_end: End) -> f64 {
    let (from, into) = (a.inward(a_end, 5), b.inward(b_end, 5));
    let out = a.end(a_end) - from;
    let inward = into - b.end(b_end);
    let across = into - from;
    let cosine = |u: Vec2, v: Vec2| u.dot(v) / (u.hypot() * v.hypot() + 1e-12);
    let least = cosine(out, inward)
        .min(cosine(out, across))
        .min(cosine(across, inward));
    least.clamp(-1.0, 1.0).acos().to_degrees()
}

fn join(first: &mut Chain, mut second: Chain, joint: Joint) {
    if joint.first_end == End::First {
        first.reverse();
    }
    if joint.second_end == End::Last {
        second.reverse();
    }
    let skip = usize::from(joint.distance < 1e-6);
    first.points.extend(second.points.drain(skip..));
    first.gaps[1] = second.gaps[1];
    first.silhouette |= second.silhouette;
}
