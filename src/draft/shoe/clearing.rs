//! How full a shoe's section must be to clear the foot inside it. Millimetres, shares.

use crate::foot::form::{FootSide, Form};

/// Points of the foot's section that are looked at.
const POINTS: usize = 161;

/// Points nearer than this share to the axes of a section say nothing about its fullness.
const NEAR_AXES: f64 = 0.02;

/// Which half section of the foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Half {
    /// Across the foot at this x, on this side.
    Across(FootSide, f64),
    /// Along the axis at the toe, from this x on.
    Toe(f64),
    /// Along the axis at the heel, from this x back.
    Heel(f64),
}

/// The foot's half section moved outward by `clearance`: distance from the section's foot point and
/// height, for every point that lies beside and not above `highest`.
pub(super) fn cleared(foot: &Form, half: Half, clearance: f64, highest: f64) -> Vec<(f64, f64)> {
    let (side, distance) = match half {
        Half::Across(side, x) => (side, foot.edge.distance_at(side, x)),
        Half::Toe(_) => (FootSide::Inner, 0.0),
        Half::Heel(_) => (FootSide::Inner, foot.edge.length(FootSide::Inner)),
    };
    let section = foot.section(side, distance);
    let point = |i: usize| {
        let p = section.point(i as f64 / (POINTS - 1) as f64);
        match half {
            Half::Across(_, _) => ((p.y - section.foot.y).abs(), p.z),
            Half::Toe(from) => (p.x - from, p.z),
            Half::Heel(from) => (from - p.x, p.z),
        }
    };
    let profile: Vec<(f64, f64)> = (0..POINTS).map(point).collect();
    let moved = |i: usize| {
        let (before, after) = (
            profile[i.saturating_sub(1)],
            profile[(i + 1).min(POINTS - 1)],
        );
        let (dx, dz) = (after.0 - before.0, after.1 - before.1);
        let step = dx.hypot(dz).max(1e-300);
        let (x, z) = profile[i];
        (x + clearance * dz / step, z - clearance * dx / step)
    };
    let all: Vec<(f64, f64)> = (0..POINTS).map(moved).collect();
    let mut points: Vec<(f64, f64)> = all.iter().copied().filter(|p| p.1 <= highest).collect();
    // The point at the very height counts too, or the section would jump as the height grows.
    points.extend(
        all.windows(2)
            .filter(|w| w[0].1 <= highest && w[1].1 > highest)
            .map(|w| {
                let share = (highest - w[0].1) / (w[1].1 - w[0].1);
                (w[0].0 + share * (w[1].0 - w[0].0), highest)
            }),
    );
    points.retain(|p| p.0 > 0.0);
    points
}

/// A half section of the shoe: half its width and its height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Room {
    pub(super) half_width: f64,
    pub(super) height: f64,
}

impl Room {
    /// The points as shares of this room; `None` if one lies outside it.
    fn shares(self, points: &[(f64, f64)]) -> Option<Vec<(f64, f64)>> {
        let share = |p: &(f64, f64)| (p.0 / self.half_width, p.1 / self.height);
        let counts = |p: &(f64, f64)| p.0 > NEAR_AXES && p.1 > NEAR_AXES;
        let shares: Vec<(f64, f64)> = points.iter().map(share).filter(counts).collect();
        let inside = |p: &(f64, f64)| p.0 < 1.0 && p.1 < 1.0;
        shares.iter().all(inside).then_some(shares)
    }

    /// The least exponent a of a straight wall (b = 1) that clears all `points`.
    pub(super) fn wall(self, points: &[(f64, f64)]) -> Option<f64> {
        let shares = self.shares(points)?;
        let needed = shares.iter().map(|(r, q)| (1.0 - q).ln() / r.ln());
        Some(needed.fold(0.0, f64::max))
    }

    /// The least exponent b from 1 of a dome (a = 2) that clears all `points`.
    pub(super) fn dome(self, points: &[(f64, f64)]) -> Option<f64> {
        let shares = self.shares(points)?;
        let needed = shares.iter().map(|(r, q)| (1.0 - r * r).ln() / q.ln());
        Some(needed.fold(1.0, f64::max))
    }
}
