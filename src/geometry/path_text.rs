//! A path as SVG path data in mm, to four decimals: a hundredth of the accuracy a plotter has, and
//! the same bytes wherever it is computed. Y down; absolute coordinates.

use super::rounding::{self, DRAWN, KEPT};
use kurbo::{BezPath, PathEl, Point};
use std::fmt::Write;

/// `value` rounded to four decimals; never minus zero.
pub fn rounded(value: f64) -> f64 {
    rounding::rounded(value, KEPT)
}

/// `path` with all coordinates rounded to four decimals.
pub fn rounded_path(path: &BezPath) -> BezPath {
    rounding::rounded_path(path, KEPT)
}

/// SVG path data of `path`, in mm, to four decimals.
pub fn path_text(path: &BezPath) -> String {
    rounded_path(path).to_svg()
}

/// SVG path data of `path`, in mm, to three decimals and without idle spaces: a thousandth is a tenth
/// of what a finished PDF is proofed to.
pub fn shortened(path: &BezPath) -> String {
    path_data(path, |mm| rounding::rounded(mm, DRAWN).to_string())
}

/// SVG path data of `path` without idle spaces, each coordinate as `number` writes it.
pub fn path_data(path: &BezPath, number: impl Fn(f64) -> String) -> String {
    let mut text = String::new();
    let mut push = |letter: char, points: &[Point]| {
        text.push(letter);
        for (at, point) in points.iter().enumerate() {
            let space = if at > 0 { " " } else { "" };
            // writing to a String cannot fail
            let _ = write!(text, "{space}{} {}", number(point.x), number(point.y));
        }
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(a) => push('M', &[a]),
            PathEl::LineTo(a) => push('L', &[a]),
            PathEl::QuadTo(a, b) => push('Q', &[a, b]),
            PathEl::CurveTo(a, b, c) => push('C', &[a, b, c]),
            PathEl::ClosePath => push('Z', &[]),
        }
    }
    text
}
