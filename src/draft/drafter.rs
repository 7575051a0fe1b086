//! One size while it is drafted: its formulas evaluated, its mistakes told. Lengths in mm.

use super::DraftedPiece;
use super::drafted_shoe::DraftedShoe;
use crate::design::formula::Scope;
use crate::design::{Design, Dimension, Formula, PieceSpec, PointSpec, Size};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use kurbo::Point;
use std::cell::RefCell;
use std::rc::Rc;

/// What else of the size can be asked for while a part of it is drafted.
pub(super) trait Asked: Scope {
    /// The piece called `key`, without its cut line.
    fn piece(&self, key: &str) -> Option<Rc<DraftedPiece>>;
    /// The shoe drafted from the foot.
    fn shoe(&self) -> Option<Rc<DraftedShoe>>;
}

/// What a part of a size is drafted with.
pub(super) struct Drafter<'a> {
    pub(super) design: &'a Design,
    pub(super) size: &'a Size,
    pub(super) foot: Option<&'a Foot>,
    pub(super) asked: &'a dyn Asked,
    pub(super) said: &'a RefCell<Diagnostics>,
}

pub(super) fn no_value(formula: &Formula, message: String) -> Diagnostic {
    Diagnostic::error("formula-value", Some(&formula.place), message)
        .remedy("‘pressfoot measure’ prints the values of what is right")
}

impl Drafter<'_> {
    pub(super) fn say(&self, diagnostic: Diagnostic) {
        self.said.borrow_mut().push(diagnostic);
    }

    /// The piece called `key`.
    pub(super) fn piece(&self, key: &str) -> Option<Rc<DraftedPiece>> {
        self.asked.piece(key)
    }

    /// The shoe drafted from the foot.
    pub(super) fn shoe(&self) -> Option<Rc<DraftedShoe>> {
        self.asked.shoe()
    }

    /// The value of `formula` in `wanted`: a number, mm, mm² or degrees; a mistake is reported, but not one
    /// that was reported where it arose.
    pub(super) fn number(&self, formula: &Formula, wanted: Dimension) -> Option<f64> {
        if formula
            .names()
            .iter()
            .any(|name| self.asked.value(name).is_none())
        {
            return None;
        }
        match formula.evaluate(self.asked, wanted) {
            Ok(value) => Some(value),
            Err(message) => {
                let message = format!("{message}, in size {}", self.size.title);
                self.say(no_value(formula, message));
                None
            }
        }
    }

    /// A length, mm.
    pub(super) fn length(&self, formula: &Formula) -> Option<f64> {
        self.number(formula, Dimension::Length)
    }

    /// A length that must be greater than zero, mm.
    pub(super) fn positive(&self, formula: &Formula, what: &str) -> Option<f64> {
        let value = self.length(formula)?;
        if value > 0.0 {
            return Some(value);
        }
        let message = format!(
            "{what} must be more than nothing; in size {} it is {value:.1} mm",
            self.size.title
        );
        let remedy =
            "check the formula and the measures it uses; it must give more than 0 in every size";
        self.say(Diagnostic::error("not-positive", Some(&formula.place), message).remedy(remedy));
        None
    }

    pub(super) fn coordinates(&self, at: &[Formula; 2]) -> Option<Point> {
        Some(Point::new(self.length(&at[0])?, self.length(&at[1])?))
    }

    /// A point of `spec`, by name or by coordinates.
    pub(super) fn point(&self, spec: &PieceSpec, point: &PointSpec) -> Option<Point> {
        match point {
            PointSpec::At(at) => self.coordinates(at),
            PointSpec::Named(name, _) => {
                let (_, at) = spec.points.iter().find(|(n, _)| n == name)?;
                self.coordinates(at)
            }
            // reading lets only marks stand on edges
            PointSpec::OnEdge { .. } => None,
        }
    }
}
