//! One item in one of its positions of turning, ready for the search. mm, y down.

use super::meeting::Meeting;
use super::poles::{self, Pole, Poles};
use super::ring;
use crate::geometry::hull::hull;
use kurbo::{Point, Rect, Vec2};
use std::sync::OnceLock;

/// One item, turned and perhaps laid face down.
#[derive(Debug)]
pub(super) struct Shape {
    /// The turn in degrees and whether the piece lies face down, as they are given back.
    pub(super) turn_deg: f64,
    pub(super) mirrored: bool,
    /// The swollen and simplified outline, of positive area, free of crossings.
    pub(super) ring: Vec<Point>,
    pub(super) bounds: Rect,
    pub(super) poles: Poles,
    /// The largest of the inscribed circles.
    pub(super) core: Pole,
    /// The square root of the convex hull's area: how much harder than others it is to place.
    pub(super) size: f64,
    /// The diagonal of the bounds.
    pub(super) diagonal: f64,
    /// The only height at which the piece may lie, measured as its shift in y.
    pub(super) held_at: Option<f64>,
    /// Whether it never moves.
    pub(super) obstacle: bool,
}

impl Shape {
    /// The outline `ring` with its inscribed circles, both laid face down and turned as said.
    pub(super) fn new(ring: &[Point], poles: &[Pole], turn_deg: f64, mirrored: bool) -> Self {
        let turn = |points: &[Point]| ring::turned(points, turn_deg, mirrored);
        let mut turned = turn(ring);
        if mirrored {
            turned.reverse();
        }
        let centres: Vec<Point> = poles.iter().map(|pole| pole.centre).collect();
        let circles = turn(&centres).into_iter().zip(poles);
        let circles: Vec<Pole> = circles
            .map(|(centre, pole)| Pole {
                centre,
                radius: pole.radius,
            })
            .collect();
        let bounds = ring::bounds(&turned);
        Self {
            turn_deg,
            mirrored,
            bounds,
            poles: Poles::new(&circles),
            core: circles.first().copied().unwrap_or(Pole {
                centre: bounds.center(),
                radius: 0.0,
            }),
            size: ring::area(&hull(turned.clone())).sqrt(),
            diagonal: bounds.width().hypot(bounds.height()),
            ring: turned,
            held_at: None,
            obstacle: false,
        }
    }

    /// Something that never moves: larger than pieces, so it is followed more closely.
    pub(super) fn obstacle(ring: &[Point]) -> Self {
        let poles = poles::inscribed(ring, 4 * poles::MOST);
        Self {
            obstacle: true,
            ..Self::new(ring, &poles, 0.0, false)
        }
    }
}

/// Cells along each side of the grid of depths. With fewer the depth is smoother, which the search
/// likes better than exactness; with too few small pieces are lost in it.
const CELLS: usize = 12;

/// All shapes of a packing, and for each two of them whether they meet, found when first asked.
#[derive(Debug)]
pub(super) struct Shapes {
    pub(super) all: Vec<Shape>,
    meetings: Vec<OnceLock<Meeting>>,
}

impl Shapes {
    pub(super) fn new(all: Vec<Shape>) -> Self {
        let pairs = all.len() * (all.len() + 1) / 2;
        Self {
            meetings: (0..pairs).map(|_| OnceLock::new()).collect(),
            all,
        }
    }

    /// How much the shapes `one` and `other`, shifted by `by` against it, overlap: 0 where they do
    /// not, otherwise positive (Gardeyn et al. 2025: the square root of the circles' overlap, times
    /// the geometric mean of both pieces' sizes as the penalty of their shape).
    pub(super) fn overlap(&self, one: usize, other: usize, by: Vec2) -> f32 {
        let (meeting, backwards) = self.meeting(one, other);
        let by = if backwards { -by } else { by };
        if !meeting.at(by) {
            return 0.0;
        }
        let (low, high) = (one.min(other), one.max(other));
        meeting
            .depths
            .at(by, |by| depth(&self.all[low], &self.all[high], by))
    }

    /// The meeting of two shapes, and whether it is that of `other` with `one`.
    pub(super) fn meeting(&self, one: usize, other: usize) -> (&Meeting, bool) {
        let (low, high) = (one.min(other), one.max(other));
        let cell = &self.meetings[high * (high + 1) / 2 + low];
        let (a, b) = (&self.all[low], &self.all[high]);
        let cells = if a.obstacle || b.obstacle {
            4 * CELLS
        } else {
            CELLS
        };
        let build = || {
            let radii = a.core.radius + b.core.radius;
            Meeting::new(&a.ring, &b.ring, cells).with_core(a.core.centre, b.core.centre, radii)
        };
        (cell.get_or_init(build), one > other)
    }
}

fn depth(one: &Shape, other: &Shape, by: Vec2) -> f32 {
    let near = (0.01 * one.diagonal.max(other.diagonal)) as f32;
    let depth = one.poles.overlap(&other.poles, by, near) + near * near;
    depth.sqrt() * (one.size * other.size).sqrt() as f32
}
