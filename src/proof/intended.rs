//! What a finished PDF should hold, in mm, independent of where anything was placed.

use super::intended_words::IntendedWords;
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
    /// How many times every plate carries each test square: 1; on large sheets 2, in opposite quarters
    /// of the page. 0 counts as 1.
    pub square_sets: usize,
    /// No ink nearer to the edge of a plate than this, mm.
    pub margin: f64,
    /// Allowed deviation of an outline or a square's side, mm.
    pub tolerance: f64,
    /// The layers the file should have; `None` if its wishes to viewers are not looked at.
    pub layers: Option<Vec<IntendedLayer>>,
    /// Labels of the last pages; those before them are labelled 1, 2, 3. Looked at together with the
    /// wishes to viewers.
    pub labels: Vec<String>,
    /// Bookmarks that must be there.
    pub bookmarks: Vec<IntendedBookmark>,
    /// What is to be read.
    pub words: IntendedWords,
}

/// A layer of the file: what a buyer can hide.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IntendedLayer {
    /// As viewers list it.
    pub name: String,
    /// What is hidden with it.
    pub holds: LayerHolds,
}

/// What a layer holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LayerHolds {
    /// All lines of all pieces in the size with this key.
    Size(String),
    /// The cut lines of the pieces that have a seam line too.
    Allowances,
}

/// A bookmark to a size, or to a piece in a size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IntendedBookmark {
    /// Its title after those of the bookmarks it lies under, the outermost first; further ones may
    /// stand above them.
    pub titles: Vec<String>,
    /// Size key.
    pub size: String,
    /// Piece key; `None` for the size itself.
    pub piece: Option<String>,
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
