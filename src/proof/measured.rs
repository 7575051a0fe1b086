//! What the proof measured in one PDF, in mm.

use super::intended::IntendedLine;

/// What was measured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Measured {
    /// Number of pages.
    pub pages: usize,
    /// Pages that carry outlines or test squares, from 1.
    pub plates: Vec<usize>,
    /// Worst deviation of all outlines found, mm; `None` if none was.
    pub worst_deviation: Option<f64>,
    /// Every test square found.
    pub squares: Vec<MeasuredSquare>,
    /// Every intended outline.
    pub outlines: Vec<MeasuredOutline>,
}

/// A test square as measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredSquare {
    /// Page, from 1.
    pub page: usize,
    /// Intended side, mm.
    pub side: f64,
    /// Its upper left corner on the page, mm from the upper left of the trimmed page.
    pub at: kurbo::Point,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
}

/// An outline as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredOutline {
    /// Piece key.
    pub piece: String,
    /// Size key.
    pub size: String,
    /// Which line.
    pub line: IntendedLine,
    /// Greatest deviation, mm; `None` if it was not found.
    pub deviation: Option<f64>,
    /// Pages it was found on, from 1.
    pub pages: Vec<usize>,
    /// Least overlap of its sheets, mm, if it is spread over several.
    pub overlap: Option<f64>,
    /// How far it is off once its sheets are joined by their marks, mm, if they can be.
    pub joined: Option<f64>,
}
