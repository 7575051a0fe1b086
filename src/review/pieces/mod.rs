//! Reads the pieces as a careful technical editor would: whether what is cut can be sewn, and whether the
//! pieces agree with each other and with what is bought. Lengths in mm, angles in degrees.
//!
//! [`review`] is the one way in. What spoils the sewn thing is an error, what may be meant a warning,
//! advice a note. A mistake that shows in several sizes is told once, for the first of them.

mod alike;
mod corners;
mod curves;
mod cuts;
mod linings;
mod marks;
mod seams;
mod shape;
mod sizes;
#[cfg(test)]
mod tests;
mod tracings;
mod trims;
mod turning;

use crate::design::formula::Scope;
use crate::design::{Design, Dimension, Formula, PieceSpec, Size};
use crate::diagnostic::{Diagnostic, Diagnostics, Level, Place};
use crate::draft::Draft;
use crate::piece::{Piece, SizedPieces};
use std::collections::BTreeSet;

/// What is read.
#[derive(Debug, Clone, Copy)]
pub struct Made<'a> {
    /// The design.
    pub design: &'a Design,
    /// The draft of each size.
    pub drafts: &'a [Draft],
    /// The finished pieces of each size.
    pub sizes: &'a [SizedPieces],
}

/// One size of it.
#[derive(Clone, Copy)]
struct One<'a> {
    design: &'a Design,
    size: &'a Size,
    draft: &'a Draft,
    sized: &'a SizedPieces,
}

type OfSize = fn(&One, &mut Said);
type OfAll = fn(&Made, &mut Said);

const OF_SIZE: &[OfSize] = &[
    cuts::grain,
    cuts::pairs,
    cuts::twins,
    linings::smaller,
    seams::allowances,
    seams::grain,
    corners::kinks,
    corners::hems,
    curves::sewable,
    curves::hollows,
    marks::buttons,
    marks::buttonholes,
    marks::edges,
    trims::straps,
    trims::elastics,
    trims::casings,
    turning::gaps,
    turning::rows,
    alike::eyelets,
    alike::notches,
];

const OF_ALL: &[OfAll] = &[
    sizes::in_order,
    alike::sizes,
    alike::trims,
    alike::uses,
    alike::thickness,
    tracings::astray,
    curves::advice,
];

/// Reads the pieces of a design in which no mistake was found before.
pub fn review(made: &Made<'_>, diagnostics: &mut Diagnostics) {
    let mut said = Said {
        told: BTreeSet::new(),
        diagnostics,
    };
    let sizes = made.design.sizes.iter();
    for ((size, draft), sized) in sizes.zip(made.drafts).zip(made.sizes) {
        let one = One {
            design: made.design,
            size,
            draft,
            sized,
        };
        for check in OF_SIZE {
            check(&one, &mut said);
        }
    }
    for check in OF_ALL {
        check(made, &mut said);
    }
}

/// What is said, each thing once.
struct Said<'a> {
    told: BTreeSet<String>,
    diagnostics: &'a mut Diagnostics,
}

impl Said<'_> {
    /// Tells of `what` unless it was told before.
    fn tell(&mut self, level: Level, code: &'static str, what: &str, told: (&Place, String, &str)) {
        if !self.told.insert(format!("{code} {what}")) {
            return;
        }
        let (place, message, remedy) = told;
        let said = match level {
            Level::Error => Diagnostic::error(code, Some(place), message),
            Level::Warning => Diagnostic::warning(code, Some(place), message),
            Level::Note => Diagnostic::note(code, Some(place), message),
        };
        self.diagnostics.push(said.remedy(remedy));
    }
}

impl<'a> One<'a> {
    /// The finished pieces with what the design says of them.
    fn pieces(&self) -> impl Iterator<Item = (&'a Piece, &'a PieceSpec)> + use<'a> {
        let specs = &self.design.pieces;
        let known = self.sized.pieces.iter();
        known.filter_map(|piece| {
            let spec = specs.iter().find(|spec| spec.key == piece.key)?;
            Some((piece, spec))
        })
    }

    fn piece(&self, key: &str) -> Option<&'a Piece> {
        self.sized.pieces.iter().find(|piece| piece.key == key)
    }

    /// The value of a length, mm.
    fn length(&self, formula: &Formula) -> Option<f64> {
        formula.evaluate(&self.draft.values, Dimension::Length).ok()
    }

    /// What the draft of a shoe found under a name such as `strap cloth`, mm.
    fn of_the_shoe(&self, name: &str) -> Option<f64> {
        let value = self.draft.values.value(&format!("shoe.{name}"))?;
        Some(value.value)
    }

    /// Whether an edge is sewn to another.
    fn is_joined(&self, piece: &str, edge: &str) -> bool {
        let is = |at: &crate::design::EdgeRef| at.piece == piece && at.edge == edge;
        let mut seams = self.design.seams.iter();
        seams.any(|seam| is(&seam.join) || is(&seam.to))
    }

    /// Whether words of the design, in its own language, hold one of those known under `key`.
    fn knows(&self, key: &str, words: &str) -> bool {
        self.design.own().words.knows(key, words)
    }

    /// In which size a thing is so, if there are several.
    fn inside(&self) -> String {
        match self.design.sizes.len() {
            1 => String::new(),
            _ => format!(" in size {}", self.size.title),
        }
    }
}
