//! Which stretches of a curve are seen. Millimetres on paper.

use super::chain::{Chain, STEP};
use super::occluders::Occluders;
use super::polyline::{self, Along, Run, cleaned, resampled, runs};
use super::sample::Sample;
use super::scene::Curve;
use super::view::Camera;
use kurbo::Point;
use std::ops::Range;

/// How far a sample is moved out of its solid before it is tested, so that the surface it lies on
/// does not hide it.
const OUT: f64 = 0.22;

/// How much nearer than the sample a triangle must be to hide it.
const NEARER: f64 = 0.10;

/// Curves shorter than this on paper are left out.
const LEAST_CURVE: f64 = 0.5;

/// A strip narrower than this on paper is one line.
pub(in crate::figure) const LEAST_STRIP: f64 = 1.0;

/// Visible stretches shorter than the first go, hidden ones shorter than the second become visible.
const LEAST: [f64; 2] = [0.7, 0.5];

/// Lines on a surface are seen where the surface faces the viewer by more than this.
const FACING: f64 = 0.03;

/// Halvings that find where a curve begins to be hidden: to a few thousandths of a millimetre.
const HALVINGS: usize = 6;

/// How far a line is drawn back behind something nearer, and how much nearer that must be: on
/// paper, and in the model, whichever is more.
const GAP: f64 = 0.55;
const GAP_DEPTH: [f64; 2] = [1.8, 0.96];

/// Samples beyond an end that are looked at for the gap.
const BEYOND: usize = 3;

/// The visible stretches of `curve`, the number of which they keep.
pub(super) fn visible(
    curve: &Curve,
    number: usize,
    occluders: &Occluders,
    camera: &Camera,
) -> Vec<Chain> {
    let too_narrow = |width: f64| width * camera.scale < LEAST_STRIP;
    let flat: Vec<Point> = curve.points.iter().map(|p| camera.flat(*p)).collect();
    let whole = polyline::length(&flat);
    if whole < LEAST_CURVE || curve.sets_off.is_some_and(too_narrow) {
        return Vec::new();
    }
    let placed = curve.points.iter().zip(&curve.normals);
    let placed: Vec<Sample> = placed
        .map(|(point, normal)| Sample {
            at: camera.place(*point),
            normal: camera.turn(*normal),
        })
        .collect();
    let mut samples = resampled(&placed, STEP.min(whole / 24.0));
    for sample in &mut samples {
        sample.normal = sample.normal.unit();
    }
    let test = Test {
        samples,
        occluders,
        deep: GAP_DEPTH[0].max(GAP_DEPTH[1] * camera.scale),
    };
    let chains = test.stretches(!curve.silhouette && curve.kind.on_surface());
    let chains = chains.into_iter().map(|stretch| Chain {
        points: stretch.points,
        kind: curve.kind,
        born: curve.kind,
        gaps: stretch.gaps,
        closed: curve.closed && stretch.whole,
        silhouette: curve.silhouette,
        curve: number,
        tag: curve.tag,
    });
    rejoined(chains.collect())
}

/// A closed curve cut only at its own start is put together there again.
fn rejoined(mut chains: Vec<Chain>) -> Vec<Chain> {
    let meet = match (chains.first(), chains.last()) {
        (Some(first), Some(last)) if chains.len() > 1 => {
            let ends = first.points.first().zip(last.points.last());
            ends.is_some_and(|(a, b)| a.distance(*b) < 1e-6)
        }
        _ => false,
    };
    if meet && let Some(mut joint) = chains.pop() {
        let first = &mut chains[0];
        joint.points.extend(first.points.drain(1..));
        first.points = joint.points;
        first.gaps[0] = joint.gaps[0];
    }
    chains
}

struct Stretch {
    points: Vec<Point>,
    gaps: [f64; 2],
    whole: bool,
}

struct Test<'a> {
    samples: Vec<Sample>,
    occluders: &'a Occluders,
    deep: f64,
}

impl Test<'_> {
    /// Whether something lies so much before a sample.
    fn hides(&self, sample: Sample, nearer: f64) -> bool {
        let moved = sample.at + sample.normal * OUT;
        self.occluders.hides(moved, nearer)
    }

    fn stretches(&self, on_surface: bool) -> Vec<Stretch> {
        let turned_away = |sample: &Sample| on_surface && sample.normal.z <= FACING;
        let samples = self.samples.iter();
        let seen = samples.map(|s| !turned_away(s) && !self.hides(*s, NEARER));
        let seen = cleaned(seen.collect(), LEAST[0] / STEP, LEAST[1] / STEP);
        runs(&seen)
            .into_iter()
            .filter(|run| run.on)
            .map(|run| self.stretch(run))
            .collect()
    }

    fn stretch(&self, run: Run) -> Stretch {
        let count = self.samples.len();
        let mut points: Vec<Point> = Vec::with_capacity(run.to - run.from + 2);
        let mut gaps = [0.0; 2];
        if run.from > 0 {
            points.push(self.change(run.from, run.from - 1));
            gaps[0] = self.gap(run.from.saturating_sub(BEYOND)..run.from);
        }
        let inside = &self.samples[run.from..run.to];
        points.extend(inside.iter().map(|s| Point::new(s.at.x, s.at.y)));
        if run.to < count {
            points.push(self.change(run.to - 1, run.to));
            gaps[1] = self.gap(run.to..(run.to + BEYOND).min(count));
        }
        Stretch {
            points,
            gaps,
            whole: run.from == 0 && run.to == count,
        }
    }

    /// Where the curve begins to be hidden between a visible and a hidden sample.
    fn change(&self, visible: usize, hidden: usize) -> Point {
        let (from, to) = (self.samples[visible], self.samples[hidden]);
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if self.hides(from.between(to, middle), NEARER) {
                high = middle;
            } else {
                low = middle;
            }
        }
        let at = from.at.lerp(to.at, low);
        Point::new(at.x, at.y)
    }

    fn gap(&self, beyond: Range<usize>) -> f64 {
        let mut beyond = self.samples[beyond].iter();
        let deep = beyond.any(|sample| self.hides(*sample, self.deep));
        if deep { GAP } else { 0.0 }
    }
}
