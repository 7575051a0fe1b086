//! Paths whose coordinates are rounded: the same bytes wherever they are computed, and short. Millimetres.

use kurbo::{BezPath, PathEl, Point};

/// Steps to a millimetre for what is drawn: a thousandth, finer than any printer.
pub const DRAWN: f64 = 1e3;

/// Steps to a millimetre for what is handed to machines and kept: a hundredth of the accuracy a plotter has.
pub const KEPT: f64 = 1e4;

/// `value` rounded to `steps` to a millimetre; never minus zero.
pub fn rounded(value: f64, steps: f64) -> f64 {
    // + 0.0 makes nought of minus nought
    (value * steps).round() / steps + 0.0
}

/// `value` written with at most `places` decimals, without trailing zeros; never minus nought.
pub fn decimals(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    let text = match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.'),
        false => text.as_str(),
    };
    if text == "-0" { "0" } else { text }.to_string()
}

/// `path` with all coordinates rounded to `steps` to a millimetre, so that none is moved by more than half
/// a step.
pub fn rounded_path(path: &BezPath, steps: f64) -> BezPath {
    let near = |p: Point| Point::new(rounded(p.x, steps), rounded(p.y, steps));
    let elements = path.elements().iter().map(|element| match *element {
        PathEl::MoveTo(a) => PathEl::MoveTo(near(a)),
        PathEl::LineTo(a) => PathEl::LineTo(near(a)),
        PathEl::QuadTo(a, b) => PathEl::QuadTo(near(a), near(b)),
        PathEl::CurveTo(a, b, c) => PathEl::CurveTo(near(a), near(b), near(c)),
        PathEl::ClosePath => PathEl::ClosePath,
    });
    elements.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_element_is_rounded_and_nought_has_no_sign() {
        // by hand: halves go away from nought, as f64::round says
        let path = BezPath::from_svg("M1.23456 -0.00001L2.0004 3Q1.1115 2 0 0C1 1 2 2.99999 3 4Z");
        let path = path.expect("path data");
        let wanted = "M1.235,0 L2,3 Q1.112,2 0,0 C1,1 2,3 3,4 Z";
        assert_eq!(rounded_path(&path, DRAWN).to_svg(), wanted);
        assert_eq!(rounded(1.23456, KEPT), 1.2346);
        assert!(rounded(-0.00001, KEPT).is_sign_positive());
    }

    #[test]
    fn numbers_have_no_trailing_zeros_and_nought_has_no_sign() {
        let wanted = ["1", "0", "2.5", "0.333333"];
        assert_eq!(
            [1.0, -1e-7, 2.5, 1.0 / 3.0].map(|value| decimals(value, 6)),
            wanted
        );
        assert_eq!([20.0, -0.2].map(|value| decimals(value, 0)), ["20", "0"]);
    }
}
