//! Prices and weights of cloth, trims and thread: words as they stand on a shop's label.

use super::Reading;
use super::node::Node;
use crate::design::{Dimension, Price, PriceUnit, Quantity, TrimWeight};

/// One ounce avoirdupois, g, one square yard, m², and one yard, m (exact by the international yard and pound).
const OUNCE: f64 = 28.349_523_125;
const SQUARE_YARD: f64 = 0.9144 * 0.9144;
const YARD: f64 = 0.9144;

/// Most that a price may come to: beyond it a unit or a point is wrong.
const MOST: f64 = 1e6;

/// `14.50 EUR per m`, `1.20 EUR per sheet`, `30 ct each`.
pub(super) fn price(node: &Node, reading: &mut Reading<'_>) -> Option<Price> {
    let text = reading.text(node, "‘price’")?;
    let price = parsed(&text);
    let Some((amount, currency, per)) = price else {
        let message = format!("‘{text}’ is no price");
        let remedy = "write amount, currency and what it is for: 14.50 EUR per m, 1.20 EUR each";
        reading.error("wrong-type", &node.place, message, remedy);
        return None;
    };
    if !(0.0..=MOST).contains(&amount) {
        let message = format!("a price of {amount} cannot be meant");
        reading.error("out-of-range", &node.place, message, "change the amount");
        return None;
    }
    Some(Price {
        amount,
        currency,
        per,
        place: node.place.clone(),
    })
}

fn parsed(text: &str) -> Option<(f64, String, PriceUnit)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let (amount, currency, unit) = match words.as_slice() {
        [amount, currency, "each"] => (amount, currency, PriceUnit::Each),
        [amount, currency, "per" | "a", unit @ ..] => {
            let unit = unit.join(" ");
            (amount, currency, per(&unit)?)
        }
        _ => return None,
    };
    let amount: f64 = amount.parse().ok().filter(|a: &f64| a.is_finite())?;
    let is_word = currency.chars().count() <= 4 && !currency.chars().any(|c| c.is_ascii_digit());
    is_word.then(|| (amount, (*currency).to_string(), unit))
}

fn per(unit: &str) -> Option<PriceUnit> {
    if matches!(unit, "sheet" | "hide" | "piece" | "pack" | "spool") {
        return Some(PriceUnit::Each);
    }
    let whole = match unit.starts_with(|c: char| c.is_ascii_digit()) {
        true => unit.to_string(),
        false => format!("1 {unit}"),
    };
    let length = Quantity::parse(&whole).ok()?;
    let is_length = length.dimension == Dimension::Length && length.value > 0.0;
    is_length.then_some(PriceUnit::Length(length.value))
}

/// `250 g/m2` or `8 oz/yd2`, in g per m².
pub(super) fn weight_of_cloth(node: &Node, reading: &mut Reading<'_>) -> Option<f64> {
    weight(
        node,
        &[
            ("g/m2", 1.0),
            ("g/m²", 1.0),
            ("gsm", 1.0),
            ("oz/yd2", OUNCE / SQUARE_YARD),
            ("oz/yd²", OUNCE / SQUARE_YARD),
        ],
        "250 g/m2",
        reading,
    )
}

/// `2 g each`, `1.5 g/m` or `0.1 oz/yd`.
pub(super) fn weight_of_trim(node: &Node, reading: &mut Reading<'_>) -> Option<TrimWeight> {
    let each = node
        .scalar()
        .is_some_and(|s| s.text.trim_end().ends_with("each"));
    let units: &[(&str, f64)] = match each {
        true => &[("g each", 1.0), ("oz each", OUNCE)],
        false => &[("g/m", 1.0), ("oz/yd", OUNCE / YARD)],
    };
    let grams = weight(node, units, "2 g each, 1.5 g/m", reading)?;
    Some(match each {
        true => TrimWeight::Each(grams),
        false => TrimWeight::PerMetre(grams),
    })
}

/// Amount and unit; `units` with what one of each is.
fn weight(
    node: &Node,
    units: &[(&str, f64)],
    example: &str,
    reading: &mut Reading<'_>,
) -> Option<f64> {
    let text = reading.text(node, "‘weight’")?;
    let known = text.split_once(' ').and_then(|(amount, unit)| {
        let (_, factor) = units.iter().find(|(word, _)| *word == unit.trim())?;
        let amount: f64 = amount.parse().ok()?;
        Some(amount * factor)
    });
    let found = known.filter(|weight| (0.0..=MOST).contains(weight));
    if found.is_none() {
        let message = format!("‘{text}’ is no weight");
        let remedy = format!("write a number and its unit: {example}");
        reading.error("wrong-type", &node.place, message, remedy);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_as_shops_write_them() {
        let read = parsed;
        let metre = PriceUnit::Length(1000.0);
        assert_eq!(read("14.50 EUR per m"), Some((14.5, "EUR".into(), metre)));
        assert_eq!(read("14.50 EUR a m"), read("14.50 EUR per m"));
        assert_eq!(
            read("6 USD per yd"),
            Some((6.0, "USD".into(), PriceUnit::Length(914.4)))
        );
        assert_eq!(
            read("3 EUR per 10 cm"),
            Some((3.0, "EUR".into(), PriceUnit::Length(100.0)))
        );
        assert_eq!(
            read("1.20 EUR per sheet"),
            Some((1.2, "EUR".into(), PriceUnit::Each))
        );
        assert_eq!(
            read("0.30 EUR each"),
            Some((0.3, "EUR".into(), PriceUnit::Each))
        );
        for wrong in [
            "14.50",
            "14.50 EUR",
            "EUR 3 each",
            "3 EUR per kg",
            "3 EUR per 0 m",
            "inf EUR each",
        ] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn an_ounce_to_the_square_yard_is_33_9_g_to_the_square_metre() {
        // 28.349523125 g / 0.83612736 m² (international avoirdupois ounce and yard)
        assert!((OUNCE / SQUARE_YARD - 33.905_75).abs() < 1e-4);
    }
}
