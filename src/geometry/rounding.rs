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
    let mut text = String::new();
    push_decimals(&mut text, value, places);
    text
}

/// Writes `value` behind `text` as [`decimals`] does.
pub fn push_decimals(text: &mut String, value: f64, places: usize) {
    let Some(steps) = steps_of(value, places) else {
        text.push_str(&with_decimals(value, places));
        return;
    };
    if value < 0.0 && steps > 0 {
        text.push('-');
    }
    let mut unit = 10_u64.pow(places as u32);
    push_whole(text, steps / unit);
    let mut rest = steps % unit;
    if rest > 0 {
        text.push('.');
    }
    while rest > 0 {
        unit /= 10;
        text.push(digit(rest / unit));
        rest %= unit;
    }
}

/// Steps of the last decimal in the size of `value`; `None` where the product cannot tell which way it is
/// rounded: halfway between two steps, or too large.
fn steps_of(value: f64, places: usize) -> Option<u64> {
    const POWERS: [f64; 7] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];
    // below it the product is right to a thousandth of a step
    const LARGEST: f64 = 1e12;
    let scaled = value.abs() * POWERS.get(places)?;
    if scaled.is_nan() || scaled >= LARGEST {
        return None;
    }
    let below = scaled as u64;
    let part = scaled - below as f64;
    let sure = (part - 0.5).abs() > 1e-3;
    sure.then_some(below + u64::from(part > 0.5))
}

fn push_whole(text: &mut String, whole: u64) {
    if whole >= 10 {
        push_whole(text, whole / 10);
    }
    text.push(digit(whole % 10));
}

fn digit(value: u64) -> char {
    char::from(b'0' + value as u8)
}

/// The same by the formatting of the standard library, which rounds what the number is to the last bit.
fn with_decimals(value: f64, places: usize) -> String {
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

    #[test]
    fn numbers_are_rounded_as_the_standard_library_rounds_them() {
        // pseudo-random numbers of all sizes (Knuth's multiplier for 64 bits), and halves of a step
        let mut state = 2611_u64;
        let mut next = || {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            (state >> 11) as f64 / (1_u64 << 53) as f64 - 0.5
        };
        let mut values = vec![
            0.5,
            1.5,
            0.125,
            2.675,
            1e15,
            -4e11,
            0.999_999_5,
            -0.05,
            1e300,
        ];
        for size in -9..=12 {
            values.extend((0..500).map(|_| next() * 10_f64.powi(size)));
            values.extend((0..50).map(|_| (next() * 1e4).round() * 5.0 * 10_f64.powi(-4)));
        }
        for value in values {
            for places in [0, 1, 2, 3, 6, 9] {
                let wanted = with_decimals(value, places);
                assert_eq!(decimals(value, places), wanted, "{value:?}, {places}");
            }
        }
        assert_eq!(decimals(f64::NAN, 2), "NaN");
    }
}
