//! A notch on a piece of the shoe: on which edge, how far along it. Millimetres.

/// A piece of a shoe that carries notches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NotchedPiece {
    /// The toe piece.
    Toe,
    /// The heel piece.
    Heel,
    /// The sole.
    Sole,
}

/// A notch on the seam line.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoeNotch {
    /// On which piece.
    pub piece: NotchedPiece,
    /// On which of its edges: `sole edge`, `topline`, `toe edge`, `heel edge`.
    pub edge: &'static str,
    /// What it marks, e.g. `centre toe`.
    pub name: &'static str,
    /// Distance from the start of the edge, mm.
    pub distance: f64,
}
