//! In which forms a piece is cut: with its allowance, without it, or from one cloth so and from another
//! so.

use crate::design::{Cutting, NotchCut};
use crate::piece::{Cut, Piece};

/// A piece as it is cut from some of its cloths.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Form<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Whether it is cut on the seam line.
    pub without_allowance: bool,
    /// What becomes of its notches.
    pub notches: NotchCut,
    /// What is cut in this form.
    pub cuts: Vec<&'a Cut>,
    /// Whether the piece is cut in the other form too.
    pub is_one_of_two: bool,
}

/// The forms of `piece`, that with allowance first. One that is cut from no cloth has a single form.
pub(super) fn forms<'a>(piece: &'a Piece, cutting: &Cutting) -> Vec<Form<'a>> {
    let without = |cut: &&Cut| cutting.is_without_allowance(&piece.key, &cut.material);
    let (bare, whole): (Vec<&Cut>, Vec<&Cut>) = piece.cuts.iter().partition(without);
    let named = cutting.without_allowance.contains(&piece.key);
    let is_one_of_two = !bare.is_empty() && !whole.is_empty();
    let form = |without_allowance: bool, cuts: Vec<&'a Cut>| Form {
        piece,
        without_allowance,
        notches: cutting.notches_of(&piece.key),
        cuts,
        is_one_of_two,
    };
    match (whole.is_empty(), bare.is_empty()) {
        (true, true) => vec![form(named, Vec::new())],
        (true, false) => vec![form(true, bare)],
        (false, true) => vec![form(false, whole)],
        (false, false) => vec![form(false, whole), form(true, bare)],
    }
}

/// The form in which `piece` is cut from `cloth`.
pub(super) fn form_from<'a>(piece: &'a Piece, cloth: &str, cutting: &Cutting) -> Form<'a> {
    Form {
        piece,
        without_allowance: cutting.is_without_allowance(&piece.key, cloth),
        notches: cutting.notches_of(&piece.key),
        cuts: piece.cuts.iter().filter(|c| c.material == cloth).collect(),
        is_one_of_two: false,
    }
}
