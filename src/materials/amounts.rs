//! How much to buy: lengths rounded up as shops sell, never down.

use crate::design::printed;
use crate::design::{Cloth, LengthStyle, Stock};
use crate::language::Words;
use serde::Serialize;

/// Shops cut metres to 10 cm, and yards to 1/8 yd of 36 in (common practice).
pub const METRIC_STEP: f64 = 100.0;
/// See [`METRIC_STEP`].
pub const YARD_STEP: f64 = 914.4 / 8.0;

/// A length may be this much over a step, mm: cloth is taken to be a little larger where pieces fill it
/// exactly.
const SLACK: f64 = 0.02;

/// A length so many times as long as another is seen to be longer.
const SEEN_LONGER: f64 = 1.25;

/// How much of a cloth is bought.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// A length off the roll.
    Length {
        /// What the layout needs before the cloth is washed, mm.
        needed_mm: f64,
        /// That in whole steps of 10 cm, mm.
        metric_mm: f64,
        /// That in whole eighths of a yard, mm.
        yards_mm: f64,
    },
    /// So many sheets or hides.
    Sheets {
        /// How many.
        count: u32,
    },
}

impl Amount {
    /// A length off the roll, for a layout that needs `mm` of unwashed cloth.
    pub fn length(mm: f64) -> Self {
        Self::Length {
            needed_mm: mm,
            metric_mm: stepped(mm, METRIC_STEP),
            yards_mm: stepped(mm, YARD_STEP),
        }
    }

    /// Its length, mm, or how many sheets: amounts of one cloth are compared by it.
    pub fn size(self) -> f64 {
        match self {
            Self::Length { needed_mm, .. } => needed_mm,
            Self::Sheets { count } => f64::from(count),
        }
    }

    /// Whether a drawing of the one length is seen not to be of the other, as of 20 cm and 1/8 yd.
    pub fn lengths_differ(self) -> bool {
        match self {
            Self::Length {
                metric_mm,
                yards_mm,
                ..
            } => metric_mm.max(yards_mm) > SEEN_LONGER * metric_mm.min(yards_mm),
            Self::Sheets { .. } => false,
        }
    }

    /// So many of this.
    pub fn times(self, times: u32) -> Self {
        match self {
            Self::Length { needed_mm, .. } => Self::length(needed_mm * f64::from(times)),
            Self::Sheets { count } => Self::Sheets {
                count: count * times,
            },
        }
    }

    /// This and another of the same cloth.
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Length { needed_mm: a, .. }, Self::Length { needed_mm: b, .. }) => {
                Self::length(a + b)
            }
            (Self::Sheets { count: a }, Self::Sheets { count: b }) => Self::Sheets { count: a + b },
            (one, _) => one,
        }
    }

    /// As it is printed: `20 cm (1⁄4 yd)`, `2 sheets`.
    pub fn words(&self, style: LengthStyle, words: &Words, stock: &Stock) -> String {
        match self {
            Amount::Length {
                metric_mm,
                yards_mm,
                ..
            } => {
                let metric = style.figures(&metres(*metric_mm));
                style.pair(&metric, &printed::yards(*yards_mm))
            }
            Amount::Sheets { count } => {
                let key = match stock {
                    Stock::Hide(_) => "materials.hides",
                    Stock::Sheet(_) | Stock::Roll(_) => "materials.sheets",
                };
                words.count(key, *count as usize, &[])
            }
        }
    }
}

/// The least whole number of steps that holds `mm`.
fn stepped(mm: f64, step: f64) -> f64 {
    ((mm - SLACK) / step).ceil().max(1.0) * step
}

fn metres(mm: f64) -> String {
    match mm < 1000.0 {
        true => format!("{:.0} cm", mm / 10.0),
        false => format!("{:.1} m", mm / 1000.0),
    }
}

/// How a stock is called: `112 cm (44 in) wide`, `sheets of 22.9 cm (9 in) by 30.5 cm (12 in)`.
pub fn stock_words(stock: &Stock, style: LengthStyle, words: &Words) -> String {
    let length = |mm: &f64| printed::both(*mm, style);
    match stock {
        Stock::Roll(width) => {
            let width = printed::cloth_width(*width, style);
            words.say("materials.wide", &[("length", &width)])
        }
        Stock::Sheet([a, b]) => {
            let size = words.say("language.by", &[("a", &length(a)), ("b", &length(b))]);
            words.say("materials.in sheets", &[("size", &size)])
        }
        Stock::Hide(_) => words.get("materials.in a hide").to_string(),
    }
}

/// The ways in which a cloth is sold, as they are told apart in print: of several that are told alike, such
/// as rolls of 112 cm and 44 in, the one that holds least, for what lies on it lies on the others too.
pub fn ways<'c>(cloth: &'c Cloth, style: LengthStyle, words: &Words) -> Vec<&'c Stock> {
    let mut ways: Vec<(String, &Stock)> = Vec::new();
    for stock in &cloth.stock {
        let told = stock_words(stock, style, words);
        match ways.iter_mut().find(|(known, _)| *known == told) {
            Some((_, kept)) if holds(stock) < holds(kept) => *kept = stock,
            Some(_) => {}
            None => ways.push((told, stock)),
        }
    }
    ways.into_iter().map(|(_, stock)| stock).collect()
}

/// The width of a roll, mm, or the area of a sheet, mm²; a cloth has no two hides to compare.
fn holds(stock: &Stock) -> f64 {
    match stock {
        Stock::Roll(width) => *width,
        Stock::Sheet([across, down]) => across * down,
        Stock::Hide(_) => 0.0,
    }
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
    fn metric_and_inch_buyers_of_a_short_length_may_get_lengths_seen_to_differ() {
        let differ = |mm: f64| Amount::length(mm).lengths_differ();
        // 10 cm and 11.4 cm; 20 cm and 11.4 cm; 1 m and 1 1/8 yd, 102.9 cm
        assert_eq!([100.0, 100.1, 1000.0].map(differ), [false, true, false]);
        assert!(!Amount::Sheets { count: 2 }.lengths_differ());
    }

    #[test]
    fn lengths_go_up_to_what_shops_cut_and_never_down() {
        // 1/8 yd = 4 1/2 in = 114.3 mm, 1/4 yd = 9 in = 228.6 mm (international yard, 914.4 mm)
        let words =
            |mm: f64| Amount::length(mm).words(METRIC, &Words::default(), &Stock::Roll(1100.0));
        assert_eq!(words(20.0), "10 cm (1⁄8 yd)");
        assert_eq!(words(100.0), "10 cm (1⁄8 yd)");
        assert_eq!(words(100.1), "20 cm (1⁄8 yd)");
        assert_eq!(words(114.4), "20 cm (1⁄4 yd)");
        assert_eq!(words(228.6), "30 cm (1⁄4 yd)");
        assert_eq!(words(1000.0), "1.0 m (1 1⁄8 yd)");
        assert_eq!(words(914.5), "1.0 m (1 1⁄8 yd)");
        let inch = LengthStyle {
            inch_first: true,
            ..METRIC
        };
        let words = Amount::length(450.0).words(inch, &Words::default(), &Stock::Roll(1100.0));
        assert_eq!(words, "1⁄2 yd (50 cm)");
    }

    #[test]
    fn sheets_are_counted() {
        let sheet = Stock::Sheet([228.6, 304.8]);
        assert_eq!(
            Amount::Sheets { count: 1 }.words(METRIC, &Words::default(), &sheet),
            "1 sheet"
        );
        assert_eq!(
            Amount::Sheets { count: 3 }.words(METRIC, &Words::default(), &sheet),
            "3 sheets"
        );
    }

    #[test]
    fn every_rounded_length_holds_what_is_needed() {
        for i in 1..5000 {
            let needed = f64::from(i) * 0.613;
            let Amount::Length {
                metric_mm,
                yards_mm,
                ..
            } = Amount::length(needed)
            else {
                panic!("a length");
            };
            assert!(metric_mm >= needed - SLACK && metric_mm < needed + METRIC_STEP);
            assert!(yards_mm >= needed - SLACK && yards_mm < needed + YARD_STEP);
        }
    }
}
