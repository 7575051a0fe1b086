//! The tracing from above, with length and widths. Millimetres on paper.

use super::sketch::{CONTOUR, HIDDEN, Sketch, THIN};
use super::{MARGIN, Measure, Numbered, Seen};
use crate::foot::{BALL, Foot, HEEL};
use kurbo::{Affine, Point, Vec2};

/// How finely the outline is known to what is placed beside it, mm of the foot.
const FINE: f64 = 0.02;

/// The arrow of the length stands this far below the outline; its marks end beyond it.
const BELOW: f64 = 4.5;
const BEYOND: f64 = 1.2;

/// Half the length of the marks at centre heel and centre toe.
const MARK: f64 = 2.0;

/// White between camera's edge and drawing, as in the other views.
const EDGE: f64 = 1.0;

/// The drawing, `width` mm wide, letters `larger` by that factor, at the scale of the view above it, so that heel and toe stand below
/// each other.
pub(super) fn tracing(
    foot: &Foot,
    shown: &[Numbered],
    (width, larger): (f64, f64),
    scale: f64,
) -> Option<Seen> {
    let shown: Vec<Numbered> = shown
        .iter()
        .copied()
        .filter(|n| !n.measure.is_height() && !n.measure.is_tape())
        .collect();
    let onto = Affine::translate((MARGIN + EDGE, 0.0)) * Affine::scale_non_uniform(scale, -scale);
    let mut sketch = Sketch::new((width, larger));
    let outline = onto * &foot.outline;
    let mut points: Vec<Point> = Vec::new();
    kurbo::flatten(&foot.outline, FINE, |element| match element {
        kurbo::PathEl::MoveTo(p) | kurbo::PathEl::LineTo(p) => points.push(onto * p),
        _ => {}
    });
    points.extend(points.first().copied());
    sketch.line(&points, &outline, CONTOUR);
    let [heel, toe] = [0.0, foot.length].map(|x| onto * Point::new(x, 0.0));
    let along = Vec2::new(MARK, 0.0);
    sketch.through(&[heel - along, heel + along], THIN);
    sketch.through(&[toe - along, toe + along], THIN);
    sketch.through(&[heel + along, toe - along], HIDDEN);
    let lowest = points.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max) + BELOW;
    let [from, to] = [heel, toe].map(|p| Point::new(p.x, lowest));
    let down = Vec2::new(0.0, BEYOND);
    for (end, mark) in [(from, heel), (to, toe)] {
        sketch.through(&[mark + Vec2::new(0.0, 1.6), end + down], THIN);
    }
    sketch.arrow(from, to);
    let mut tied = Vec::new();
    for numbered in &shown {
        let [from, to] = match numbered.measure {
            Measure::BallWidth => across(foot, BALL)?.map(|p| onto * p),
            Measure::HeelWidth => across(foot, HEEL)?.map(|p| onto * p),
            _ => [from, to],
        };
        if numbered.measure != Measure::Length {
            sketch.arrow(from, to);
        }
        let shares = [0.25, 0.75, 0.35, 0.65, 0.5];
        tied.push((numbered.number, shares.map(|share| from.lerp(to, share))));
    }
    for (number, anchors) in &tied {
        sketch.number(*number, anchors);
    }
    sketch.close();
    Some(Seen {
        sketch,
        scale,
        told: "figures.tracing",
        shown,
    })
}

/// Both ends of a width at a share of the length.
fn across(foot: &Foot, share: f64) -> Option<[Point; 2]> {
    let x = share * foot.length;
    Some([foot.outer_at(x)?, foot.inner_at(x)?])
}
