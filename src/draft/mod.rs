//! Step 4: for one size, every formula gets its value, every piece its seam line
//! and, as formulas may ask for its size, its cut line.
//!
//! [`draft`] evaluates lazily: a piece asks for the values it names, a value asks for the piece it
//! measures, both through a `Drafter`, which does not know how the other is made. What cannot be had is
//! reported once, where it went wrong; what depends on it is left out without a further word.

mod allowance;
mod drafted_shoe;
mod drafter;
mod drawing;
mod evaluate;
mod from_foot;
mod outline_fault;
mod shape;
pub mod shoe;
mod shoe_notches;
#[cfg(test)]
mod tests;
mod values;

pub use drafted_shoe::{DraftedLook, DraftedShoe};
pub use evaluate::draft;
pub use shoe_notches::DraftedNotch;
pub use values::{Values, foot_figures};

use crate::geometry::Outline;
use kurbo::{BezPath, Point};
use std::collections::BTreeMap;

/// One size, drafted.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Draft {
    /// Every value that a formula may name, by its dotted name.
    pub values: Values,
    /// The seam lines, by piece key; a piece that failed is missing.
    pub pieces: BTreeMap<String, DraftedPiece>,
    /// The shoe, if the design has one and it could be drafted.
    pub shoe: Option<DraftedShoe>,
}

/// The seam line of a piece with its cut line and named points, mm, y down, in the piece's own axes.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftedPiece {
    /// The seam line.
    pub outline: Outline,
    /// Its allowances and its cut line; `None` if that failed.
    pub cut: Option<CutPiece>,
    /// The designer's named points, and those that a shoe's draft names.
    pub points: BTreeMap<String, Point>,
    /// Notches that a shoe's draft puts there.
    pub notches: Vec<DraftedNotch>,
}

/// What allowances make of a seam line.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Allowance of each edge, mm.
    pub allowances: Vec<f64>,
    /// The cut line: closed, clockwise, not crossing itself.
    pub cut_line: BezPath,
}
