//! Quantities: numbers, lengths (mm), areas (mm²) and angles (degrees), and how they are written.

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// A count or a ratio.
    Number,
    /// A length, in mm.
    Length,
    /// An area, in mm².
    Area,
    /// An angle, in degrees.
    Angle,
}

/// A value with its dimension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// In mm, mm², degrees or as it is.
    pub value: f64,
    /// What it measures.
    pub dimension: Dimension,
}
