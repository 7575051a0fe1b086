//! A visible stretch of a curve on its way to a line of the drawing. Millimetres on paper.

use super::line_kind::LineKind;
use super::scene::Tag;
use kurbo::{Point, Vec2};

/// Distance of the samples of a chain, mm.
pub(super) const STEP: f64 = 0.2;

/// Closed chains shorter than this are small rings: they are kept as they are, for smoothing and
/// corners would spoil them. mm.
pub(super) const RING: f64 = 5.0;

/// A visible stretch of a curve.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    pub(super) points: Vec<Point>,
    pub(super) kind: LineKind,
    /// Its kind before parts of it were found to be the outer contour.
    pub(super) born: LineKind,
    /// How far the first and the last end are drawn back, mm.
    pub(super) gaps: [f64; 2],
    pub(super) closed: bool,
    pub(super) silhouette: bool,
    /// Number of the curve it is from.
    pub(super) curve: usize,
    pub(super) tag: Tag,
}

/// One of the two ends of a chain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum End {
    First,
    Last,
}

impl End {
    pub(super) const BOTH: [End; 2] = [End::First, End::Last];
}

impl Chain {
    pub(super) fn end(&self, end: End) -> Point {
        let point = match end {
            End::First => self.points.first(),
            End::Last => self.points.last(),
        };
        point.copied().unwrap_or_default()
    }

    pub(super) fn gap(&self, end: End) -> f64 {
        self.gaps[end as usize]
    }

    /// The point `count` samples from an end, or the other end.
    pub(super) fn inward(&self, end: End, count: usize) -> Point {
        let last = self.points.len().saturating_sub(1);
        let index = match end {
            End::First => count.min(last),
            End::Last => last - count.min(last),
        };
        self.points.get(index).copied().unwrap_or_default()
    }

    /// Direction in which the chain runs out of an end, over its last six samples.
    pub(super) fn outward(&self, end: End) -> Vec2 {
        super::polyline::unit(self.end(end) - self.inward(end, 6))
    }

    pub(super) fn reverse(&mut self) {
        self.points.reverse();
        self.gaps.reverse();
    }

    /// Whether it is a closed chain too short to be smoothed.
    pub(super) fn is_ring(&self) -> bool {
        self.closed && super::polyline::length(&self.points) < RING
    }
}
