//! Lazy evaluation of one size: values and pieces ask for each other, each is computed once.

use super::shape;
use super::values::{CUT_MEASURES, MEASURES, Values, cut_measured, foot_figures, measured};
use super::{CutPiece, Draft, DraftedPiece, DraftedShoe, allowance, from_foot};
use crate::design::formula::Scope;
use crate::design::{
    Design, Dimension, Formula, PieceSpec, PointSpec, Quantity, SHOE_FIGURES, ShapeSpec, Size,
};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use kurbo::Point;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Drafts one size. `foot` is the size's foot, if it has one; errors go to `diagnostics`.
pub fn draft(
    design: &Design,
    size: &Size,
    foot: Option<&Foot>,
    diagnostics: &mut Diagnostics,
) -> Draft {
    let drafter = Drafter::new(design, size, foot);
    let mut draft = Draft::default();
    for name in drafter.names() {
        if let Some(value) = drafter.value(&name) {
            draft.values.insert(name, value);
        }
    }
    for spec in &design.pieces {
        if let Some(piece) = drafter.piece(&spec.key) {
            let cut = drafter.cut(&spec.key).map(|cut| (*cut).clone());
            let whole = DraftedPiece {
                cut,
                ..(*piece).clone()
            };
            draft.pieces.insert(spec.key.clone(), whole);
            for edge in piece.outline.edges() {
                put(&mut draft.values, &piece, &spec.key, &edge.name);
            }
            for what in MEASURES {
                put(&mut draft.values, &piece, &spec.key, what);
            }
            for what in CUT_MEASURES {
                let name = format!("{}.{what}", spec.key);
                if let Some(quantity) = drafter.value(&name) {
                    draft.values.insert(name, quantity);
                }
            }
        }
    }
    draft.shoe = drafter.shoe().map(|shoe| (*shoe).clone());
    if let (Some(shoe), Some(spec)) = (&mut draft.shoe, &design.shoe) {
        shoe.look = from_foot::look(&drafter, spec);
    }
    diagnostics.append(drafter.said.into_inner());
    draft
}

fn put(values: &mut Values, piece: &DraftedPiece, key: &str, what: &str) {
    if let Some(quantity) = measured(&piece.outline, what) {
        values.insert(format!("{key}.{what}"), quantity);
    }
}

fn no_value(formula: &Formula, message: String) -> Diagnostic {
    Diagnostic::error("formula-value", Some(&formula.place), message)
        .remedy("‘pressfoot measure’ prints the values of what is right")
}

/// A value on its way: asked for and not yet known (a circle, which reading reports), or known, or
/// known not to be had.
#[derive(Clone)]
enum Memo<T> {
    Open,
    Done(Option<T>),
}

pub(super) struct Drafter<'a> {
    pub(super) design: &'a Design,
    pub(super) size: &'a Size,
    pub(super) foot: Option<&'a Foot>,
    measures: RefCell<BTreeMap<String, Memo<Quantity>>>,
    pieces: RefCell<BTreeMap<String, Memo<Rc<DraftedPiece>>>>,
    cuts: RefCell<BTreeMap<String, Memo<Rc<CutPiece>>>>,
    shoe: RefCell<Option<Memo<Rc<DraftedShoe>>>>,
    said: RefCell<Diagnostics>,
}

impl<'a> Drafter<'a> {
    fn new(design: &'a Design, size: &'a Size, foot: Option<&'a Foot>) -> Self {
        let (measures, pieces, cuts, shoe, said) = Default::default();
        Self {
            design,
            size,
            foot,
            measures,
            pieces,
            cuts,
            shoe,
            said,
        }
    }

    pub(super) fn say(&self, diagnostic: Diagnostic) {
        self.said.borrow_mut().push(diagnostic);
    }

    /// Names of the measures and of what the foot gives.
    fn names(&self) -> Vec<String> {
        let own = self.size.measures.iter().chain(&self.design.measures);
        let mut names: Vec<String> = own.map(|(name, _)| name.clone()).collect();
        let figures = self.foot.map(foot_figures).unwrap_or_default();
        names.extend(figures.into_iter().map(|(name, _)| format!("foot.{name}")));
        if self.design.shoe.is_some() {
            names.extend(SHOE_FIGURES.iter().map(|f| format!("shoe.{}", f.name)));
        }
        names
    }

    /// The value of `formula` in `wanted`: a number, mm, mm² or degrees; a mistake is reported, but not one
    /// that was reported where it arose.
    pub(super) fn number(&self, formula: &Formula, wanted: Dimension) -> Option<f64> {
        if formula
            .names()
            .iter()
            .any(|name| self.value(name).is_none())
        {
            return None;
        }
        match formula.evaluate(self, wanted) {
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

    /// The drafted piece called `key`, computed at the first asking.
    pub(super) fn piece(&self, key: &str) -> Option<Rc<DraftedPiece>> {
        match self.pieces.borrow().get(key) {
            Some(Memo::Done(piece)) => return piece.clone(),
            Some(Memo::Open) => return None,
            None => {}
        }
        let spec = self.design.pieces.iter().find(|p| p.key == key)?;
        self.pieces.borrow_mut().insert(key.to_string(), Memo::Open);
        let piece = shape::outline(self, spec).map(|outline| {
            let mut points = BTreeMap::new();
            let mut notches = Vec::new();
            if let ShapeSpec::Shoe { part, .. } = &spec.shape
                && let Some(shoe) = self.shoe()
            {
                points = from_foot::points(&shoe, *part);
                notches = shoe.notches.get(part).cloned().unwrap_or_default();
            }
            for (name, at) in &spec.points {
                if let Some(point) = self.coordinates(at) {
                    points.insert(name.clone(), point);
                }
            }
            Rc::new(DraftedPiece {
                outline,
                cut: None,
                points,
                notches,
            })
        });
        self.pieces
            .borrow_mut()
            .insert(key.to_string(), Memo::Done(piece.clone()));
        piece
    }

    /// Allowances and cut line of the piece called `key`, computed at the first asking.
    fn cut(&self, key: &str) -> Option<Rc<CutPiece>> {
        match self.cuts.borrow().get(key) {
            Some(Memo::Done(cut)) => return cut.clone(),
            Some(Memo::Open) => return None,
            None => {}
        }
        let spec = self.design.pieces.iter().find(|p| p.key == key)?;
        self.cuts.borrow_mut().insert(key.to_string(), Memo::Open);
        let cut = self.piece(key).and_then(|piece| {
            let outline = &piece.outline;
            let allowances = allowance::of_edges(self, spec, outline)?;
            let cut_line = allowance::cut_line(self, spec, outline, &allowances)?;
            Some(Rc::new(CutPiece {
                allowances,
                cut_line,
            }))
        });
        self.cuts
            .borrow_mut()
            .insert(key.to_string(), Memo::Done(cut.clone()));
        cut
    }

    /// The shoe drafted from the foot, computed at the first asking.
    pub(super) fn shoe(&self) -> Option<Rc<DraftedShoe>> {
        match &*self.shoe.borrow() {
            Some(Memo::Done(shoe)) => return shoe.clone(),
            Some(Memo::Open) => return None,
            None => {}
        }
        let spec = self.design.shoe.as_ref()?;
        *self.shoe.borrow_mut() = Some(Memo::Open);
        let shoe = from_foot::drafted(self, spec).map(Rc::new);
        *self.shoe.borrow_mut() = Some(Memo::Done(shoe.clone()));
        shoe
    }

    fn measure(&self, name: &str) -> Option<Quantity> {
        match self.measures.borrow().get(name) {
            Some(Memo::Done(value)) => return *value,
            Some(Memo::Open) => return None,
            None => {}
        }
        let all = || self.size.measures.iter().chain(&self.design.measures);
        let (_, formula) = all().find(|(n, _)| n == name)?;
        self.measures
            .borrow_mut()
            .insert(name.to_string(), Memo::Open);
        let value = if formula.names().iter().all(|n| self.value(n).is_some()) {
            match formula.quantity(self) {
                Ok(value) => Some(value),
                Err(message) => {
                    let message = format!("{message}, in size {}", self.size.title);
                    self.say(no_value(formula, message));
                    None
                }
            }
        } else {
            None
        };
        self.measures
            .borrow_mut()
            .insert(name.to_string(), Memo::Done(value));
        value
    }
}

impl Scope for Drafter<'_> {
    fn value(&self, name: &str) -> Option<Quantity> {
        match name.split_once('.') {
            None => self.measure(name),
            Some(("foot", what)) => {
                let figures = foot_figures(self.foot?);
                let (_, value) = figures.into_iter().find(|(name, _)| name == what)?;
                Some(Quantity {
                    value,
                    dimension: Dimension::Length,
                })
            }
            Some(("shoe", what)) => {
                let shoe = self.shoe()?;
                let value = *shoe.figures.get(what)?;
                Some(Quantity {
                    value,
                    dimension: Dimension::Length,
                })
            }
            Some((piece, what)) if CUT_MEASURES.contains(&what) => {
                cut_measured(&self.cut(piece)?.cut_line, what)
            }
            Some((piece, what)) => measured(&self.piece(piece)?.outline, what),
        }
    }
}
