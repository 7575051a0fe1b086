//! A value as the text prints it: once if it is the same in every size, else with each size's name.

use crate::design::{Dimension, LengthStyle, Quantity, printed};
use crate::geometry::rounding::decimals;
use crate::language::Words;

/// A value in the sizes that have it.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// Title of the size and its value, in the design's order.
    pub by_size: Vec<(String, Quantity)>,
    /// How lengths are printed.
    pub style: LengthStyle,
    /// The words round them.
    pub words: Words,
}

/// Which of a length's two forms is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Both, in the design's order.
    Both,
    /// Millimetres or centimetres.
    Metric,
    /// Inches.
    Inch,
}

impl Printed {
    /// The words in `form`: `48 mm (1 7⁄8 in) in size Small, 75 mm (2 15⁄16 in) in size Large`.
    pub fn text(&self, form: Form) -> String {
        let lengths = self.by_size.iter().map(|(_, value)| value);
        let lengths = lengths.filter(|value| value.dimension == Dimension::Length);
        let style = self.style.together(lengths.map(|value| value.value));
        let texts: Vec<(&str, String)> = self
            .by_size
            .iter()
            .map(|(title, value)| (title.as_str(), quantity(*value, style, form)))
            .collect();
        match texts.split_first() {
            None => String::new(),
            Some(((_, first), rest)) if rest.iter().all(|(_, text)| text == first) => first.clone(),
            Some(_) => {
                let named: Vec<String> = texts
                    .iter()
                    .map(|(title, text)| {
                        // a line does not end between the word and the size
                        let size = size_in_words(title, &self.words).replacen(' ', "\u{a0}", 1);
                        self.words
                            .say("size.in", &[("value", text), ("size", &size)])
                    })
                    .collect();
                named.join(", ")
            }
        }
    }

    /// The only value, if every size has the same or there is one size.
    pub fn single(&self) -> Option<Quantity> {
        let ((_, first), rest) = self.by_size.split_first()?;
        rest.iter()
            .all(|(_, value)| value == first)
            .then_some(*first)
    }
}

/// `size Large`; a title that already begins with the word is not given it twice.
pub fn size_in_words(title: &str, words: &Words) -> String {
    let begins = title.to_lowercase().starts_with(words.get("size.word"));
    match title.split_once(' ').filter(|_| begins) {
        Some((_, rest)) => words.say("size.inside", &[("title", &rest)]),
        None => words.say("size.inside", &[("title", &title)]),
    }
}

/// One quantity in words.
pub fn quantity(value: Quantity, style: LengthStyle, form: Form) -> String {
    let number = value.value;
    match (value.dimension, form) {
        (Dimension::Length, Form::Both) => printed::both(number, style),
        (Dimension::Length, Form::Metric) => printed::metric_in(number, style),
        (Dimension::Length, Form::Inch) => {
            printed::inch(number, style.denominator).unwrap_or_else(|| "0 in".to_string())
        }
        (Dimension::Area, _) => {
            format!("{}\u{202f}cm²", style.figures(&decimals(number / 100.0, 1)))
        }
        (Dimension::Angle, _) => format!("{}°", style.figures(&decimals(number, 1))),
        (Dimension::Number, _) => style.figures(&decimals(number, 3)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const STYLE: LengthStyle = LengthStyle {
        inch_first: false,
        denominator: 16,
        ..LengthStyle::METRIC
    };

    fn lengths(values: &[(&str, f64)]) -> Printed {
        let quantity = |value| Quantity {
            value,
            dimension: Dimension::Length,
        };
        let by_size = values
            .iter()
            .map(|(t, v)| (t.to_string(), quantity(*v)))
            .collect();
        Printed {
            by_size,
            style: STYLE,
            words: Words::default(),
        }
    }

    #[test]
    fn the_same_in_all_sizes_is_said_once() {
        assert_eq!(
            lengths(&[("Small", 4.7625), ("Large", 4.7625)]).text(Form::Both),
            "4.8 mm (3⁄16 in)"
        );
    }

    #[test]
    fn what_differs_is_said_for_every_size() {
        let both = lengths(&[("Small", 48.0), ("Size 3", 75.0)]);
        assert_eq!(
            both.text(Form::Both),
            "48 mm (1 7⁄8 in) in size\u{a0}Small, 75 mm (2 15⁄16 in) in size\u{a0}3"
        );
        assert_eq!(
            both.text(Form::Metric),
            "48 mm in size\u{a0}Small, 75 mm in size\u{a0}3"
        );
        assert_eq!(
            both.text(Form::Inch),
            "1 7⁄8 in in size\u{a0}Small, 2 15⁄16 in in size\u{a0}3"
        );
    }

    #[test]
    fn other_dimensions() {
        let of = |value, dimension| quantity(Quantity { value, dimension }, STYLE, Form::Both);
        assert_eq!(of(1234.0, Dimension::Area), "12.3\u{202f}cm²");
        assert_eq!(of(45.0, Dimension::Angle), "45°");
        assert_eq!(of(0.45, Dimension::Number), "0.45");
        assert_eq!(of(100.0, Dimension::Number), "100");
    }
}
