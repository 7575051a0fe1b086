//! Laying one edge on another without bending the cloth: the rigid motion that brings them nearest.
//! Millimetres.

use super::half::Axis;
use crate::geometry::Edge;
use kurbo::{Affine, Point, Vec2};

/// Points compared along an edge.
const SAMPLES: usize = 48;

/// A motion, and how far apart the edges still are after it, at most, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Laid {
    pub(super) motion: Affine,
    pub(super) apart: f64,
}

/// Points at equal shares along both edges that meet when they are sewn: easing is spread evenly.
pub(super) fn meeting(edge: &Edge, other: &Edge, same_way: bool) -> Vec<(Point, Point)> {
    let (own, partner) = (edge.length(), other.length());
    let pair = |i: usize| {
        let share = i as f64 / SAMPLES as f64;
        let there = if same_way { share } else { 1.0 - share };
        let a = edge.station(share * own).point;
        (a, other.station(there * partner).point)
    };
    (0..=SAMPLES).map(pair).collect()
}

/// The motion, turned over or not, that brings the first of each pair nearest to the second: least
/// squares for a rotation about the middles (the plane case of the orthogonal Procrustes problem,
/// Schönemann 1966).
pub(super) fn lay(pairs: &[(Point, Point)], turned_over: bool) -> Laid {
    let count = pairs.len().max(1) as f64;
    let middle = |pick: fn(&(Point, Point)) -> Point| {
        let sum: Vec2 = pairs.iter().map(|p| pick(p).to_vec2()).sum();
        sum / count
    };
    let (from, to) = (middle(|p| p.0), middle(|p| p.1));
    let flip = if turned_over {
        Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0])
    } else {
        Affine::IDENTITY
    };
    let (mut dot, mut cross) = (0.0, 0.0);
    for (a, b) in pairs {
        let a = (flip * (*a - from)).to_vec2();
        let b = b.to_vec2() - to;
        dot += a.dot(b);
        cross += a.cross(b);
    }
    let turn = Affine::rotate(cross.atan2(dot));
    let motion = Affine::translate(to) * turn * flip * Affine::translate(-from);
    let apart = pairs.iter().map(|(a, b)| (motion * *a).distance(*b));
    Laid {
        motion,
        apart: apart.fold(0.0, f64::max),
    }
}

/// The line in which one edge is the mirror image of the other, as near as can be.
pub(super) fn mirror_axis(edge: &Edge, other: &Edge) -> Option<Axis> {
    let pairs = meeting(edge, other, false);
    let motion = lay(&pairs, true).motion;
    // a point and its image lie on both sides of the line, in its middle
    let [a, b, c, d, ..] = motion.as_coeffs();
    let angle = (b + c).atan2(a - d) / 2.0;
    let middle: Vec2 = pairs
        .iter()
        .map(|(p, q)| (p.to_vec2() + q.to_vec2()) / 2.0)
        .sum();
    let point = (middle / pairs.len().max(1) as f64).to_point();
    Axis::through(point, point + Vec2::from_angle(angle))
}
