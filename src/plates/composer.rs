//! The plates while they are put together: what is made so far, and what it is made from.

use super::PlateJob;
use super::nested_groups::Group;
use super::sheet::Sheet;
use super::square::{self, Square};
use crate::diagnostic::Diagnostics;
use crate::piece::SizedPieces;
use kurbo::Size;
use std::collections::BTreeMap;

/// Plates being put together.
pub(super) struct Composer<'a> {
    pub(super) sizes: &'a [SizedPieces],
    pub(super) groups: &'a [Group<'a>],
    pub(super) layers: Vec<String>,
    pub(super) job: &'a PlateJob,
    pub(super) live: Size,
    pub(super) sheets: Vec<Sheet>,
    /// Plate, index of the group, and number of every piece.
    pub(super) whereabouts: Vec<(usize, usize, usize)>,
    pub(super) files: BTreeMap<String, Vec<u8>>,
    pub(super) errors: Diagnostics,
    pub(super) notes: Diagnostics,
}

impl Composer<'_> {
    /// The squares of a page, on a large sheet with those of the opposite corner.
    pub(super) fn squares(&self, squares: [Square; 2]) -> Vec<Square> {
        let opposite = match self.job.paper.is_large() {
            true => square::opposite(self.live.width).to_vec(),
            false => Vec::new(),
        };
        squares.into_iter().chain(opposite).collect()
    }
}
