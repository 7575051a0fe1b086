//! Open curves: length, the point at a length, the part between two lengths, distance between
//! curves. All lengths in mm.

use kurbo::{BezPath, ParamCurve, ParamCurveArclen, ParamCurveDeriv, PathSeg, Point, Vec2};

/// Arc length of `path` in mm; `tolerance` bounds the error of each segment.
pub fn length(path: &BezPath, tolerance: f64) -> f64 {
    path.segments().map(|s| s.arclen(tolerance)).sum()
}

/// A point of a curve with its unit tangent in the curve's direction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// Where.
    pub point: Point,
    /// Unit tangent.
    pub tangent: Vec2,
}

/// Unit tangent of `segment` at parameter `t`, taken from the curve itself: where the derivative
/// vanishes (a handle lies on its end), the tangent is the limit, from the next control point.
pub fn tangent(segment: &PathSeg, t: f64) -> Vec2 {
    let derivative = match segment {
        PathSeg::Line(line) => line.p1 - line.p0,
        PathSeg::Quad(quad) => quad.deriv().eval(t).to_vec2(),
        PathSeg::Cubic(cubic) => cubic.deriv().eval(t).to_vec2(),
    };
    if derivative.hypot() > 1e-9 {
        return derivative.normalize();
    }
    let inside = if t < 0.5 { t + 1e-4 } else { t - 1e-4 };
    let chord = if t < 0.5 {
        segment.eval(inside) - segment.eval(t)
    } else {
        segment.eval(t) - segment.eval(inside)
    };
    if chord.hypot() > 0.0 {
        chord.normalize()
    } else {
        Vec2::ZERO
    }
}

/// The station at `distance` mm along `path` (clamped to its ends); `tolerance` bounds the error
/// of the distance. `None` for an empty path.
pub fn station(path: &BezPath, distance: f64, tolerance: f64) -> Option<Station> {
    let mut left = distance.max(0.0);
    let mut last = None;
    for segment in path.segments() {
        let length = segment.arclen(tolerance);
        if left <= length {
            let t = segment.inv_arclen(left, tolerance);
            return Some(Station {
                point: segment.eval(t),
                tangent: tangent(&segment, t),
            });
        }
        left -= length;
        last = Some(segment);
    }
    last.map(|s| Station {
        point: s.eval(1.0),
        tangent: tangent(&s, 1.0),
    })
}

/// `path` run through backwards.
pub fn reversed(path: &BezPath) -> BezPath {
    path.reverse_subpaths()
}
