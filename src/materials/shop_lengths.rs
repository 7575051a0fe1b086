//! Lengths of trims and thread as they are bought: rounded up, never down. Millimetres.

use crate::design::LengthStyle;
use crate::design::printed;
use crate::design::quantity::YARD;
use crate::geometry::units::INCH;

/// Ribbon and elastic are sold by 5 cm where little is cut (common practice).
const METRIC_STEP: f64 = 50.0;

/// Up to a quarter of a yard inches are asked for, above it eighths of a yard (common practice).
const IN_INCHES: f64 = YARD / 4.0;

/// A sum may be this much over a step, mm: its rounding.
const SLACK: f64 = 1e-6;

/// The same length in whole steps of both systems, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShopLength {
    /// In whole steps of centimetres or metres.
    pub metric: f64,
    /// In whole inches, or steps of yards.
    pub imperial: f64,
}

/// Length of a trim to buy where `mm` are needed: whole 5 cm; whole inches, above 1/4 yd whole eighths
/// of a yard.
pub fn of_trim(mm: f64) -> ShopLength {
    let imperial = match mm - SLACK <= IN_INCHES {
        true => stepped(mm, INCH),
        false => stepped(mm, YARD / 8.0),
    };
    ShopLength {
        metric: stepped(mm, METRIC_STEP),
        imperial,
    }
}

/// Length of thread where `mm` are needed: whole metres, whole yards.
pub fn of_thread(mm: f64) -> ShopLength {
    ShopLength {
        metric: stepped(mm, 1000.0),
        imperial: stepped(mm, YARD),
    }
}

/// The least whole number of steps that holds `mm`.
pub fn stepped(mm: f64, step: f64) -> f64 {
    ((mm - SLACK) / step).ceil().max(1.0) * step
}

impl ShopLength {
    /// The length that is asked for in a shop whose price is for `mm`.
    pub fn sold_by(self, mm: f64) -> f64 {
        match in_inches(mm) {
            true => self.imperial,
            false => self.metric,
        }
    }

    /// As it is printed: `35 cm (3⁄8 yd)`, `4 m (5 yd)`.
    pub fn words(self, style: LengthStyle) -> String {
        let metric = style.figures(&match self.metric < 1000.0 {
            true => format!("{:.0} cm", self.metric / 10.0),
            false => format!("{} m", (self.metric / 10.0).round() / 100.0),
        });
        let imperial = match self.imperial - SLACK <= IN_INCHES {
            true => format!("{:.0} in", self.imperial / INCH),
            false => printed::yards(self.imperial),
        };
        style.pair(&metric, &imperial)
    }
}

/// Whether a price for so many mm is one for inches or yards.
pub fn in_inches(mm: f64) -> bool {
    let inches = mm / INCH;
    (inches - inches.round()).abs() < 1e-6
}

#[cfg(test)]
mod tests {
    use super::*;

    const METRIC: LengthStyle = LengthStyle {
        inch_first: false,
        denominator: 16,
        ..LengthStyle::METRIC
    };

    #[test]
    fn trims_go_up_to_what_is_sold() {
        // 1/4 yd = 9 in = 228.6 mm, 3/8 yd = 342.9 mm (international yard)
        for (mm, words) in [
            (3.0, "5 cm (1 in)"),
            (50.0, "5 cm (2 in)"),
            (124.0, "15 cm (5 in)"),
            (228.6, "25 cm (9 in)"),
            (228.7, "25 cm (3⁄8 yd)"),
            (914.4, "95 cm (1 yd)"),
            (1210.0, "1.25 m (1 3⁄8 yd)"),
        ] {
            assert_eq!(of_trim(mm).words(METRIC), words, "{mm}");
        }
        let inch = LengthStyle {
            inch_first: true,
            ..METRIC
        };
        assert_eq!(of_trim(124.0).words(inch), "5 in (15 cm)");
        assert_eq!(of_thread(4321.0).words(METRIC), "5 m (5 yd)");
        assert_eq!(of_thread(914.4).words(METRIC), "1 m (1 yd)");
    }

    #[test]
    fn no_length_is_less_than_what_is_needed() {
        for i in 1..4000 {
            let mm = f64::from(i) * 0.731;
            for length in [of_trim(mm), of_thread(mm)] {
                assert!(
                    length.metric >= mm - 1e-5 && length.imperial >= mm - 1e-5,
                    "{mm}"
                );
            }
            assert!(of_trim(mm).metric < mm + METRIC_STEP);
        }
    }
}
