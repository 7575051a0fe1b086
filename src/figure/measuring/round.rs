//! The foot from behind its outer side, with the tapes round it: solid where they are seen, dashed
//! where the foot hides them. Millimetres on paper.

use super::body::Body;
use super::side::moved;
use super::sketch::{HIDDEN, Sketch, TAPE};
use super::tapes::tape;
use super::{MARGIN, Numbered, Seen, draw_foot};
use crate::figure::drawing::polyline::{distance_to, length, resampled, runs};
use crate::figure::drawing::{Camera, Line, LineKind, Room, Tag, View, draw};
use crate::foot::form::FootForm;
use kurbo::{Affine, Point};

/// From behind the outer side of a right foot: heel wrap and tapes over the instep show both.
const VIEW: View = View {
    azimuth: -118.0,
    elevation: 26.0,
};

/// Distance of the samples of a tape, and how near to a line that is seen they count as seen.
const STEP: f64 = 0.4;
const SEEN: f64 = 0.7;

/// A hidden stretch shorter than this is left out: it would be two dashes.
const LEAST: f64 = 2.6;

/// A number is tied to a tape at least this far from the next one, so that none is taken for it.
const ALONE: f64 = 4.0;

/// Shares of a visible stretch at which a number is tied to it, best first.
const SHARES: [f64; 9] = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.0, 1.0];

/// The drawing, `width` mm wide, letters `larger` by that factor.
pub(super) fn round(
    foot: &FootForm,
    body: &Body,
    shown: &[Numbered],
    (width, larger): (f64, f64),
) -> Option<Seen> {
    let shown: Vec<Numbered> = shown
        .iter()
        .copied()
        .filter(|n| n.measure.is_tape())
        .collect();
    let mut scene = body.scene();
    for numbered in &shown {
        let tag = numbered.number as Tag;
        let curves = tape(foot, body, numbered.measure);
        scene
            .curves
            .extend(curves.into_iter().map(|c| c.tagged(tag)));
    }
    let room = Room {
        width: width - 2.0 * MARGIN,
        height: None,
    };
    let camera = Camera::new(&scene, VIEW, room)?;
    let onto = Affine::translate((MARGIN, 0.0));
    let drawing = moved(draw(&scene, VIEW, room)?, onto);
    let mut sketch = Sketch::new((width, larger));
    draw_foot(&mut sketch, &drawing);
    let is_tape = |line: &&Line| line.kind == LineKind::Detail;
    let tapes: Vec<&Line> = drawing.lines.iter().filter(is_tape).collect();
    let mut tied = Vec::new();
    for numbered in &shown {
        let tag = numbered.number as Tag;
        let seen: Vec<&Line> = drawing.lines.iter().filter(|l| l.tag == tag).collect();
        for curve in scene.curves.iter().filter(|c| c.tag == tag) {
            let course: Vec<Point> = curve
                .points
                .iter()
                .map(|p| onto * camera.flat(*p))
                .collect();
            for stretch in hidden(&course, &seen) {
                sketch.through(&stretch, HIDDEN);
            }
        }
        for line in &seen {
            sketch.line(&line.points, &line.path, TAPE);
        }
        let others = tapes.iter().copied().filter(|line| line.tag != tag);
        tied.push((numbered.number, anchors(&seen, &others.collect::<Vec<_>>())));
    }
    for (number, anchors) in &tied {
        sketch.number(*number, anchors);
    }
    sketch.close();
    Some(Seen {
        sketch,
        scale: camera.scale,
        told: "figures.tapes",
        shown,
    })
}

/// The stretches of a tape's course that no line shows.
fn hidden(course: &[Point], seen: &[&Line]) -> Vec<Vec<Point>> {
    if length(course) < LEAST {
        return Vec::new();
    }
    let samples = resampled(course, STEP);
    let unseen: Vec<bool> = samples
        .iter()
        .map(|p| seen.iter().all(|line| distance_to(*p, &line.points) > SEEN))
        .collect();
    let stretches = runs(&unseen).into_iter().filter(|run| run.on);
    stretches
        .map(|run| samples[run.from..run.to].to_vec())
        .filter(|stretch| length(stretch) >= LEAST)
        .collect()
}

/// Points of the longest visible stretch to which a number may be tied, away from other tapes where
/// that can be.
fn anchors(seen: &[&Line], others: &[&Line]) -> Vec<Point> {
    let longest = seen
        .iter()
        .max_by(|a, b| length(&a.points).total_cmp(&length(&b.points)));
    let Some(line) = longest else {
        return Vec::new();
    };
    let last = line.points.len().saturating_sub(1);
    let at = |share: f64| line.points.get((share * last as f64).round() as usize);
    let all: Vec<Point> = SHARES
        .iter()
        .filter_map(|share| at(*share).copied())
        .collect();
    let alone = |p: &Point| {
        others
            .iter()
            .all(|other| distance_to(*p, &other.points) > ALONE)
    };
    let away: Vec<Point> = all.iter().copied().filter(alone).collect();
    if away.is_empty() { all } else { away }
}
