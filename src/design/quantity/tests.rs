use super::*;
use proptest::prelude::*;

fn mm(text: &str) -> f64 {
    let quantity = Quantity::parse(text).unwrap();
    assert_eq!(quantity.dimension, Dimension::Length, "{text}");
    quantity.value
}

#[test]
fn inches_and_their_fractions_are_exact() {
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959); the rest is
    // arithmetic.
    for (text, inches) in [
        ("3/16 in", 3.0 / 16.0),
        ("3/16in", 3.0 / 16.0),
        ("3\u{2044}16 in", 3.0 / 16.0),
        ("1 1/2 in", 1.5),
        ("1 1\u{2044}2 in", 1.5),
        ("½ in", 0.5),
        ("1½ in", 1.5),
        ("1 ½ in", 1.5),
        ("⅛\"", 0.125),
        ("2\u{2033}", 2.0),
        ("2 inches", 2.0),
        ("1 inch", 1.0),
        ("0.375 in", 0.375),
        (".5 in", 0.5),
        ("-1 1/2 in", -1.5),
        ("1 yd", 36.0),
        ("18 L", 18.0 / 40.0),
    ] {
        assert!((mm(text) - inches * 25.4).abs() < 1e-12, "{text}");
    }
}

#[test]
fn metric_units() {
    assert_eq!(mm("4.5 mm"), 4.5);
    assert_eq!(mm("0.8 cm"), 8.0);
    assert_eq!(mm("2 m"), 2000.0);
    assert_eq!(mm("\u{2212}3 mm"), -3.0);
}

#[test]
fn angles_percent_and_numbers() {
    assert_eq!(Quantity::parse("45 deg"), Ok(Quantity::angle(45.0)));
    assert_eq!(Quantity::parse("45°"), Ok(Quantity::angle(45.0)));
    assert_eq!(Quantity::parse("50 %"), Ok(Quantity::number(0.5)));
    assert_eq!(Quantity::parse("7"), Ok(Quantity::number(7.0)));
    assert_eq!(Quantity::parse("1 1/2"), Ok(Quantity::number(1.5)));
}

#[test]
fn mistakes_say_what_was_read() {
    for (text, code, at, part) in [
        ("4,5 mm", "decimal-comma", 1, "4,5"),
        ("5 mn", "unknown-unit", 1, "‘mn’"),
        ("5 MM", "unknown-unit", 1, "‘MM’"),
        ("18 l", "unknown-unit", 2, "‘l’"),
        ("5 pt", "unknown-unit", 1, "‘pt’"),
        ("mm", "formula", 0, "‘mm’"),
        ("", "formula", 0, "missing"),
        ("3/0 in", "formula", 1, "below the stroke"),
        ("5 mm wide", "unknown-unit", 4, "‘wide’"),
    ] {
        let fault = Quantity::parse(text).unwrap_err();
        assert_eq!((fault.code, fault.at), (code, at), "{text}");
        assert!(fault.message.contains(part), "{text}: {}", fault.message);
    }
    assert!(
        Quantity::parse("5 MM")
            .unwrap_err()
            .remedy
            .contains("small letters")
    );
    assert!(
        Quantity::parse("18 l")
            .unwrap_err()
            .remedy
            .contains("capital L")
    );
    assert!(
        Quantity::parse("4,5 mm")
            .unwrap_err()
            .remedy
            .contains("4.5")
    );
}

proptest! {
    #[test]
    fn no_text_panics(text in "\\PC{0,40}") {
        let _ = Quantity::parse(&text);
    }

    #[test]
    fn sixteenths_are_read_as_written(whole in 0u32..40, top in 1u32..16) {
        let text = format!("{whole} {top}/16 in");
        let wanted = (f64::from(whole) + f64::from(top) / 16.0) * 25.4;
        prop_assert!((Quantity::parse(&text).unwrap().value - wanted).abs() < 1e-9);
    }
}
