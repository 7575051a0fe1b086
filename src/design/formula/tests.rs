use super::super::quantity::Dimension::{self, Angle, Area, Length, Number};
use super::super::quantity::Quantity;
use super::*;
use crate::diagnostic::SourceText;
use proptest::prelude::*;
use std::collections::BTreeMap;

fn place(text: &str) -> Place {
    let source = SourceText {
        path: "design.yaml".into(),
        text: text.into(),
    };
    Place {
        source: Arc::new(source),
        line: 1,
        column: 1,
    }
}

fn formula(text: &str) -> Formula {
    Formula::parse(text, &place(text)).unwrap()
}

struct Names(BTreeMap<&'static str, Quantity>);

impl Scope for Names {
    fn value(&self, name: &str) -> Option<Quantity> {
        self.0.get(name).copied()
    }
}

impl Dimensions for Names {
    fn dimension(&self, name: &str) -> Option<Dimension> {
        self.value(name).map(|quantity| quantity.dimension)
    }
}

fn names() -> Names {
    Names(BTreeMap::from([
        ("foot.length", Quantity::length(50.0)),
        ("foot.long-heel girth", Quantity::length(40.0)),
        ("toe.sole edge", Quantity::length(80.0)),
        ("strap.corner 1", Quantity::length(5.0)),
        ("toe.area", Quantity::area(900.0)),
        ("seam", Quantity::length(4.0)),
        ("hem depth", Quantity::length(12.0)),
        ("share", Quantity::number(0.5)),
    ]))
}

fn value(text: &str) -> Quantity {
    formula(text).quantity(&names()).unwrap()
}

#[test]
fn arithmetic_follows_the_usual_order() {
    // Expected values by hand.
    for (text, wanted) in [
        ("1 + 2 * 3", Quantity::number(7.0)),
        ("(1 + 2) * 3", Quantity::number(9.0)),
        ("2 - 3 - 4", Quantity::number(-5.0)),
        ("8 / 2 / 2", Quantity::number(2.0)),
        ("6/2", Quantity::number(3.0)),
        ("-2 * -3", Quantity::number(6.0)),
        ("--2", Quantity::number(2.0)),
        ("1 1/2 * 2", Quantity::number(3.0)),
        ("50 %", Quantity::number(0.5)),
        ("0.2 * foot.length + 1/2 in", Quantity::length(10.0 + 12.7)),
        ("1 1/2 in + 1/2 in", Quantity::length(50.8)),
        ("foot.length / 2", Quantity::length(25.0)),
        ("foot.length * 1/2", Quantity::length(25.0)),
        ("foot.length / 1/2 in", Quantity::number(50.0 / 12.7)),
        ("hem depth - seam", Quantity::length(8.0)),
        ("seam-2 mm", Quantity::length(2.0)),
        ("foot.long-heel girth", Quantity::length(40.0)),
        ("strap.corner 1 / 2", Quantity::length(2.5)),
        ("seam * seam", Quantity::area(16.0)),
        ("toe.area / seam", Quantity::length(225.0)),
        ("toe.sole edge / foot.length", Quantity::number(1.6)),
        ("share * seam", Quantity::length(2.0)),
        ("45 deg * 2", Quantity::angle(90.0)),
        ("3 × 4 ÷ 2 \u{2212} 1", Quantity::number(5.0)),
    ] {
        let found = value(text);
        assert_eq!(found.dimension, wanted.dimension, "{text}");
        assert!(
            (found.value - wanted.value).abs() < 1e-9,
            "{text}: {found:?}"
        );
    }
}

#[test]
fn functions() {
    for (text, wanted) in [
        ("min(3 mm, seam, 1 in)", Quantity::length(3.0)),
        ("max(3,7)", Quantity::number(7.0)),
        ("round(10.2 mm, 0.5 mm)", Quantity::length(10.0)),
        ("round up(10.2 mm, 0.5 mm)", Quantity::length(10.5)),
        ("round up(0.3, 0.1)", Quantity::number(0.3)),
        ("round down(10.9 mm, 0.5 mm)", Quantity::length(10.5)),
        ("round down(0.3, 0.1)", Quantity::number(0.3)),
        ("sqrt(toe.area)", Quantity::length(30.0)),
        ("sqrt(16)", Quantity::number(4.0)),
        ("abs(seam - hem depth)", Quantity::length(8.0)),
    ] {
        let found = value(text);
        assert_eq!(found.dimension, wanted.dimension, "{text}");
        assert!(
            (found.value - wanted.value).abs() < 1e-9,
            "{text}: {found:?}"
        );
    }
}

#[test]
fn mistakes_have_their_column() {
    for (text, code, column, part) in [
        ("", "formula", 1, "ends too early"),
        ("2 +", "formula", 4, "ends too early"),
        ("2 + * 3", "formula", 5, "missing before this sign"),
        ("(2 + 3", "formula", 1, "never closed"),
        ("2 + 3)", "formula", 6, "never opened"),
        ("2 3", "formula", 3, "sign is missing"),
        (
            "5 mm foot.length",
            "formula",
            6,
            "sign is missing before ‘foot’",
        ),
        ("seam + 5 mn", "unknown-unit", 10, "‘mn’"),
        ("4,5 mm", "decimal-comma", 2, "4,5"),
        ("seam, 2", "formula", 5, "comma"),
        ("foo(2)", "formula", 1, "‘foo’ is no function"),
        ("round(2)", "formula", 1, "two values"),
        ("foot. length", "formula", 6, "a name is missing"),
        ("seam & 2", "formula", 6, "‘&’"),
        ("2 / 3/0 in", "formula", 6, "below the stroke"),
        ("foot.length + é3?", "formula", 17, "‘?’"),
    ] {
        let fault = Formula::parse(text, &place(text)).unwrap_err();
        let found = (fault.code, fault.place.as_ref().unwrap().column);
        assert_eq!(found, (code, column), "{text}: {}", fault.message);
        assert!(
            fault.message.to_lowercase().contains(part),
            "{text}: {}",
            fault.message
        );
        assert!(!fault.remedy.is_empty() || code == "formula", "{text}");
    }
}

/// The dimension wanted of a formula, and the code, column and part of the message it gets.
type Unlike = (&'static str, Dimension, &'static str, usize, &'static str);

const UNLIKE: [Unlike; 11] = [
    (
        "seam + 5",
        Length,
        "wrong-dimension",
        6,
        "a length and a plain",
    ),
    (
        "5 - seam",
        Length,
        "wrong-dimension",
        3,
        "cannot be taken from",
    ),
    (
        "seam * seam",
        Length,
        "wrong-dimension",
        1,
        "is an area; a length",
    ),
    (
        "seam * seam * seam",
        Area,
        "wrong-dimension",
        13,
        "be multiplied",
    ),
    (
        "2 / seam",
        Number,
        "wrong-dimension",
        3,
        "cannot be divided",
    ),
    (
        "min(2, seam)",
        Length,
        "wrong-dimension",
        1,
        "‘min’ is given",
    ),
    (
        "sqrt(seam)",
        Length,
        "wrong-dimension",
        1,
        "root of a length",
    ),
    ("5", Length, "no-unit", 1, "‘5’ has no unit"),
    ("-5", Length, "no-unit", 1, "‘-5’ has no unit"),
    ("30", Angle, "no-unit", 1, "an angle is wanted"),
    ("share", Length, "wrong-dimension", 1, "a length is wanted"),
];

#[test]
fn unlike_dimensions_are_refused_before_any_value_is_known() {
    for (text, wanted, code, column, part) in UNLIKE {
        let fault = formula(text).check(&names(), wanted).unwrap_err();
        let found = (fault.code, fault.place.as_ref().unwrap().column);
        assert_eq!(found, (code, column), "{text}: {}", fault.message);
        assert!(
            fault.message.to_lowercase().contains(part),
            "{text}: {}",
            fault.message
        );
    }
    let bare = formula("5").check(&NoNames, Length).unwrap_err();
    assert!(bare.remedy.contains("5 mm"));
}

#[test]
fn names_of_unknown_dimension_are_not_complained_of() {
    for text in [
        "nobody + seam",
        "nobody * 2",
        "2 mm * nobody",
        "sqrt(nobody)",
        "nobody / seam",
    ] {
        assert_eq!(formula(text).check(&names(), Length), Ok(()), "{text}");
    }
}

#[test]
fn evaluation_says_what_failed() {
    for (text, part) in [
        ("nobody", "‘nobody’ has no value"),
        ("seam / (2 - 2)", "divided by zero"),
        ("sqrt(-4) * 1 mm", "square root"),
        ("round(seam, 0 mm)", "more than 0"),
        ("seam * seam", "a length is wanted"),
    ] {
        let why = formula(text).evaluate(&names(), Length).unwrap_err();
        assert!(why.contains(part), "{text}: {why}");
    }
    let huge = format!(
        "1{} mm * 1{} * 1{}",
        "0".repeat(14),
        "0".repeat(14),
        "0".repeat(14)
    );
    let huge = format!("({huge}) * ({huge}) / 1 mm").repeat(1);
    let many = vec![huge; 9].join(" / 1 mm * ");
    assert!(
        formula(&many)
            .quantity(&names())
            .unwrap_err()
            .contains("too large")
    );
}

#[test]
fn names_come_once_with_the_place_of_their_first_use() {
    let formula = formula("seam + foot.length * (seam - toe.sole edge)");
    assert_eq!(formula.names(), ["seam", "foot.length", "toe.sole edge"]);
    let columns: Vec<usize> = formula
        .names()
        .iter()
        .map(|name| formula.place_of(name).column)
        .collect();
    assert_eq!(columns, [1, 8, 30]);
}

#[test]
fn a_quoted_formula_counts_its_quotation_mark_and_a_folded_one_keeps_its_place() {
    let quoted = place("\"2 + * 3\"");
    assert_eq!(
        Formula::parse("2 + * 3", &quoted)
            .unwrap_err()
            .place
            .unwrap()
            .column,
        6
    );
    let folded = place(">\n 2 +\n * 3");
    assert_eq!(
        Formula::parse("2 + * 3", &folded)
            .unwrap_err()
            .place
            .unwrap()
            .column,
        1
    );
}

#[test]
fn depth_and_length_are_limited() {
    let deep = format!("{}1{}", "(".repeat(99), ")".repeat(99));
    assert_eq!(value(&deep), Quantity::number(1.0));
    let deeper = format!("{}1{}", "(".repeat(900), ")".repeat(900));
    assert_eq!(
        Formula::parse(&deeper, &place("")).unwrap_err().code,
        "too-large"
    );
    assert_eq!(
        Formula::parse(&"-".repeat(1500), &place(""))
            .unwrap_err()
            .code,
        "too-large"
    );
    let long = "1 + ".repeat(400) + "1";
    assert_eq!(value(&long), Quantity::number(401.0));
    assert_eq!(
        Formula::parse(&"1".repeat(2001), &place(""))
            .unwrap_err()
            .code,
        "too-large"
    );
}

#[test]
fn constants_and_negatives() {
    let place = place("");
    let constant = Formula::constant(4.7625, &place);
    assert_eq!(constant.fixed(), Some(Quantity::length(4.7625)));
    assert_eq!(constant.negated().fixed(), Some(Quantity::length(-4.7625)));
    assert_eq!(formula("seam").fixed(), None);
}

/// Formulas by a grammar, with their value computed on the way.
fn grown() -> impl Strategy<Value = (String, f64)> {
    let leaf = (0u32..100).prop_map(|n| (n.to_string(), f64::from(n)));
    leaf.prop_recursive(6, 40, 3, |inner| {
        prop_oneof![
            (inner.clone(), inner.clone())
                .prop_map(|(a, b)| (format!("({} + {})", a.0, b.0), a.1 + b.1)),
            (inner.clone(), inner.clone())
                .prop_map(|(a, b)| (format!("({} - {})", a.0, b.0), a.1 - b.1)),
            (inner.clone(), inner.clone())
                .prop_map(|(a, b)| (format!("{} * {}", a.0, b.0), a.1 * b.1)),
            inner.clone().prop_map(|a| (format!("-({})", a.0), -a.1)),
            (inner.clone(), inner)
                .prop_map(|(a, b)| (format!("max({}, {})", a.0, b.0), a.1.max(b.1))),
        ]
    })
}

proptest! {
    #[test]
    fn no_text_panics(text in "\\PC{0,60}") {
        if let Ok(formula) = Formula::parse(&text, &place(&text)) {
            let _ = formula.quantity(&names());
            let _ = formula.check(&names(), Length);
        }
    }

    #[test]
    fn no_row_of_words_panics(words in prop::collection::vec(
        prop::sample::select(vec!["1", "1/2", " in", "mm", "(", ")", "+", "-", "*", "/", ",",
            " ", "seam", ".", "foot", "round up", "min", "½", "%", "\"", "⁄", "-a", "3.5", "_"]), 0..20)) {
        let text = words.concat();
        if let Ok(formula) = Formula::parse(&text, &place(&text)) {
            let _ = formula.quantity(&names());
            let _ = formula.check(&names(), Length);
        }
    }

    #[test]
    fn a_formula_comes_to_what_its_parts_come_to((text, wanted) in grown()) {
        if text.chars().count() <= 2000 {
            match formula(&text).quantity(&NoNames) {
                Ok(found) => prop_assert!((found.value - wanted).abs() <= 1e-9 * wanted.abs().max(1.0)),
                Err(why) => prop_assert!(why.contains("too large")),
            }
        }
    }
}
