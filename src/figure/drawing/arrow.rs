//! An arrow over a drawing: one movement, from its tail to its tip. Millimetres on paper.

use kurbo::{BezPath, CubicBez, ParamCurve, ParamCurveArclen, ParamCurveDeriv};

/// Width of the shaft and how much wider the white round it, in a figure 120 mm wide.
pub(super) const SHAFT: f64 = 0.9;
pub(super) const HALO: f64 = 1.3;

/// Length of the head, its half width as a share of that, and how far its base is notched.
const HEAD: f64 = 4.2;
pub(in crate::figure) const HALF: f64 = 0.36;
const NOTCH: f64 = 0.78;

/// Tolerance of lengths.
const ACCURACY: f64 = 1e-3;

/// An arrow ready to be drawn.
pub(super) struct Arrow {
    pub(super) shaft: BezPath,
    pub(super) head: BezPath,
}

impl Arrow {
    /// The arrow along `way`; `factor` scales its widths.
    pub(super) fn new(way: CubicBez, factor: f64) -> Self {
        let long = (HEAD * factor).min(0.5 * way.arclen(ACCURACY));
        let whole = way.arclen(ACCURACY);
        // The shaft stops inside the head, so that its round end does not blunt the tip.
        let end = way.inv_arclen((whole - 0.7 * long).max(0.0), ACCURACY);
        let base = way.eval(way.inv_arclen((whole - long).max(0.0), ACCURACY));
        let tip = way.p3;
        let back = base - tip;
        let back = if back.hypot() > 0.0 {
            back.normalize()
        } else {
            -way.deriv().eval(1.0).to_vec2()
        };
        let across = kurbo::Vec2::new(-back.y, back.x) * (HALF * long);
        let mut head = BezPath::new();
        head.move_to(tip);
        head.line_to(tip + back * long + across);
        head.line_to(tip + back * (NOTCH * long));
        head.line_to(tip + back * long - across);
        head.close_path();
        let part = way.subsegment(0.0..end);
        let mut shaft = BezPath::new();
        shaft.move_to(part.p0);
        shaft.curve_to(part.p1, part.p2, part.p3);
        Self { shaft, head }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{Point, Shape};

    /// A straight arrow: its head is an isosceles triangle less the notch, whose area is known.
    #[test]
    fn the_head_ends_at_the_tip_and_has_its_area() {
        let p = |x: f64| Point::new(x, 3.0);
        let arrow = Arrow::new(CubicBez::new(p(0.0), p(10.0), p(20.0), p(30.0)), 1.0);
        let bounds = arrow.head.bounding_box();
        assert!((bounds.x1 - 30.0).abs() < 1e-9);
        assert!((bounds.width() - HEAD).abs() < 1e-2);
        let area = HEAD * HEAD * HALF * NOTCH;
        assert!((arrow.head.area().abs() - area).abs() < 0.1, "{area}");
        assert!(arrow.shaft.bounding_box().x1 < 30.0);
    }
}
