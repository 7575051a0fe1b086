//! Lazy evaluation of one size: values and pieces ask for each other, each is computed once.

use super::drafted_shoe::DraftedShoe;
use super::drafter::{Asked, Drafter, no_value};
use super::values::{CUT_MEASURES, MEASURES, Values, cut_measured, foot_figures, measured};
use super::{CutPiece, Draft, DraftedPiece, allowance, from_foot, shape};
use crate::design::formula::Scope;
use crate::design::{Design, Dimension, Quantity, SHOE_FIGURES, ShapeSpec, Size};
use crate::diagnostic::Diagnostics;
use crate::foot::Foot;
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
    let evaluation = Evaluation::new(design, size, foot);
    let mut draft = Draft::default();
    for name in evaluation.names() {
        if let Some(value) = evaluation.value(&name) {
            draft.values.insert(name, value);
        }
    }
    for spec in &design.pieces {
        if let Some(piece) = evaluation.piece(&spec.key) {
            let cut = evaluation.cut(&spec.key).map(|cut| (*cut).clone());
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
                if let Some(quantity) = evaluation.value(&name) {
                    draft.values.insert(name, quantity);
                }
            }
        }
    }
    draft.shoe = evaluation.shoe().map(|shoe| (*shoe).clone());
    if let (Some(shoe), Some(spec)) = (&mut draft.shoe, &design.shoe) {
        shoe.look = from_foot::look(&evaluation.drafter(), spec);
    }
    diagnostics.append(evaluation.said.into_inner());
    draft
}

fn put(values: &mut Values, piece: &DraftedPiece, key: &str, what: &str) {
    if let Some(quantity) = measured(&piece.outline, what) {
        values.insert(format!("{key}.{what}"), quantity);
    }
}

/// A value on its way: asked for and not yet known (a circle, which reading reports), or known, or
/// known not to be had.
#[derive(Clone)]
enum Memo<T> {
    Open,
    Done(Option<T>),
}

/// What is kept under `key`, worked out at the first asking.
fn remembered<T: Clone>(
    kept: &RefCell<BTreeMap<String, Memo<T>>>,
    key: &str,
    work: impl FnOnce() -> Option<T>,
) -> Option<T> {
    match kept.borrow().get(key) {
        Some(Memo::Done(value)) => return value.clone(),
        Some(Memo::Open) => return None,
        None => {}
    }
    kept.borrow_mut().insert(key.to_string(), Memo::Open);
    let value = work();
    let done = Memo::Done(value.clone());
    kept.borrow_mut().insert(key.to_string(), done);
    value
}

/// A size with all that was asked for so far.
struct Evaluation<'a> {
    design: &'a Design,
    size: &'a Size,
    foot: Option<&'a Foot>,
    measures: RefCell<BTreeMap<String, Memo<Quantity>>>,
    pieces: RefCell<BTreeMap<String, Memo<Rc<DraftedPiece>>>>,
    cuts: RefCell<BTreeMap<String, Memo<Rc<CutPiece>>>>,
    shoe: RefCell<Option<Memo<Rc<DraftedShoe>>>>,
    said: RefCell<Diagnostics>,
}

impl<'a> Evaluation<'a> {
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

    /// What its parts are drafted with.
    fn drafter(&self) -> Drafter<'_> {
        Drafter {
            design: self.design,
            size: self.size,
            foot: self.foot,
            asked: self,
            said: &self.said,
        }
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

    /// Allowances and cut line of the piece called `key`.
    fn cut(&self, key: &str) -> Option<Rc<CutPiece>> {
        remembered(&self.cuts, key, || {
            let spec = self.design.pieces.iter().find(|p| p.key == key)?;
            let piece = self.piece(key)?;
            let (drafter, outline) = (self.drafter(), &piece.outline);
            let allowances = allowance::of_edges(&drafter, spec, outline)?;
            let cut_line = allowance::cut_line(&drafter, spec, outline, &allowances)?;
            Some(Rc::new(CutPiece {
                allowances,
                cut_line,
            }))
        })
    }

    fn measure(&self, name: &str) -> Option<Quantity> {
        remembered(&self.measures, name, || {
            let mut all = self.size.measures.iter().chain(&self.design.measures);
            let (_, formula) = all.find(|(n, _)| n == name)?;
            if formula.names().iter().any(|n| self.value(n).is_none()) {
                return None;
            }
            match formula.quantity(self) {
                Ok(value) => Some(value),
                Err(message) => {
                    let message = format!("{message}, in size {}", self.size.title);
                    self.drafter().say(no_value(formula, message));
                    None
                }
            }
        })
    }
}

impl Scope for Evaluation<'_> {
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

impl Asked for Evaluation<'_> {
    fn piece(&self, key: &str) -> Option<Rc<DraftedPiece>> {
        remembered(&self.pieces, key, || {
            let spec = self.design.pieces.iter().find(|p| p.key == key)?;
            let drafter = self.drafter();
            let outline = shape::outline(&drafter, spec)?;
            let mut points = BTreeMap::new();
            let mut notches = Vec::new();
            if let ShapeSpec::Shoe { part, .. } = &spec.shape
                && let Some(shoe) = self.shoe()
            {
                points = from_foot::points(&shoe, *part);
                notches = shoe.notches.get(part).cloned().unwrap_or_default();
            }
            for (name, at) in &spec.points {
                if let Some(point) = drafter.coordinates(at) {
                    points.insert(name.clone(), point);
                }
            }
            Some(Rc::new(DraftedPiece {
                outline,
                cut: None,
                points,
                notches,
            }))
        })
    }

    fn shoe(&self) -> Option<Rc<DraftedShoe>> {
        match &*self.shoe.borrow() {
            Some(Memo::Done(shoe)) => return shoe.clone(),
            Some(Memo::Open) => return None,
            None => {}
        }
        let spec = self.design.shoe.as_ref()?;
        *self.shoe.borrow_mut() = Some(Memo::Open);
        let shoe = from_foot::drafted(&self.drafter(), spec).map(Rc::new);
        *self.shoe.borrow_mut() = Some(Memo::Done(shoe.clone()));
        shoe
    }
}
