//! Formulas: read, or refused at a place within them; what they measure is known before they are worked out.

use super::said::can_be_told;
use pressfoot::design::formula::{Dimensions, Formula, Scope};
use pressfoot::design::{Dimension, Quantity};
use pressfoot::diagnostic::{Diagnostic, Diagnostics, Place, SourceText};
use std::sync::Arc;

/// Names that a formula may use.
struct Names;

impl Scope for Names {
    fn value(&self, name: &str) -> Option<Quantity> {
        let (value, dimension) = match name {
            "foot.length" => (70.0, Dimension::Length),
            "toe.sole edge" => (1e-9, Dimension::Length),
            "seam" => (6.35, Dimension::Length),
            "none" => (0.0, Dimension::Length),
            "far" => (1e300, Dimension::Length),
            "toe.area" => (812.5, Dimension::Area),
            "lean" => (-30.0, Dimension::Angle),
            "count" => (3.0, Dimension::Number),
            _ => return None,
        };
        Some(Quantity { value, dimension })
    }
}

impl Dimensions for Names {
    fn dimension(&self, name: &str) -> Option<Dimension> {
        self.value(name).map(|quantity| quantity.dimension)
    }
}

/// Reads the text in `bytes` as a formula and works it out.
pub fn check(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else {
        return;
    };
    let line = text.replace(['\n', '\r'], " ");
    let source = SourceText {
        path: "design.yaml".to_string(),
        text: format!("seam: {line}\n"),
    };
    let place = Place {
        source: Arc::new(source),
        line: 1,
        column: 7,
    };
    match Formula::parse(&line, &place) {
        Ok(formula) => worked_out(&formula),
        Err(refused) => told(refused),
    }
}

fn worked_out(formula: &Formula) {
    for name in formula.names() {
        let place = formula.place_of(name);
        assert!(place.column >= formula.place.column, "{name}");
    }
    let measures = formula.dimension(&Names);
    let value = formula.quantity(&Names);
    if let (Ok(Some(measures)), Ok(value)) = (&measures, &value) {
        assert_eq!(*measures, value.dimension, "{}", formula.text);
    }
    if let Ok(value) = &value {
        assert!(value.value.is_finite(), "{} is endless", formula.text);
        let negative = formula.negated().quantity(&Names);
        let negative = negative.expect("what has a value has a negative one");
        assert_eq!(negative.value, -value.value, "{}", formula.text);
    }
    if let Some(fixed) = formula.fixed() {
        assert_eq!(Ok(fixed), value, "{}", formula.text);
    }
    if let Err(refused) = measures {
        told(refused);
    }
    for wanted in [Dimension::Length, Dimension::Number, Dimension::Angle] {
        if let Err(refused) = formula.check(&Names, wanted) {
            told(refused);
        }
        // in words, not as a value
        let _ = formula.evaluate(&Names, wanted);
    }
}

fn told(refused: Diagnostic) {
    let mut said = Diagnostics::default();
    said.push(refused);
    can_be_told(&said);
}
