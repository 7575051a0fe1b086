//! A path as SVG path data in mm, to four decimals: a hundredth of the accuracy a plotter has, and
//! the same bytes wherever it is computed. Y down; absolute coordinates.

use kurbo::{BezPath, PathEl, Point};

/// Decimals kept, as the factor to round with.
const FACTOR: f64 = 1e4;

/// `value` rounded to four decimals; never minus zero.
pub fn rounded(value: f64) -> f64 {
    (value * FACTOR).round() / FACTOR + 0.0
}

/// `path` with all coordinates rounded to four decimals.
pub fn rounded_path(path: &BezPath) -> BezPath {
    let point = |p: &Point| Point::new(rounded(p.x), rounded(p.y));
    path.elements()
        .iter()
        .map(|element| match element {
            PathEl::MoveTo(a) => PathEl::MoveTo(point(a)),
            PathEl::LineTo(a) => PathEl::LineTo(point(a)),
            PathEl::QuadTo(a, b) => PathEl::QuadTo(point(a), point(b)),
            PathEl::CurveTo(a, b, c) => PathEl::CurveTo(point(a), point(b), point(c)),
            PathEl::ClosePath => PathEl::ClosePath,
        })
        .collect()
}

/// SVG path data of `path`, in mm, to four decimals.
pub fn path_text(path: &BezPath) -> String {
    rounded_path(path).to_svg()
}
