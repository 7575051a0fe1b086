//! Chains of one kind that run on in each other become one. Millimetres on paper.

use super::chain::{Chain, End};
use kurbo::Vec2;

/// Ends this near are joined...
const NEAR: f64 = 0.6;

/// ...if the way out of one, the way into the other and the way across both agree within this many
/// degrees; otherwise the joint would bend the smoothed line.
const STRAIGHT: f64 = 18.0;

/// Chains with more samples than this may close on themselves.
const CLOSES: usize = 12;

/// The chains joined, nearest ends first.
pub(super) fn joined(mut chains: Vec<Chain>) -> Vec<Chain> {
    while let Some(joint) = nearest_joint(&chains) {
        let second = chains.remove(joint.second);
        let first = &mut chains[joint.first];
        join(first, second, joint);
    }
    for chain in &mut chains {
        let near = chain.end(End::First).distance(chain.end(End::Last)) < NEAR;
        let free = chain.gaps == [0.0; 2];
        if !chain.closed && chain.points.len() > CLOSES && near && free {
            chain.points.push(chain.end(End::First));
            chain.closed = true;
        }
    }
    chains
}

#[derive(Debug, Clone, Copy)]
struct Joint {
    distance: f64,
    first: usize,
    second: usize,
    first_end: End,
    second_end: End,
}

fn nearest_joint(chains: &[Chain]) -> Option<Joint> {
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
                    let near = distance < best.map_or(NEAR, |joint| joint.distance);
                    if near && runs_on(a, first_end, b, second_end) {
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

fn runs_on(a: &Chain, a_end: End, b: &Chain, b_end: End) -> bool {
    let (from, into) = (a.inward(a_end, 5), b.inward(b_end, 5));
    let out = a.end(a_end) - from;
    let inward = into - b.end(b_end);
    let across = into - from;
    let cosine = |u: Vec2, v: Vec2| u.dot(v) / (u.hypot() * v.hypot() + 1e-12);
    let least = cosine(out, inward)
        .min(cosine(out, across))
        .min(cosine(across, inward));
    least > STRAIGHT.to_radians().cos()
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
