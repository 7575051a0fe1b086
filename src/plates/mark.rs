//! Marks inside a piece as ink: holes, eyelets, buttons, buttonholes, placing, stitching and fold
//! lines. Millimetres, in the piece's own axes.

use super::ink::{FOLD, Ink, PLACING, STITCHING, Stroke, THIN, path_of};
use crate::design::LineKind;
use crate::language::{Words, phrase};
use crate::piece::{Mark, MarkKind};
use kurbo::{BezPath, Circle, ParamCurveNearest, Point, Shape, Vec2};
use std::f64::consts::TAU;

/// Length of the hooks of a fold line.
pub(super) const HOOK: f64 = 2.2;
/// How far the hooks stand from the ends, which may lie on a cut or seam line that would hide them.
const HOOK_INSIDE: f64 = 1.2;
/// How far the cross of a hole reaches beyond its circle.
const CROSS: f64 = 0.8;
/// Smallest circle drawn for a hole.
const LEAST_CIRCLE: f64 = 1.2;
/// Circle that says where a button is sewn on.
const BUTTON: f64 = 2.4;
/// The ring of a button's size keeps this from lines of the piece, and is looked at in so many arcs.
const RING_CLEAR: f64 = 0.7;
const ARCS: usize = 72;
/// Length of the bars that end a buttonhole.
const BAR: f64 = 2.4;

/// The ink of all marks of a piece with these `edges`.
pub fn ink(marks: &[Mark], edges: &[&BezPath]) -> Ink {
    let mut ink = Ink::default();
    for mark in marks {
        match &mark.kind {
            MarkKind::Hole { at, diameter } => {
                let diameter = diameter.max(LEAST_CIRCLE);
                ink.strokes.push((circle(*at, diameter), THIN));
                cross(&mut ink, *at, diameter / 2.0 + CROSS);
            }
            MarkKind::Eyelet { at, diameter } => {
                ink.strokes
                    .push((circle(*at, diameter.max(LEAST_CIRCLE)), THIN));
                ink.fills.push(circle(*at, 0.5));
            }
            MarkKind::Button { at, diameter } => {
                ink.strokes.push((circle(*at, BUTTON), THIN));
                if *diameter > BUTTON + 1.0 {
                    let rings = ring(*at, *diameter, marks, edges).into_iter();
                    ink.strokes.extend(rings.map(|arc| (arc, PLACING)));
                }
            }
            MarkKind::Buttonhole { from, to } => buttonhole(&mut ink, *from, *to),
            MarkKind::Line { kind, path } => {
                ink.strokes.push((path.clone(), line_stroke(*kind)));
                if *kind == LineKind::Fold {
                    ink.strokes.extend(hooks(path).map(|hook| (hook, THIN)));
                }
            }
        }
    }
    ink
}

/// The hooks near both ends of a fold line, by which it is told from a line that is sewn.
fn hooks(path: &BezPath) -> impl Iterator<Item = BezPath> + use<> {
    let first = path.segments().next().map(|segment| segment.to_cubic());
    let last = path.segments().last().map(|segment| segment.to_cubic());
    let hook = |end: Point, along: Vec2, inward: f64| {
        let length = along.hypot();
        let along = along / length;
        let at = end + along * inward * HOOK_INSIDE.min(length / 4.0);
        let across = Vec2::new(-along.y, along.x) * HOOK;
        across.is_finite().then(|| path_of(&[at, at + across]))
    };
    let first = first.and_then(|cubic| hook(cubic.p0, cubic.p3 - cubic.p0, 1.0));
    let last = last.and_then(|cubic| hook(cubic.p3, cubic.p3 - cubic.p0, -1.0));
    first.into_iter().chain(last)
}

/// How a line of this kind is drawn.
pub fn line_stroke(kind: LineKind) -> Stroke {
    match kind {
        LineKind::Placement => PLACING,
        LineKind::Stitching => STITCHING,
        LineKind::Fold => FOLD,
    }
}

/// The ring as large as a button: without the arcs that would run into a line of the piece, and none at all
/// if little is left.
fn ring(at: Point, diameter: f64, marks: &[Mark], edges: &[&BezPath]) -> Vec<BezPath> {
    let lines = || {
        marks
            .iter()
            .filter_map(|mark| match &mark.kind {
                MarkKind::Line { path, .. } => Some(path),
                _ => None,
            })
            .chain(edges.iter().copied())
    };
    let far = |share: f64| {
        let point = at + Vec2::from_angle(share * TAU) * (diameter / 2.0);
        let mut segments = lines().flat_map(BezPath::segments);
        segments.all(|s| s.nearest(point, 1e-3).distance_sq >= RING_CLEAR * RING_CLEAR)
    };
    let kept: Vec<bool> = (0..ARCS)
        .map(|i| far((i as f64 + 0.5) / ARCS as f64))
        .collect();
    let count = kept.iter().filter(|kept| **kept).count();
    if count == ARCS {
        return vec![circle(at, diameter)];
    }
    if count < ARCS / 2 {
        return Vec::new();
    }
    // arcs begin after a part that is left out
    let before = |i: usize| kept[(i + ARCS - 1) % ARCS];
    let starts = (0..ARCS).filter(|i| kept[*i] && !before(*i));
    let arc = |start: usize| {
        let long = (0..ARCS).take_while(|i| kept[(start + i) % ARCS]).count();
        let turn = TAU / ARCS as f64;
        let radii = Vec2::new(diameter / 2.0, diameter / 2.0);
        let (from, sweep) = (start as f64 * turn, long as f64 * turn);
        kurbo::Arc::new(at, radii, from, sweep, 0.0).to_path(1e-4)
    };
    starts.map(arc).collect()
}

fn circle(at: Point, diameter: f64) -> BezPath {
    Circle::new(at, diameter / 2.0).to_path(1e-4)
}

fn cross(ink: &mut Ink, at: Point, reach: f64) {
    for arm in [Vec2::new(reach, 0.0), Vec2::new(0.0, reach)] {
        ink.strokes.push((path_of(&[at - arm, at + arm]), THIN));
    }
}

fn buttonhole(ink: &mut Ink, from: Point, to: Point) {
    let along = (to - from).normalize();
    let bar = Vec2::new(-along.y, along.x) * (BAR / 2.0);
    ink.strokes.push((path_of(&[from, to]), THIN));
    if bar.is_finite() {
        for end in [from, to] {
            ink.strokes.push((path_of(&[end - bar, end + bar]), THIN));
        }
    }
}

/// A mark's words where they found no room beside it: `Placement line: elastic to here`, `Circle: button`.
pub fn in_label(mark: &Mark, said: &str, words: &Words) -> String {
    let name = words.named("marks", key(mark));
    let told = match &mark.kind {
        MarkKind::Button { .. } => words.say("marks drawn.button", &[("words", &said)]),
        _ if said.contains(name) => said.to_string(),
        _ => format!("{name}: {said}"),
    };
    phrase::capital(&told)
}

/// What the tables of words call a mark.
fn key(mark: &Mark) -> &'static str {
    match &mark.kind {
        MarkKind::Hole { .. } => "hole",
        MarkKind::Eyelet { .. } => "eyelet",
        MarkKind::Button { .. } => "button",
        MarkKind::Buttonhole { .. } => "buttonhole",
        MarkKind::Line { kind, .. } => match kind {
            LineKind::Placement => "placement line",
            LineKind::Stitching => "stitching line",
            LineKind::Fold => "fold line",
        },
    }
}

/// `2 holes`, `1 placement line`, …: the marks counted by kind, in order of first appearance.
pub fn counted(marks: &[Mark], words: &Words) -> Vec<String> {
    let mut counts: Vec<(&str, usize)> = Vec::new();
    for mark in marks {
        match counts.iter_mut().find(|c| c.0 == key(mark)) {
            Some(count) => count.1 += 1,
            None => counts.push((key(mark), 1)),
        }
    }
    counts
        .into_iter()
        .map(|(key, n)| words.count(&format!("marks counted.{key}"), n, &[]))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ring_of_a_button_keeps_off_the_edge_of_its_piece() {
        let button = Mark {
            kind: MarkKind::Button {
                at: Point::new(0.0, 0.0),
                diameter: 8.0,
            },
            words: None,
        };
        let strokes = |edge: f64| {
            let edge = path_of(&[Point::new(-20.0, edge), Point::new(20.0, edge)]);
            let ink = ink(std::slice::from_ref(&button), &[&edge]);
            let ring = ink.strokes.into_iter().skip(1).map(|(path, _)| path);
            ring.map(|path| path.bounding_box()).collect::<Vec<_>>()
        };
        // 6 mm off the ring is whole; 4.2 mm off it would all but touch, so it ends before
        let [whole] = strokes(6.0)[..] else {
            panic!("one ring");
        };
        assert!((whole.y1 - 4.0).abs() < 1e-3);
        let [arc] = strokes(4.2)[..] else {
            panic!("one arc");
        };
        assert!(arc.y1 <= 4.2 - RING_CLEAR + 1e-3, "{arc:?}");
        // beside a line through its middle little would be left
        assert!(strokes(0.0).iter().all(|arc| arc.height() < 8.0));
    }
}
