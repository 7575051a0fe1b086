//! Lengths as they are printed: millimetres or centimetres, and inches as vulgar fractions. Every
//! figure is rounded once, from the unrounded length in mm.

use super::length_style::LengthStyle;
use super::quantity::{FRACTION_SLASH, YARD};
use crate::geometry::units::INCH;

/// Below this many inches a finer denominator than the design's is used where the design's would
/// be more than a tenth off: 1.2 mm of felt is 3/64 in, not 1/16 in.
const FINE_BELOW: f64 = 0.125;

/// Metric form with a decimal point: see [`metric_in`].
pub fn metric(mm: f64) -> String {
    metric_in(mm, LengthStyle::METRIC)
}

/// Metric form: `4.8 mm`, `48 mm`, `29.6 cm`. Trailing zeros are dropped.
pub fn metric_in(mm: f64, style: LengthStyle) -> String {
    let tenths = |x: f64| {
        // half a tenth goes up: 6.35 mm is 6.4 mm, whatever its binary neighbour
        let text = format!("{:.1}", x + x.signum() * 1e-9);
        let text = text.strip_suffix(".0").unwrap_or(&text).to_string();
        style.figures(if text == "-0" { "0" } else { &text })
    };
    if mm.abs() + 0.05 < style.centimetres_from {
        format!("{} mm", tenths(mm))
    } else {
        format!("{} cm", tenths(mm / 10.0))
    }
}

/// Inch form to the nearest `1/denominator`: `3⁄16 in`, `1 1⁄2 in`, `2 in`; `None` if it would
/// round to nothing. A whole number of sixty-fourths is printed as it is.
pub fn inch(mm: f64, denominator: u32) -> Option<String> {
    let inches = mm.abs() / INCH;
    let mut finest = denominator.max(1);
    let off = |d: u32| ((inches * f64::from(d)).round() / f64::from(d) - inches).abs();
    // A length that was given as a vulgar fraction is printed as it was given.
    if (inches * 64.0 - (inches * 64.0).round()).abs() < 1e-9 && inches > 0.0 {
        finest = finest.max(64);
    }
    while inches < FINE_BELOW && finest < 64 && off(finest) > 0.1 * inches {
        finest *= 2;
    }
    let parts = (inches * f64::from(finest)).round() as u64;
    if parts == 0 {
        return None;
    }
    let sign = if mm < 0.0 { "\u{2212}" } else { "" };
    let (whole, mut top, mut bottom) = (
        parts / u64::from(finest),
        parts % u64::from(finest),
        u64::from(finest),
    );
    while top > 0 && top % 2 == 0 && bottom % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    Some(match (whole, top) {
        (_, 0) => format!("{sign}{whole} in"),
        (0, _) => format!("{sign}{top}{FRACTION_SLASH}{bottom} in"),
        _ => format!("{sign}{whole} {top}{FRACTION_SLASH}{bottom} in"),
    })
}

/// The forms that are printed, in the design's order: `4.8 mm (3⁄16 in)`.
pub fn both(mm: f64, style: LengthStyle) -> String {
    let metric = metric_in(mm, style);
    match inch(mm, style.denominator) {
        None => metric,
        Some(inch) => style.pair(&metric, &inch),
    }
}

/// Shops tell a cloth's width in whole centimetres and inches from this width on, mm (common practice).
const WHOLE_FROM: f64 = 300.0;

/// The width of cloth off the roll as shops tell it: `112 cm (44 in)`.
pub fn cloth_width(mm: f64, style: LengthStyle) -> String {
    if mm < WHOLE_FROM {
        return both(mm, style);
    }
    let whole = |step: f64| (mm / step + 1e-9).round() * step;
    let inches = inch(whole(INCH), 1).unwrap_or_default();
    style.pair(&metric_in(whole(10.0), style), &inches)
}

/// A button's diameter: `11.4 mm (18 L)`. One ligne is 1/40 in (button trade, common practice).
pub fn lignes(mm: f64, style: LengthStyle) -> String {
    format!("{} ({:.0} L)", metric_in(mm, style), mm / INCH * 40.0)
}

/// Yards to the nearest eighth: `3⁄8 yd`, `1 1⁄4 yd`, `2 yd`.
pub fn yards(mm: f64) -> String {
    // a yard is to its eighths as an inch is
    let as_inches = inch(mm * INCH / YARD, 8).unwrap_or_default();
    let number = as_inches.strip_suffix(" in").unwrap_or(&as_inches);
    format!("{number} yd")
}

/// `text` with the fraction slash replaced by a plain one, for terminals and file formats.
pub fn plain(text: &str) -> String {
    text.replace(FRACTION_SLASH, "/")
}

#[cfg(test)]
mod tests {
    use super::*;

    const STYLE: LengthStyle = LengthStyle {
        inch_first: false,
        denominator: 16,
        ..LengthStyle::METRIC
    };

    #[test]
    fn allowance_of_three_sixteenths_prints_as_such() {
        assert_eq!(both(4.7625, STYLE), "4.8 mm (3⁄16 in)");
    }

    #[test]
    fn an_inch_value_is_never_made_from_the_rounded_metric_one() {
        // 26.19 mm is 1.03110 in, nearer to 1 in than to 1 1/16 in (the middle is 1.03125);
        // from 26.2 mm, 1.03150 in, it would become 1 1/16 in.
        assert_eq!(inch(26.19, 16).as_deref(), Some("1 in"));
        assert_eq!(inch(26.2, 16).as_deref(), Some("1 1⁄16 in"));
    }

    #[test]
    fn a_given_fraction_is_printed_as_given_and_half_a_tenth_goes_up() {
        assert_eq!(both(5.0 / 32.0 * INCH, STYLE), "4 mm (5⁄32 in)");
        assert_eq!(both(0.25 * INCH, STYLE), "6.4 mm (1⁄4 in)");
        assert_eq!(metric(-6.35), "-6.4 mm");
    }

    #[test]
    fn whole_and_fraction_are_parted_by_a_space() {
        assert_eq!(inch(1.75 * INCH, 16).as_deref(), Some("1 3⁄4 in"));
        assert_eq!(inch(2.0 * INCH, 16).as_deref(), Some("2 in"));
    }

    #[test]
    fn thin_cloth_gets_a_finer_fraction() {
        assert_eq!(both(1.2, STYLE), "1.2 mm (3⁄64 in)");
        assert_eq!(both(0.01, STYLE), "0 mm");
    }

    #[test]
    fn cloth_is_as_wide_as_shops_say() {
        // 44 in are 111.76 cm, 20 in are 50.8 cm, 140 cm are 55.1 in
        assert_eq!(cloth_width(44.0 * INCH, STYLE), "112 cm (44 in)");
        assert_eq!(cloth_width(20.0 * INCH, STYLE), "51 cm (20 in)");
        assert_eq!(cloth_width(1400.0, STYLE), "140 cm (55 in)");
        // a ribbon is not told in whole inches
        assert_eq!(cloth_width(38.0, STYLE), "38 mm (1 1⁄2 in)");
    }

    #[test]
    fn long_lengths_are_in_centimetres() {
        assert_eq!(metric(296.0), "29.6 cm");
        assert_eq!(metric(99.97), "10 cm");
        assert_eq!(metric(99.4), "99.4 mm");
    }

    #[test]
    fn lengths_that_are_compared_have_one_unit() {
        let printed = |lengths: [f64; 2]| {
            let style = STYLE.together(lengths);
            lengths.map(|mm| metric_in(mm, style))
        };
        assert_eq!(printed([69.4, 103.0]), ["69.4 mm", "103 mm"]);
        assert_eq!(printed([103.0, 140.0]), ["10.3 cm", "14 cm"]);
        assert_eq!(printed([69.4, 1400.0]), ["69.4 mm", "140 cm"]);
    }

    #[test]
    fn an_eighteen_ligne_button_is_eleven_and_a_half_millimetres() {
        // TRADE: 18 L = 11.43 mm.
        assert_eq!(lignes(18.0 * 0.635, STYLE), "11.4 mm (18 L)");
    }
}
