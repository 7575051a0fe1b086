//! What a formula comes to: its dimension without values, and its value for one size.

use super::super::quantity::{Dimension, Fault, Quantity};
use super::parser::{Expression, Function, Operand};
use super::{Dimensions, Scope};
use Dimension::{Area, Length, Number};

/// The dimension of `expression`; `None` where it depends on a name whose dimension is unknown.
///
/// # Errors
/// Two dimensions that do not go together, with the column of the sign or the function.
pub(super) fn dimension(
    expression: &Expression,
    names: &dyn Dimensions,
) -> Result<Option<Dimension>, Fault> {
    match expression {
        Expression::Value(quantity) => Ok(Some(quantity.dimension)),
        Expression::Name(name, _) => Ok(names.dimension(name)),
        Expression::Negative(inner) => dimension(inner, names),
        Expression::Sum(first, rest) => {
            let mut so_far = dimension(first, names)?;
            for operand in rest {
                let next = dimension(&operand.value, names)?;
                so_far = both(so_far, next, |a, b| sum_of(a, b, operand))?;
            }
            Ok(so_far)
        }
        Expression::Product(first, rest) => {
            let mut so_far = dimension(first, names)?;
            for operand in rest {
                let next = dimension(&operand.value, names)?;
                // a product with an unknown factor may measure anything
                so_far = match (so_far, next) {
                    (Some(a), Some(b)) => Some(product_of(a, b, operand)?),
                    _ => None,
                };
            }
            Ok(so_far)
        }
        Expression::Call(function, values, at) => {
            let mut so_far = dimension(&values[0], names)?;
            for value in &values[1..] {
                let next = dimension(value, names)?;
                so_far = both(so_far, next, |a, b| alike(*function, a, b, *at))?;
            }
            called(*function, so_far, *at)
        }
    }
}

fn both(
    a: Option<Dimension>,
    b: Option<Dimension>,
    of: impl Fn(Dimension, Dimension) -> Result<Dimension, Fault>,
) -> Result<Option<Dimension>, Fault> {
    match (a, b) {
        (Some(a), Some(b)) => of(a, b).map(Some),
        // a sum has the dimension of the part that is known
        (a, b) => Ok(a.or(b)),
    }
}

fn sum_of(a: Dimension, b: Dimension, operand: &Operand) -> Result<Dimension, Fault> {
    if a == b {
        return Ok(a);
    }
    let message = match operand.inverse {
        false => format!("{} and {} cannot be added", a.words(), b.words()),
        true => format!("{} cannot be taken from {}", b.words(), a.words()),
    };
    Err(Fault::new("wrong-dimension", operand.at, message).remedy(hint(a, b)))
}

fn hint(a: Dimension, b: Dimension) -> &'static str {
    match (a, b) {
        (Number, Length) | (Length, Number) => {
            "a length needs its unit (5 mm, 3/16 in); to make it longer by a share, multiply"
        }
        _ => "only like can be added to like",
    }
}

fn product_of(a: Dimension, b: Dimension, operand: &Operand) -> Result<Dimension, Fault> {
    let product = match (operand.inverse, a, b) {
        (_, a, Number) => Some(a),
        (false, Number, b) => Some(b),
        (false, Length, Length) => Some(Area),
        (true, Area, Length) => Some(Length),
        (true, a, b) if a == b => Some(Number),
        _ => None,
    };
    product.ok_or_else(|| {
        let message = match operand.inverse {
            false => format!("{} cannot be multiplied by {}", a.words(), b.words()),
            true => format!("{} cannot be divided by {}", a.words(), b.words()),
        };
        Fault::new("wrong-dimension", operand.at, message)
            .remedy("length * length is an area, area / length and length * number are lengths")
    })
}

fn alike(function: Function, a: Dimension, b: Dimension, at: usize) -> Result<Dimension, Fault> {
    if a == b {
        return Ok(a);
    }
    let name = function.name();
    let message = format!("‘{name}’ is given {} and {}", a.words(), b.words());
    Err(Fault::new("wrong-dimension", at, message).remedy("all its values must be alike"))
}

fn called(
    function: Function,
    of: Option<Dimension>,
    at: usize,
) -> Result<Option<Dimension>, Fault> {
    match (function, of) {
        (Function::Sqrt, Some(Area)) => Ok(Some(Length)),
        (Function::Sqrt, Some(Number)) => Ok(Some(Number)),
        (Function::Sqrt, Some(other)) => {
            let message = format!("the square root of {} is no measure", other.words());
            Err(Fault::new("wrong-dimension", at, message)
                .remedy("take the root of an area or of a plain number"))
        }
        (Function::Sqrt, None) => Ok(None),
        (_, of) => Ok(of),
    }
}

/// The value of `expression` in `scope`.
///
/// # Errors
/// A sentence: a name without a value, dimensions that do not go together, a division by zero,
/// the root of something negative, a result that is no finite number.
pub(super) fn value(expression: &Expression, scope: &dyn Scope) -> Result<Quantity, String> {
    let quantity = match expression {
        Expression::Value(quantity) => *quantity,
        Expression::Name(name, _) => scope
            .value(name)
            .ok_or_else(|| format!("‘{name}’ has no value here"))?,
        Expression::Negative(inner) => {
            let inner = value(inner, scope)?;
            with(-inner.value, inner.dimension)
        }
        Expression::Sum(first, rest) => folded(first, rest, scope, |a, b, operand| {
            let dimension = sum_of(a.dimension, b.dimension, operand).map_err(|f| f.message)?;
            let sign = if operand.inverse { -1.0 } else { 1.0 };
            Ok(with(a.value + sign * b.value, dimension))
        })?,
        Expression::Product(first, rest) => folded(first, rest, scope, |a, b, operand| {
            let dimension = product_of(a.dimension, b.dimension, operand).map_err(|f| f.message)?;
            match operand.inverse {
                true if b.value == 0.0 => Err("something is divided by zero".to_string()),
                true => Ok(with(a.value / b.value, dimension)),
                false => Ok(with(a.value * b.value, dimension)),
            }
        })?,
        Expression::Call(function, values, at) => call(*function, values, *at, scope)?,
    };
    if quantity.value.is_finite() {
        Ok(quantity)
    } else {
        Err("the result is too large".into())
    }
}

fn with(value: f64, dimension: Dimension) -> Quantity {
    Quantity { value, dimension }
}

fn folded(
    first: &Expression,
    rest: &[Operand],
    scope: &dyn Scope,
    step: impl Fn(Quantity, Quantity, &Operand) -> Result<Quantity, String>,
) -> Result<Quantity, String> {
    let mut so_far = value(first, scope)?;
    for operand in rest {
        so_far = step(so_far, value(&operand.value, scope)?, operand)?;
    }
    Ok(so_far)
}

fn call(
    function: Function,
    values: &[Expression],
    at: usize,
    scope: &dyn Scope,
) -> Result<Quantity, String> {
    let mut numbers = Vec::with_capacity(values.len());
    let mut common = None;
    for expression in values {
        let quantity = value(expression, scope)?;
        common = Some(match common {
            None => quantity.dimension,
            Some(known) => alike(function, known, quantity.dimension, at).map_err(|f| f.message)?,
        });
        numbers.push(quantity.value);
    }
    let dimension = called(function, common, at)
        .map_err(|fault| fault.message)?
        .unwrap_or(Number);
    let first = numbers.first().copied().unwrap_or(0.0);
    let step = numbers.get(1).copied().unwrap_or(1.0);
    let rounded = |round: fn(f64) -> f64| {
        if step > 0.0 {
            Ok(round(first / step) * step)
        } else {
            Err(format!(
                "the step of ‘{}’ must be more than 0",
                function.name()
            ))
        }
    };
    let value = match function {
        Function::Min => numbers.iter().copied().fold(f64::INFINITY, f64::min),
        Function::Max => numbers.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        Function::Abs => first.abs(),
        Function::Round => rounded(f64::round)?,
        // a multiple that is missed by rounding of floating point only is that multiple
        Function::RoundUp => rounded(|x| (x - 1e-9).ceil())?,
        Function::RoundDown => rounded(|x| (x + 1e-9).floor())?,
        Function::Sqrt if first < 0.0 => {
            return Err("the square root of something negative does not exist".into());
        }
        Function::Sqrt => first.sqrt(),
    };
    Ok(with(value, dimension))
}
