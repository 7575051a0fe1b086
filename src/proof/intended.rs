//! What a finished PDF should hold, in mm, independent of where anything was placed.

use kurbo::BezPath;

/// What is looked for in one PDF.
#[derive(Debug, Clone, PartialEq)]
pub struct Intended {
    /// Width and height of the trimmed page, mm.
    pub page: [f64; 2],
    /// Every outline of every piece in every size.
    pub outlines: Vec<IntendedOutline>,
    /// Sides of the test squares that every plate carries, mm.
    pub squares: Vec<f64>,
    /// No ink nearer to the edge of a plate than this, mm.
    pub margin: f64,
    /// Allowed deviation of an outline or a square's side, mm.
    pub tolerance: f64,
    /// Names of the layers the file should have; `None` if its wishes to viewers are not looked at.
    pub layers: Option<Vec<String>>,
}

/// One line of one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct IntendedOutline {
    /// Piece key.
    pub piece: String,
    /// Piece as printed.
    pub title: String,
    /// Size key.
    pub size: String,
    /// Which line.
    pub line: IntendedLine,
    /// Its course in the piece's own axes; on the page it may be moved, and turned by a multiple
    /// of 90°, never mirrored.
    pub path: BezPath,
}

/// Which line of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum IntendedLine {
    /// The cut line.
    Cut,
    /// The seam line, where it differs from the cut line.
    Seam,
}
