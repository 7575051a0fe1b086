//! The foot from its outer side, with the heights above the table. Millimetres on paper.

use super::body::Body;
use super::measure::Measure;
use super::sketch::{Sketch, THIN};
use super::{MARGIN, Numbered, Seen, draw_foot};
use crate::figure::drawing::{Camera, Room, View, draw};
use crate::foot::HEEL;
use crate::foot::form::{FootForm, station};
use crate::geometry::space::Vec3;
use kurbo::{BezPath, Point};

/// From the outer side of a right foot, the toe at the right.
const VIEW: View = View {
    azimuth: -90.0,
    elevation: 0.0,
};

/// Where the toes' height is taken, as a share of the length.
const TOES: f64 = 0.87;

/// How far the table reaches beyond heel and toe, and the length of the marks below it.
const TABLE: f64 = 3.0;
const MARK: f64 = 1.4;

/// Shares of an arrow's length at which a number is tied to it, best first.
const SHARES: [f64; 5] = [0.5, 0.6, 0.4, 0.7, 0.3];

/// The drawing, `width` mm wide, letters `larger` by that factor.
pub(super) fn side(
    foot: &FootForm,
    body: &Body,
    shown: &[Numbered],
    (width, larger): (f64, f64),
    decimal: char,
) -> Option<Seen> {
    let scene = body.scene();
    let room = Room {
        width: width - 2.0 * MARGIN,
        height: None,
    };
    let drawing = draw(&scene, VIEW, room)?;
    let camera = Camera::new(&scene, VIEW, room)?;
    let mut sketch = Sketch::new((width, larger));
    let onto = kurbo::Affine::translate((MARGIN, 0.0));
    draw_foot(&mut sketch, &moved(drawing, onto));
    let at = |x: f64, z: f64| onto * camera.flat(Vec3::new(x, 0.0, z));
    let length = foot.length;
    let heights = shown.iter().filter(|n| n.measure.is_height());
    let heights: Vec<Numbered> = heights.copied().collect();
    let places: Vec<(u32, f64)> = heights
        .iter()
        .filter_map(|n| Some((n.number, place(foot, n.measure)?)))
        .collect();
    for (_, x) in &places {
        sketch.arrow(at(*x, 0.0), at(*x, foot.form.height(*x)));
    }
    let [left, right] = [at(0.0, 0.0), at(length, 0.0)];
    let beyond = kurbo::Vec2::new(TABLE, 0.0);
    sketch.through(&[left - beyond, right + beyond], THIN);
    for (share, words) in marks(shown) {
        let from = at(share * length, 0.0);
        let to = from + kurbo::Vec2::new(0.0, MARK);
        sketch.through(&[from, to], THIN);
        let words = words.replace('.', &decimal.to_string());
        sketch.figures(&words, to + kurbo::Vec2::new(0.0, 0.9));
    }
    for (number, x) in &places {
        let [foot_of, top] = [at(*x, 0.0), at(*x, foot.form.height(*x))];
        let anchors = SHARES.map(|share| foot_of.lerp(top, share));
        sketch.number(*number, &anchors);
    }
    sketch.close();
    Some(Seen {
        sketch,
        scale: camera.scale,
        told: "figures.heights",
        shown: heights,
    })
}

/// Shares of the length that are marked below the table: those of every measure that is taken at one,
/// from the heel on, as they are printed.
fn marks(shown: &[Numbered]) -> Vec<(f64, &'static str)> {
    let mut marks = vec![(0.0, "0"), (1.0, "1")];
    marks.extend(shown.iter().filter_map(|n| share(n.measure)));
    marks.sort_by(|a, b| a.0.total_cmp(&b.0));
    marks.dedup();
    marks
}

/// x at which a height is taken, mm.
fn place(foot: &FootForm, measure: Measure) -> Option<f64> {
    match measure {
        Measure::BendHeight => Some(foot.solved.bend),
        _ => share(measure).map(|(share, _)| share * foot.length),
    }
}

/// The share of the length at which a measure is taken, and as it is printed.
fn share(measure: Measure) -> Option<(f64, &'static str)> {
    match measure {
        Measure::ToeHeight => Some((TOES, "0.87")),
        Measure::BallHeight | Measure::BallGirth | Measure::BallWidth => {
            Some((station::BALL, "0.70"))
        }
        Measure::InstepHeight | Measure::InstepGirth => Some((station::INSTEP, "0.50")),
        Measure::HeelWrap => Some((station::WRAP_END, "0.35")),
        Measure::HeelWidth => Some((HEEL, "0.22")),
        Measure::Length | Measure::BendHeight | Measure::LongHeelGirth | Measure::AnkleGirth => {
            None
        }
    }
}

/// The drawing's lines moved.
pub(super) fn moved(
    mut drawing: crate::figure::drawing::LineDrawing,
    onto: kurbo::Affine,
) -> crate::figure::drawing::LineDrawing {
    let path = |path: &mut BezPath| path.apply_affine(onto);
    let point = |p: &mut Point| *p = onto * *p;
    for line in &mut drawing.lines {
        path(&mut line.path);
        line.points.iter_mut().for_each(point);
    }
    drawing
}
