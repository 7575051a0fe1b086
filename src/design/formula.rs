//! Formulas: ordinary arithmetic over named measurements and computed lengths.

use super::quantity::{Dimension, Quantity};
use crate::diagnostic::Place;

/// A parsed formula with its place. Evaluating it needs a [`Scope`].
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// As written.
    pub text: String,
    /// Where it stands.
    pub place: Place,
    // the expression tree follows
}

/// Gives the values of the names in a formula, for one size.
pub trait Scope {
    /// The value of a dotted name such as `foot.length` or `toe.sole edge`.
    fn value(&self, name: &str) -> Option<Quantity>;
}

impl Formula {
    /// The names it uses, each once, in order of appearance.
    pub fn names(&self) -> Vec<&str> {
        Vec::new()
    }

    /// Its value in `scope`, which must have dimension `wanted`.
    ///
    /// # Errors
    /// A sentence: unknown name, wrong dimension, division by zero, not finite.
    pub fn evaluate(&self, scope: &dyn Scope, wanted: Dimension) -> Result<f64, String> {
        let _ = (scope, wanted);
        Err("not parsed".into())
    }
}
