//! Which stretches are the outer contour of the figure: nothing lies to one side of them.
//! Millimetres on paper.

use super::chain::{Chain, STEP};
use super::line_kind::LineKind;
use super::occluders::Occluders;
use super::picture::Picture;
use super::polyline::{cleaned, length, resampled, runs, tangents};
use kurbo::{Point, Vec2};

/// How far to the side of a line is looked for paper, at full line width.
const SIDE: f64 = 0.35;

/// Stretches of contour shorter than the first, and stretches between two of contour shorter than
/// the second, are merged with their neighbours.
const LEAST: [f64; 2] = [0.8, 1.5];

/// A chain of which this share is contour is contour as a whole.
const ALL: f64 = 0.97;

/// The chains parted into contour and rest; `factor` scales line widths.
pub(super) fn parted(
    chains: Vec<Chain>,
    occluders: &Occluders,
    picture: &Picture,
    factor: f64,
) -> Vec<Chain> {
    let paper = |point: Point| picture.is_open(point) && !occluders.covers(point);
    let mut parts = Vec::new();
    for mut chain in chains {
        let step = if chain.closed {
            STEP.min(length(&chain.points) / 24.0)
        } else {
            STEP
        };
        chain.points = resampled(&chain.points, step);
        if chain.kind.on_surface() {
            parts.push(chain);
        } else {
            let outer = outer_samples(&chain.points, paper, SIDE * factor);
            part(&chain, &outer, &mut parts);
        }
    }
    parts
}

fn outer_samples(points: &[Point], paper: impl Fn(Point) -> bool, side: f64) -> Vec<bool> {
    let outer = points.iter().zip(tangents(points)).map(|(point, tangent)| {
        let across = Vec2::new(-tangent.y, tangent.x) * side;
        paper(*point + across) || paper(*point - across)
    });
    let outer = cleaned(outer.collect(), LEAST[0] / STEP, LEAST[1] / STEP);
    let count = outer.iter().filter(|o| **o).count();
    if count as f64 > ALL * outer.len() as f64 {
        vec![true; outer.len()]
    } else {
        outer
    }
}

fn part(chain: &Chain, outer: &[bool], parts: &mut Vec<Chain>) {
    let runs = runs(outer);
    let last = runs.len().saturating_sub(1);
    for (number, run) in runs.iter().enumerate() {
        // Neighbours share a point, so that no hole opens between them.
        let to = (run.to + 1).min(chain.points.len());
        let gap = |end: usize, here: bool| {
            if here && !run.on {
                chain.gaps[end]
            } else {
                0.0
            }
        };
        parts.push(Chain {
            points: chain.points[run.from..to].to_vec(),
            kind: if run.on { LineKind::Outer } else { chain.kind },
            gaps: [gap(0, number == 0), gap(1, number == last)],
            closed: chain.closed && runs.len() == 1,
            ..chain.clone()
        });
    }
}
