//! Step 4: for one size, every formula gets its value and every piece its seam line.
//!
//! [`draft`] evaluates lazily: a piece asks for the values it names, a value asks for the piece it
//! measures. What cannot be had is reported once, where it went wrong; what depends on it is left
//! out without a further word.

mod drawing;
mod evaluate;
mod shape;
pub mod shoe;
mod values;

pub use evaluate::draft;
pub use values::{Values, foot_figures};

use crate::geometry::Outline;
use kurbo::Point;
use std::collections::BTreeMap;

/// One size, drafted.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Draft {
    /// Every value that a formula may name, by its dotted name.
    pub values: Values,
    /// The seam lines, by piece key; a piece that failed is missing.
    pub pieces: BTreeMap<String, DraftedPiece>,
}

/// The seam line of a piece with its named points, mm, y down, in the piece's own axes.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftedPiece {
    /// The seam line.
    pub outline: Outline,
    /// Named points: the designer's own, and those every outline has (see [`points_of`]).
    pub points: BTreeMap<String, Point>,
}

/// The points that every outline has: `centre` (of its bounds) and, for each edge,
/// `start of EDGE`, `middle of EDGE`, `end of EDGE`.
pub fn points_of(outline: &Outline) -> BTreeMap<String, Point> {
    let mut points = BTreeMap::from([("centre".to_string(), outline.bounds().center())]);
    for edge in outline.edges() {
        let middle = edge.station(edge.length() / 2.0).point;
        points.insert(format!("start of {}", edge.name), edge.start());
        points.insert(format!("middle of {}", edge.name), middle);
        points.insert(format!("end of {}", edge.name), edge.end());
    }
    points
}
