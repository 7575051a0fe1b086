//! What the draft of a shoe gives to pieces, formulas and drawings. Millimetres.

use super::shoe::{Shoe, ShoeChoices};
use super::shoe_notches::DraftedNotch;
use crate::design::{FootSide, ShoePart};
use crate::geometry::Outline;
use std::collections::BTreeMap;

/// What the draft of a shoe gives.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftedShoe {
    /// The seam lines.
    pub outlines: BTreeMap<ShoePart, Outline>,
    /// Their notches.
    pub notches: BTreeMap<ShoePart, Vec<DraftedNotch>>,
    /// The values by the names of [`crate::design::SHOE_FIGURES`], mm.
    pub figures: BTreeMap<&'static str, f64>,
    /// The shoe in space, if it was drafted on the form.
    pub form: Option<Box<Shoe>>,
    /// What it was drafted with.
    pub choices: ShoeChoices,
    /// What drawings of it show.
    pub look: DraftedLook,
}

/// What drawings of a shoe show besides its form.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct DraftedLook {
    /// Width of a strap over the foot, mm.
    pub strap: Option<f64>,
    /// Whether a button sits on it.
    pub button: bool,
    /// Whether stitching shows round the topline.
    pub topstitch: bool,
    /// The only foot it is for, where left and right take patterns of their own.
    pub only: Option<FootSide>,
}
