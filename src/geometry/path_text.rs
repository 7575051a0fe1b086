//! A path as SVG path data in mm, to four decimals: a hundredth of the accuracy a plotter has, and
//! the same bytes wherever it is computed. Y down; absolute coordinates.

use super::rounding::{self, DRAWN, KEPT, push_decimals};
use kurbo::{BezPath, PathEl, Point};

/// No number of a drawing is larger, in whatever unit: 1 km in millimetres. Of an arc with a larger radius
/// more curves would be made than any memory holds.
pub const FARTHEST: f64 = 1e6;

/// The path of SVG path data; `None` if it is none, or if a number in it or a point of it is beyond
/// [`FARTHEST`].
pub fn read_path(text: &str) -> Option<BezPath> {
    let near = |value: f64| value.abs() <= FARTHEST;
    if !numbers_in(text).all(near) {
        return None;
    }
    let path = BezPath::from_svg(text).ok()?;
    lies_within(&path, FARTHEST).then_some(path)
}

/// Whether all points of the path, those that shape its curves too, lie no further than `far` from the axes.
pub fn lies_within(path: &BezPath, far: f64) -> bool {
    let near = |point: Point| point.x.abs() <= far && point.y.abs() <= far;
    path.elements().iter().all(|element| match *element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => near(p),
        PathEl::QuadTo(a, p) => near(a) && near(p),
        PathEl::CurveTo(a, b, p) => near(a) && near(b) && near(p),
        PathEl::ClosePath => true,
    })
}

/// The numbers of path data without their signs (SVG 1.1, 8.3.9). Flags of arcs that are written in one with
/// what follows count as digits of it.
fn numbers_in(text: &str) -> impl Iterator<Item = f64> + '_ {
    let mut rest = text;
    std::iter::from_fn(move || {
        let begin = rest.find(|c: char| c.is_ascii_digit() || c == '.')?;
        rest = &rest[begin..];
        let digits = |text: &str| text.bytes().take_while(u8::is_ascii_digit).count();
        let mut end = digits(rest);
        if rest[end..].starts_with('.') {
            end += 1 + digits(&rest[end + 1..]);
        }
        if rest[end..].starts_with(['e', 'E']) {
            let sign = usize::from(rest[end + 1..].starts_with(['+', '-']));
            let exponent = digits(&rest[end + 1 + sign..]);
            if exponent > 0 {
                end += 1 + sign + exponent;
            }
        }
        let (number, after) = rest.split_at(end);
        rest = after;
        // a point alone is refused by who reads the path
        Some(number.parse().unwrap_or(0.0))
    })
}

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
    path_data(&rounding::rounded_path(path, DRAWN), 3)
}

/// SVG path data of `path` without idle spaces, each coordinate with at most so many decimals.
pub fn path_data(path: &BezPath, places: usize) -> String {
    let mut text = String::new();
    let mut push = |letter: char, points: &[Point]| {
        text.push(letter);
        for (at, point) in points.iter().enumerate() {
            if at > 0 {
                text.push(' ');
            }
            push_decimals(&mut text, point.x, places);
            text.push(' ');
            push_decimals(&mut text, point.y, places);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_found_as_path_data_writes_them() {
        let found = |text: &str| numbers_in(text).collect::<Vec<_>>();
        assert_eq!(found("M1-2.5.5e1,3E-1l.5e"), [1.0, 2.5, 5.0, 0.3, 0.5]);
        assert_eq!(found("a1 1 0 0110.5 2z"), [1.0, 1.0, 0.0, 110.5, 2.0]);
    }

    #[test]
    fn what_lies_beyond_a_kilometre_is_no_path() {
        assert!(read_path("M0,0 L1e6,0 L5,5 Z").is_some());
        for beyond in [
            "M0,0 L1000001,0 L5,5 Z",
            "M0,0 A1e60,90 30 0 1 -81,90 L9,9 Z",
            "M10,99999999999999999999999999999 h300 z",
            "M900000,0 l900000,0 l5,5 Z",
        ] {
            assert!(read_path(beyond).is_none(), "{beyond}");
        }
    }
}
