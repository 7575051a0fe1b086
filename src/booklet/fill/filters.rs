//! What may stand after `|` in a tag: units, rounding, counting. A value of several sizes is treated
//! size by size.

use crate::booklet::printed::{Form, Printed};
use crate::booklet::values::Branch;
use crate::design::{Dimension, Quantity};
use crate::language::phrase;
use crate::language::plural::{self, Plural};
use minijinja::value::{Kwargs, Value};
use minijinja::{Environment, Error, ErrorKind};
use std::collections::BTreeMap;

/// Adds all filters, for a text in `language`.
pub(super) fn add(environment: &mut Environment<'static>, language: &str) {
    environment.add_filter("both", |value: &Value| form(value, Form::Both));
    environment.add_filter("metric", |value: &Value| form(value, Form::Metric));
    environment.add_filter("inch", |value: &Value| form(value, Form::Inch));
    environment.add_filter("nearest", |value: &Value, step: &Value| {
        rounded(value, step, f64::round)
    });
    // a hair is not a whole step more
    environment.add_filter("at_least", |value: &Value, step: &Value| {
        rounded(value, step, |steps| (steps - 1e-9).ceil())
    });
    environment.add_filter("at_most", |value: &Value, step: &Value| {
        rounded(value, step, |steps| (steps + 1e-9).floor())
    });
    let tag = language.to_string();
    environment.add_filter(
        "counted",
        move |value: &Value, one: &str, other: &str, further: Kwargs| {
            counted(value, (one, other), &further, &tag)
        },
    );
    environment.add_filter("lower", |words: &str| words.to_lowercase());
    environment.add_filter("capital", |words: &str| phrase::capital(words));
}

fn wrong(words: impl Into<String>) -> Error {
    Error::new(ErrorKind::InvalidOperation, words.into())
}

fn printed(value: &Value) -> Option<Printed> {
    value
        .downcast_object_ref::<Branch>()
        .and_then(Branch::printed)
        .cloned()
}

fn form(value: &Value, form: Form) -> Result<String, Error> {
    let printed = printed(value).ok_or_else(|| wrong("only lengths have units to choose"))?;
    Ok(printed.text(form))
}

/// `value` in whole steps. The step is a length in quotation marks, or a number for counts and
/// ratios.
fn rounded(value: &Value, step: &Value, whole: fn(f64) -> f64) -> Result<Value, Error> {
    let mut printed =
        printed(value).ok_or_else(|| wrong("only values that are computed can be rounded"))?;
    let step = match (step.as_str(), f64::try_from(step.clone())) {
        (Some(words), _) => Quantity::parse(words).map_err(|_| {
            wrong(format!(
                "‘{words}’ is no step to round to: write \"5 mm\" or \"1/4 in\""
            ))
        })?,
        (None, Ok(value)) => Quantity {
            value,
            dimension: Dimension::Number,
        },
        (None, Err(_)) => {
            return Err(wrong(
                "a step to round to is written \"5 mm\" or \"1/4 in\"",
            ));
        }
    };
    if !(step.value > 0.0 && step.value.is_finite()) {
        return Err(wrong("a step to round to is larger than nothing"));
    }
    for (_, quantity) in &mut printed.by_size {
        if quantity.dimension != step.dimension {
            return Err(wrong("a value and its step are of one kind, lengths both"));
        }
        quantity.value = whole(quantity.value / step.value) * step.value;
    }
    Ok(Value::from_object(Branch::of(printed)))
}

/// `1 piece`, `2 pieces`: a number, or how many there are of something. Forms besides those for one and
/// for others are given by the names of their plural categories.
fn counted(
    value: &Value,
    (one, other): (&str, &str),
    further: &Kwargs,
    language: &str,
) -> Result<String, Error> {
    let number = match printed(value).and_then(|printed| printed.single()) {
        Some(quantity) if quantity.dimension == Dimension::Number => Some(quantity.value),
        Some(_) => return Err(wrong("lengths are not counted")),
        None => f64::try_from(value.clone()).ok(),
    };
    let number = match (number, value.len()) {
        (Some(number), _) => number,
        (None, Some(length)) => length as f64,
        (None, None) => return Err(wrong("only numbers and lists are counted")),
    };
    let mut forms = BTreeMap::from([(Plural::One, one), (Plural::Other, other)]);
    for plural in [Plural::Two, Plural::Few, Plural::Many] {
        let form: Option<&str> = further.get(plural.name())?;
        forms.extend(form.map(|form| (plural, form)));
    }
    further.assert_all_used()?;
    let category = match number.fract() == 0.0 && number >= 0.0 {
        true => plural::of(language, number as usize),
        false => Plural::Other,
    };
    let word = forms.get(&category).unwrap_or(&other);
    Ok(format!("{number}\u{a0}{word}"))
}
