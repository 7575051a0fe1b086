//! Strips on the bias from a square of cloth. Millimetres.

use crate::design::LengthStyle;
use crate::design::printed;
use crate::geometry::units::INCH;
use crate::language::{Places, Words};
use serde::Serialize;

/// Allowance of the seams that join strips, mm: 1/4 in (common practice).
const JOIN: f64 = INCH / 4.0;

/// Strips up to this length are cut in one piece, mm: a join in a doll's binding would show (common
/// practice).
const UNJOINED: f64 = 300.0;

/// A square larger than this is not looked for, mm: such a strip is pieced from several.
const LARGEST: f64 = 2000.0;

/// A square of cloth and the strips that are cut from it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BiasSquare {
    /// Side of the square, mm.
    pub side_mm: f64,
    /// How many strips are cut.
    pub strips: u32,
    /// Length of the longest strip along its middle, mm.
    pub longest_mm: f64,
    /// Length of the shortest, mm.
    pub shortest_mm: f64,
}

/// The smallest square in whole centimetres for `count` strips `length` long and `width` wide. It begins
/// with the usual rule, length = area / width (common practice), and grows for the corners and the
/// joins. `None` beyond [`LARGEST`].
///
/// The strips lie side by side on both sides of a diagonal d; in the middle the one beside it is
/// d - w long, each further one 2 w shorter.
pub fn square(length: f64, count: u32, width: f64) -> Option<BiasSquare> {
    let area = f64::from(count) * length * width;
    let first = (area.sqrt() / 10.0).ceil().max(1.0);
    let sides = (0..).map(|i| (first + f64::from(i)) * 10.0);
    sides.take_while(|side| *side <= LARGEST).find_map(|side| {
        let strips = strips(side, width);
        let used = match length <= UNJOINED {
            true => whole(&strips, length, count),
            false => joined(&strips, f64::from(count) * length),
        }?;
        Some(BiasSquare {
            side_mm: side,
            strips: used as u32,
            longest_mm: strips[0],
            shortest_mm: strips[used - 1],
        })
    })
}

/// Lengths of all strips of a square along their middle, the longest first.
fn strips(side: f64, width: f64) -> Vec<f64> {
    let diagonal = side * std::f64::consts::SQRT_2;
    let pairs = (diagonal / (2.0 * width)) as u32;
    let strip = |number: u32| diagonal - f64::from(2 * (number / 2) + 1) * width;
    (0..2 * pairs).map(strip).collect()
}

/// How many strips are cut for `count` lengths without a join.
fn whole(strips: &[f64], length: f64, count: u32) -> Option<usize> {
    let mut found = 0;
    let enough = strips.iter().position(|strip| {
        found += (strip / length) as u32;
        found >= count
    });
    enough.map(|last| last + 1)
}

/// How many strips are joined to this length, on the straight grain: at 45° across the strip.
fn joined(strips: &[f64], length: f64) -> Option<usize> {
    let lost = 2.0 * JOIN * std::f64::consts::SQRT_2;
    let mut joined = lost;
    let enough = strips.iter().position(|strip| {
        joined += (strip - lost).max(0.0);
        joined >= length
    });
    enough.map(|last| last + 1)
}

impl BiasSquare {
    /// As it is printed: `2 strips, the longest 14.5 cm (5 11⁄16 in), from a square of 12 cm (5 in)`.
    pub fn words(&self, style: LengthStyle, words: &Words) -> String {
        let length = |mm: f64| printed::both(mm, style);
        let centimetres = format!("{:.0} cm", self.side_mm / 10.0);
        let inches = format!("{:.0} in", (self.side_mm / INCH - 1e-9).ceil());
        let square = style.pair(&centimetres, &inches);
        let (longest, count) = (length(self.longest_mm), self.strips as usize);
        if count == 1 || self.longest_mm - self.shortest_mm < 0.5 {
            let places: Places<'_> = &[("length", &longest), ("square", &square)];
            return words.count("materials.strips alike", count, places);
        }
        words.count(
            "materials.strips",
            count,
            &[
                ("longest", &longest),
                ("shortest", &length(self.shortest_mm)),
                ("square", &square),
            ],
        )
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
    fn a_square_gives_its_area_by_the_width() {
        // the usual rule: a square of 20 in gives 20 · 20 / 2 = 200 in of strip 2 in wide
        let all: f64 = strips(20.0 * INCH, 2.0 * INCH).iter().sum();
        assert!((all / INCH - 200.0).abs() < 0.1, "{all}");
        // and 250 in of it want √500 = 22.4 in before the joins
        let found = square(250.0 * INCH, 1, 2.0 * INCH).unwrap();
        let side = found.side_mm / INCH;
        assert!((22.36..26.0).contains(&side), "{found:?}");
    }

    #[test]
    fn a_short_strip_comes_out_in_one_piece() {
        let found = square(100.0, 1, 20.0).unwrap();
        assert_eq!((found.strips, found.side_mm), (1, 90.0));
        // 9 cm has a diagonal of 12.73 cm, less the width
        assert!((found.longest_mm - (90.0 * 2f64.sqrt() - 20.0)).abs() < 1e-9);
        let words = "1 strip of 10.7 cm (4 1⁄4 in), out of a square of 9 cm (4 in)";
        assert_eq!(found.words(METRIC, &Words::default()), words);
        // the two beside the diagonal are alike
        assert_eq!(square(100.0, 2, 20.0).unwrap().strips, 2);
        assert_eq!(square(100.0, 2, 20.0).unwrap().side_mm, 90.0);
    }

    #[test]
    fn strips_and_joins_hold_the_length() {
        for (length, width) in [(400.0, 15.0), (900.0, 25.0), (4000.0, 32.0), (320.0, 30.0)] {
            let found = square(length, 1, width).unwrap();
            let strips = strips(found.side_mm, width);
            let used = &strips[..found.strips as usize];
            let joins = (used.len() - 1) as f64 * 2.0 * 6.35 * 2f64.sqrt();
            assert!(used.iter().sum::<f64>() - joins >= length, "{found:?}");
            assert_eq!(
                (used[0], used[used.len() - 1]),
                (found.longest_mm, found.shortest_mm)
            );
            // all strips lie inside the square
            let across = f64::from(found.strips.div_ceil(2)) * width;
            assert!(across <= found.side_mm / 2f64.sqrt() + 1e-9, "{found:?}");
        }
        assert_eq!(square(1e6, 1, 50.0), None);
    }
}
