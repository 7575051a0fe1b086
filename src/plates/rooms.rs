//! The room of a drawn piece with its label in strips one below the other, so that others may stand beside
//! its slanting sides. Millimetres, in the axes of the drawing.

use super::drawing::Drawing;
use super::field;
use super::label::Label;
use kurbo::{Line, Rect};

/// Height of a strip, and how many there are at most.
const STRIP: f64 = 8.0;
const MOST: f64 = 16.0;

/// Strips that take up more of the box than this leave no room that anyone could use.
const LOOSE: f64 = 0.85;

/// Half a cut line and a little.
const INK: f64 = 0.5;

/// The strips, or the box alone.
pub fn rooms<'l>(drawing: &Drawing, labels: impl Iterator<Item = &'l Label>) -> Vec<Rect> {
    let mut boxes: Vec<Rect> = Vec::new();
    for label in labels {
        boxes.push(label.words);
        boxes.extend(label.rules.iter().map(|l| Rect::from_points(l.p0, l.p1)));
    }
    let whole = boxes.iter().fold(drawing.bounds(), |all, r| all.union(*r));
    let count = (whole.height() / STRIP).ceil().clamp(1.0, MOST);
    let height = whole.height() / count;
    let strips: Vec<Rect> = (0..count as usize)
        .filter_map(|i| {
            let top = whole.y0 + i as f64 * height;
            strip(drawing, &boxes, (whole, top, top + height))
        })
        .collect();
    let taken: f64 = strips.iter().map(Rect::area).sum();
    match taken < LOOSE * whole.area() {
        true => strips,
        false => vec![whole],
    }
}

/// What stands between two heights, as one box; `None` if nothing does.
fn strip(
    drawing: &Drawing,
    boxes: &[Rect],
    (whole, top, bottom): (Rect, f64, f64),
) -> Option<Rect> {
    let window = Rect::new(whole.x0 - INK, top - INK, whole.x1 + INK, bottom + INK);
    let clipped = |line: &Line| field::clipped(*line, window);
    let lines = drawing.lines().filter_map(clipped);
    let lines = lines.map(|line| {
        [
            line.p0.x.min(line.p1.x) - INK,
            line.p0.x.max(line.p1.x) + INK,
        ]
    });
    let met = |r: &&Rect| r.y0 <= window.y1 && r.y1 >= window.y0;
    let boxes = boxes.iter().filter(met).map(|r| [r.x0, r.x1]);
    let span = lines
        .chain(boxes)
        .reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1])])?;
    let [left, right] = [span[0].max(whole.x0), span[1].min(whole.x1)];
    Some(Rect::new(left, top, right, bottom))
}
