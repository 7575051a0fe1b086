//! Formulas: ordinary arithmetic over named measurements and computed lengths. They are parsed and
//! checked for dimension when a design is read, and evaluated for each size later.
//!
//! `+ - * /`, parentheses, `min max round round up round down sqrt abs`. A length needs its unit;
//! `a/b UNIT` is one value, everywhere else `/` divides, from left to right. Names are words
//! joined by single spaces, parts of them joined by dots: `toe.sole edge`. A hyphen between two
//! letters belongs to the name; to subtract, put spaces round the minus.

mod evaluate;
mod lexer;
mod parser;
#[cfg(test)]
mod tests;

use super::quantity::{Dimension, Fault, Quantity};
use crate::diagnostic::{Diagnostic, Place};
use parser::Expression;
use std::sync::Arc;

/// A parsed formula with its place. Evaluating it needs a [`Scope`].
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// As written.
    pub text: String,
    /// Where it stands.
    pub place: Place,
    expression: Arc<Expression>,
}

/// Gives the values of the names in a formula, for one size.
pub trait Scope {
    /// The value of a dotted name such as `foot.length` or `toe.sole edge`.
    fn value(&self, name: &str) -> Option<Quantity>;
}

/// Gives the dimensions of the names in a formula.
pub trait Dimensions {
    /// What a dotted name measures; `None` if that is not known (no complaint is made then).
    fn dimension(&self, name: &str) -> Option<Dimension>;
}

/// A scope, or a table of dimensions, without any name.
#[derive(Debug, Clone, Copy, Default)]
pub struct NoNames;

impl Scope for NoNames {
    fn value(&self, _: &str) -> Option<Quantity> {
        None
    }
}

impl Dimensions for NoNames {
    fn dimension(&self, _: &str) -> Option<Dimension> {
        None
    }
}

impl Formula {
    /// The formula that `text` writes, which stands at `place`.
    ///
    /// # Errors
    /// A diagnostic at the column of the first mistake.
    pub fn parse(text: &str, place: &Place) -> Result<Self, Diagnostic> {
        match parser::parse(text) {
            Ok(expression) => Ok(Self {
                text: text.to_string(),
                place: place.clone(),
                expression: Arc::new(expression),
            }),
            Err(fault) => Err(diagnostic(fault, text, place)),
        }
    }

    /// The formula that is this length, for defaults and tests.
    pub fn constant(mm: f64, place: &Place) -> Self {
        Self {
            text: format!("{mm} mm"),
            place: place.clone(),
            expression: Arc::new(Expression::Value(Quantity::length(mm))),
        }
    }

    /// The formula for the negative of this one.
    pub fn negated(&self) -> Self {
        Self {
            text: format!("-({})", self.text),
            place: self.place.clone(),
            expression: Arc::new(Expression::Negative(Box::new((*self.expression).clone()))),
        }
    }

    /// The names it uses, each once, in order of appearance.
    pub fn names(&self) -> Vec<&str> {
        let found = self.found_names();
        found.into_iter().map(|(name, _)| name).collect()
    }

    /// Where it first uses `name`; where it begins, if it does not.
    pub fn place_of(&self, name: &str) -> Place {
        let found = self.found_names();
        let at = found.iter().find(|(known, _)| *known == name);
        at.map_or_else(
            || self.place.clone(),
            |(_, at)| shifted(&self.place, &self.text, *at),
        )
    }

    fn found_names(&self) -> Vec<(&str, usize)> {
        let mut found = Vec::new();
        collect(&self.expression, &mut found);
        found
    }

    /// Its value where it uses no names and can be computed.
    pub fn fixed(&self) -> Option<Quantity> {
        if self.names().is_empty() {
            evaluate::value(&self.expression, &NoNames).ok()
        } else {
            None
        }
    }

    /// What it measures; `None` where that hangs on a name of unknown dimension.
    ///
    /// # Errors
    /// A diagnostic naming two dimensions that do not go together.
    pub fn dimension(&self, names: &dyn Dimensions) -> Result<Option<Dimension>, Diagnostic> {
        evaluate::dimension(&self.expression, names)
            .map_err(|fault| diagnostic(fault, &self.text, &self.place))
    }

    /// Whether it measures what is `wanted`, as far as can be known without values.
    ///
    /// # Errors
    /// A diagnostic: dimensions that do not go together, or a result of another dimension.
    pub fn check(&self, names: &dyn Dimensions, wanted: Dimension) -> Result<(), Diagnostic> {
        match self.dimension(names)? {
            Some(found) if found != wanted => Err(self.wrong(found, wanted)),
            _ => Ok(()),
        }
    }

    /// Its value in `scope`, which must have dimension `wanted`: mm, mm², degrees or a number.
    ///
    /// # Errors
    /// A sentence: unknown name, wrong dimension, division by zero, not finite.
    pub fn evaluate(&self, scope: &dyn Scope, wanted: Dimension) -> Result<f64, String> {
        let quantity = self.quantity(scope)?;
        if quantity.dimension != wanted {
            return Err(self.wrong(quantity.dimension, wanted).message);
        }
        Ok(quantity.value)
    }

    /// Its value in `scope` with whatever dimension it has (a measure may have any).
    ///
    /// # Errors
    /// A sentence, as for [`Formula::evaluate`].
    pub fn quantity(&self, scope: &dyn Scope) -> Result<Quantity, String> {
        evaluate::value(&self.expression, scope)
    }

    fn wrong(&self, found: Dimension, wanted: Dimension) -> Diagnostic {
        let text = self.text.trim();
        let bare = matches!(
            *self.expression,
            Expression::Value(_) | Expression::Negative(_)
        );
        if found == Dimension::Number && bare && wanted != Dimension::Area {
            let remedy = match wanted {
                Dimension::Angle => format!("write {text} deg"),
                _ if text.ends_with('%') => {
                    "a share of something is written as a product: 0.5 * foot.length".into()
                }
                _ => format!("write {text} mm or {text} in"),
            };
            let message = format!("‘{text}’ has no unit; {} is wanted here", wanted.words());
            return Diagnostic::error("no-unit", Some(&self.place), message).remedy(remedy);
        }
        let message = format!(
            "‘{text}’ is {}; {} is wanted here",
            found.words(),
            wanted.words()
        );
        Diagnostic::error("wrong-dimension", Some(&self.place), message).remedy(
            "length * number is a length, length / length is a number, length * length is an area",
        )
    }
}

fn collect<'e>(expression: &'e Expression, found: &mut Vec<(&'e str, usize)>) {
    match expression {
        Expression::Value(_) => {}
        Expression::Name(name, at) => {
            if found.iter().all(|(known, _)| known != name) {
                found.push((name, *at));
            }
        }
        Expression::Negative(inner) => collect(inner, found),
        Expression::Sum(first, rest) | Expression::Product(first, rest) => {
            collect(first, found);
            rest.iter()
                .for_each(|operand| collect(&operand.value, found));
        }
        Expression::Call(_, values, _) => values.iter().for_each(|value| collect(value, found)),
    }
}

/// `fault` as a diagnostic; `text` stands at `place`.
pub(super) fn diagnostic(fault: Fault, text: &str, place: &Place) -> Diagnostic {
    let place = shifted(place, text, fault.at);
    Diagnostic::error(fault.code, Some(&place), fault.message).remedy(fault.remedy)
}

/// The place `characters` further on in `text`, if the text stands at `place` word for word (with
/// or without an opening quotation mark); where YAML folded it, the place itself.
fn shifted(place: &Place, text: &str, characters: usize) -> Place {
    let line = place.source.text.lines().nth(place.line.saturating_sub(1));
    let here: String = line
        .unwrap_or("")
        .chars()
        .skip(place.column.saturating_sub(1))
        .collect();
    let quoted = here.strip_prefix(['"', '\'']);
    let column = if here.starts_with(text) {
        place.column + characters
    } else if quoted.is_some_and(|inner| inner.starts_with(text)) {
        place.column + characters + 1
    } else {
        place.column
    };
    Place {
        column,
        ..place.clone()
    }
}
