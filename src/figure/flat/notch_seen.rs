//! Notches on the pieces of a flat figure. Places in mm of the piece; sizes of signs in mm on paper.

use super::board::{Board, round};
use crate::geometry::probe::is_inside;
use crate::piece::Notch;
use crate::plates::ink::{THIN, path_of};
use kurbo::{Affine, BezPath, Point, Vec2};

/// Seam lines, and what stands across them, are left out where the allowance would be narrower than this on
/// paper.
pub(super) const LEAST_ALLOWANCE: f64 = 0.9;
/// A notch in a narrower allowance, mm of the piece, is a tick, as on the plates; length of a tick on
/// paper.
const TICK_BELOW: f64 = crate::plates::LEAST_NOTCHED;
const TICK: f64 = 1.5;
/// Depth of a notch's triangle and half its base, on paper.
const NOTCH: (f64, f64) = (1.7, 0.8);
/// So many stand side by side at most, from one to the next so many half bases.
const MOST: u32 = 3;
const BESIDE: f64 = 2.3;
/// The line across the seam line at the middle of something: how far out of it and into the piece, on
/// paper.
const CENTRE: (f64, f64) = (0.4, 1.1);
/// It keeps this from the notch's triangle.
const CENTRE_CLEAR: f64 = 0.3;
/// White along it.
const CENTRE_BARE: f64 = 0.65;

/// A notch where it is drawn: its place on the cut edge, and the way out of the cloth.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NotchSeen {
    pub(super) name: String,
    pub(super) edge: String,
    /// On the seam line.
    pub(super) point: Point,
    pub(super) outward: Vec2,
    pub(super) allowance: f64,
    pub(super) count: u32,
    /// Whether it is the middle of something.
    pub(super) centre: bool,
}

/// How far so many notches side by side reach from their middle, on paper.
pub(super) fn half_width(count: u32) -> f64 {
    NOTCH.1 + f64::from(count.clamp(1, MOST) - 1) * BESIDE * NOTCH.1 / 2.0
}

/// The triangles of a notch, side by side, pointing from the cut edge inwards, or its ticks; `surface` is
/// the cloth on paper, beyond which none stands.
pub(super) fn notch_drawn(board: &mut Board, notch: &NotchSeen, onto: Affine, surface: &BezPath) {
    let scale = onto.determinant().abs().sqrt();
    let base = onto * (notch.point + notch.outward * notch.allowance);
    let direction = onto * (notch.point + notch.outward) - onto * notch.point;
    if direction.hypot() < 1e-9 {
        return;
    }
    let outward = direction.normalize();
    let along = Vec2::new(-outward.y, outward.x);
    let ticked = notch.allowance < TICK_BELOW;
    let deep = notch.allowance * scale;
    let depth = NOTCH.0.min((0.9 * deep).max(0.9));
    let half = NOTCH.1.min(0.6 * depth);
    if notch.centre && !ticked && deep >= LEAST_ALLOWANCE {
        let seam = onto * notch.point;
        let beside = [-1.0, 1.0]
            .map(|side| seam - outward * (0.5 * CENTRE.1) + along * (side * CENTRE_BARE));
        // a fold is a middle by itself, and its edge stays whole
        let within = beside.into_iter().all(|at| is_inside(surface, at));
        // clear of the triangle, which fills a narrow allowance
        let out = CENTRE.0.min(deep - depth - CENTRE_CLEAR);
        let line = path_of(&[seam + outward * out, seam - outward * CENTRE.1]);
        if within {
            // a tint must not hide so short a line
            board.white_line(&line, CENTRE_BARE);
            board.line(line, THIN);
        }
    }
    let count = notch.count.clamp(1, MOST);
    for i in 0..count {
        let off = (f64::from(i) - f64::from(count - 1) / 2.0) * BESIDE * half;
        let middle = base + along * off;
        if ticked {
            board.line(path_of(&[middle, middle - outward * TICK]), round(0.35));
            continue;
        }
        let corners = [middle - along * half, middle + along * half];
        let mut path = path_of(&[corners[0], corners[1], middle - outward * depth]);
        path.close_path();
        // at a fold half of it lies on the other side
        let whole = corners.map(|at| is_inside(surface, at - outward * (0.3 * depth)));
        if whole == [true, true] {
            board.fill(path);
        } else {
            let mut cut = Board::default();
            cut.fill(path);
            board.within(surface.clone(), cut);
        }
    }
}

/// A notch of a piece as it is drawn.
pub(super) fn seen(notch: &Notch) -> NotchSeen {
    NotchSeen {
        name: notch.name.clone(),
        edge: notch.edge.clone(),
        point: notch.point,
        outward: notch.outward,
        allowance: notch.allowance,
        count: notch.count,
        centre: notch.centre,
    }
}
