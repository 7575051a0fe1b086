//! How lengths are printed: in which units, how fine, with which sign. Millimetres.

/// Which unit comes first in print, whether the other follows, how fine inches are, and the sign before
/// decimals.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LengthStyle {
    /// Inches before centimetres.
    pub inch_first: bool,
    /// The other unit follows in brackets.
    pub both: bool,
    /// Finest printed inch as a denominator, a power of two up to 64.
    pub denominator: u32,
    /// Between whole numbers and tenths.
    pub decimal: char,
    /// Lengths from this on are printed in centimetres, shorter ones in millimetres, mm.
    pub centimetres_from: f64,
}

impl LengthStyle {
    /// Centimetres first, inches to the sixteenth, decimal points.
    pub const METRIC: Self = Self {
        inch_first: false,
        both: true,
        denominator: 16,
        decimal: '.',
        centimetres_from: 100.0,
    };

    /// The longest length, mm, that is printed in millimetres for the sake of others beside it.
    const LONGEST_IN_MILLIMETRES: f64 = 1000.0;

    /// For lengths, mm, that are compared with each other, one metric unit: millimetres where one of them
    /// is short.
    pub fn together(self, lengths: impl IntoIterator<Item = f64>) -> Self {
        let mut sorted: Vec<f64> = lengths.into_iter().map(f64::abs).collect();
        sorted.sort_by(f64::total_cmp);
        let is_short = |mm: &&f64| **mm + 0.05 < self.centimetres_from;
        match (sorted.first().filter(is_short), sorted.last()) {
            (Some(_), Some(longest)) if *longest < Self::LONGEST_IN_MILLIMETRES => Self {
                centimetres_from: Self::LONGEST_IN_MILLIMETRES,
                ..self
            },
            _ => self,
        }
    }

    /// The two forms of a length as they are printed: `4.8 mm (3⁄16 in)`.
    pub fn pair(self, metric: &str, inch: &str) -> String {
        let (first, other) = match self.inch_first {
            true => (inch, metric),
            false => (metric, inch),
        };
        match self.both {
            true => format!("{first} ({other})"),
            false => first.to_string(),
        }
    }

    /// A number in figures with the decimal sign.
    pub fn figures(self, text: &str) -> String {
        text.replace('.', &self.decimal.to_string())
    }
}
