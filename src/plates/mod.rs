//! Step 7: finished pieces and a paper become true-scale pages.
//!
//! [`plan()`] packs the pieces that fit the live area of the [`paper`] on plates, size by size
//! (`plan.rs`, `large.rs`), and spreads larger ones over sheets to be joined (`tile.rs`,
//! `spread.rs`, `furniture.rs`). Every piece is drawn once, as an SVG at true scale
//! (`drawing.rs`; nested sizes over each other, `nested.rs`), and named by a label that stands clear of all lines (`label.rs`). Every page
//! carries the two test squares (`square.rs`). The outcome, a [`PlateSet`], is data and files for
//! the template; nothing is typeset here.

mod beside_squares;
mod caption;
mod columns;
mod compose;
mod composer;
pub mod drawing;
mod even_dashes;
pub mod field;
mod furniture;
pub mod ink;
mod label;
mod label_stack;
mod label_words;
mod large;
mod leader;
pub mod lettering;
mod mark;
pub mod nested;
mod nested_groups;
mod nested_marks;
mod nested_names;
mod nested_notches;
mod nested_setter;
mod nested_stations;
pub mod notch;
mod orders;
mod pack;
mod page_plan;
pub mod paper;
mod piece_ink;
mod placing;
mod plan;
mod rooms;
mod share;
mod sheet;
pub mod size_lines;
mod spread;
mod spread_pages;
mod square;
pub mod svg;
mod tile;
mod variant;
pub mod words;

#[cfg(test)]
pub(crate) mod fixtures;
#[cfg(test)]
mod nested_tests;
#[cfg(test)]
mod tests;

pub use label::Label;
pub use lettering::TextLine;
pub use notch::LEAST_ALLOWANCE as LEAST_NOTCHED;
pub use page_plan::{GroupPages, SizePages};
pub use paper::EDGE_CLEARANCE;
pub use sheet::{Band, Furniture, PageMap, Paragraph, PlacedPart, PlacedPiece, Sheet};
pub use size_lines::NestedLook;
pub use square::{SIDES as SQUARE_SIDES, Square};
pub use tile::{HalfJoin, OVERLAP, count as tile_count};

use crate::design::{LengthStyle, Paper};
use crate::diagnostic::Diagnostics;
use crate::language::Words;
use crate::piece::SizedPieces;
use std::collections::BTreeMap;

/// What plates need to know besides the pieces.
#[derive(Debug, Clone)]
pub struct PlateJob {
    /// The paper.
    pub paper: Paper,
    /// Title of the design.
    pub title: String,
    /// Its edition in words: `edition 1.0.0`.
    pub edition: String,
    /// How lengths are printed.
    pub lengths: LengthStyle,
    /// Sizes to be drawn over each other, by their indices, each list by itself; none where all
    /// stand side by side.
    pub nested: Vec<Vec<usize>>,
    /// Sizes for the left and the right foot that one buyer prints together, by their indices.
    pub pairs: Vec<Vec<usize>>,
    /// Key and printed name of every cloth.
    pub cloth: Vec<(String, String)>,
    /// The words of the design's language.
    pub words: Words,
}

/// All true-scale pages of one design on one paper.
#[derive(Debug, Clone)]
pub struct PlateSet {
    /// The paper.
    pub paper: Paper,
    /// The pages in order.
    pub sheets: Vec<Sheet>,
    /// What is worth knowing, none of it an error.
    pub notes: Diagnostics,
    plan: Vec<SizePages>,
    edition: String,
    words: Words,
    files: BTreeMap<String, Vec<u8>>,
    layers: Vec<String>,
    looks: Vec<NestedLook>,
}

/// Plans all plates of `sizes`.
///
/// # Errors
/// `piece-too-large` for a piece that would need more sheets than anyone joins.
pub fn plan(sizes: &[SizedPieces], job: &PlateJob) -> Result<PlateSet, Diagnostics> {
    compose::compose(sizes, job)
}

impl PlateSet {
    /// The pages as data for the template: an array, one entry a page.
    pub fn data(&self) -> serde_json::Value {
        let of = self.plate_count();
        let page = |s: &Sheet| s.data(&self.paper, self.foot(), of);
        self.sheets.iter().map(page).collect()
    }

    /// The edition and the name of the paper, as the foot of each page tells them.
    pub fn foot(&self) -> (&str, &str) {
        let named = self.words.find(&format!("papers.{}", self.paper.key));
        (&self.edition, named.unwrap_or(&self.paper.name))
    }

    /// The same plates on another paper, if its live area has the same size, as on A4 and Letter:
    /// nothing need be packed again.
    pub fn on(&self, paper: &Paper) -> Option<Self> {
        let same = paper.live().size() == self.paper.live().size();
        same.then(|| Self {
            paper: paper.clone(),
            ..self.clone()
        })
    }

    /// Which pages belong to which size, and to which cloths of it, in the order of the sizes.
    pub fn plan(&self) -> &[SizePages] {
        &self.plan
    }

    /// [`Self::plan`] as data for the template.
    pub fn plan_data(&self) -> serde_json::Value {
        self.plan.iter().map(SizePages::data).collect()
    }

    /// Whether any piece is drawn in several sizes over each other.
    pub fn is_nested(&self) -> bool {
        let mut pieces = self.sheets.iter().flat_map(|s| &s.pieces);
        pieces.any(|p| p.sizes.len() > 1)
    }

    /// How the sizes that are drawn over each other are told apart; empty if none are.
    pub fn looks(&self) -> &[NestedLook] {
        &self.looks
    }

    /// Whether any piece is spread over sheets that are joined.
    pub fn is_joined(&self) -> bool {
        self.sheets.iter().any(|sheet| sheet.furniture.is_some())
    }

    /// Whether a leader leads from any label to its piece.
    pub fn has_leaders(&self) -> bool {
        let mut labels = self.sheets.iter().flat_map(|sheet| &sheet.labels);
        labels.any(|label| label.dot.is_some())
    }

    /// Whether any piece is drawn in one size by itself.
    pub fn has_single(&self) -> bool {
        let mut pieces = self.sheets.iter().flat_map(|s| &s.pieces);
        pieces.any(|p| p.sizes.len() == 1)
    }

    /// Names of the layers that the pages' data speak of by index: one for each size if there are
    /// several, then `Seam allowances` if any piece has one.
    pub fn layers(&self) -> Vec<String> {
        self.layers.clone()
    }

    /// The drawings by their path, e.g. `/plates/large/01-toe.svg`.
    pub fn files(&self) -> BTreeMap<String, Vec<u8>> {
        self.files.clone()
    }

    /// Numbers of the plates, from 1, that hold this piece in this size.
    pub fn where_is(&self, size: &str, piece: &str) -> Vec<usize> {
        let holds = |s: &&Sheet| {
            s.pieces
                .iter()
                .any(|p| p.sizes.iter().any(|s| s == size) && p.piece == piece)
        };
        let mut plates: Vec<usize> = self.sheets.iter().filter(holds).map(|s| s.plate).collect();
        plates.dedup();
        plates
    }

    /// How many plates there are; one whose piece is spread over sheets counts once.
    pub fn plate_count(&self) -> usize {
        self.sheets.last().map_or(0, |s| s.plate)
    }

    /// The most sheets side by side, and below each other, that one piece is spread over; 1 and 1
    /// if every piece fits a page.
    pub fn most_sheets(&self) -> [usize; 2] {
        let maps = self
            .sheets
            .iter()
            .filter_map(|s| s.furniture.as_ref()?.map.as_ref());
        let count = |cells: &[(kurbo::Rect, String, bool)], edge: fn(&kurbo::Rect) -> f64| {
            let mut places: Vec<f64> = cells.iter().map(|(rect, ..)| edge(rect)).collect();
            places.sort_by(f64::total_cmp);
            places.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
            places.len()
        };
        maps.fold([1, 1], |[across, down], map| {
            [
                across.max(count(&map.cells, |r| r.x0)),
                down.max(count(&map.cells, |r| r.y0)),
            ]
        })
    }

    /// How long the paper must be for the lowest piece or label of the first page, with the squares, the
    /// foot and the margins, mm.
    pub fn length_needed(&self) -> f64 {
        let lowest = self.sheets.first().map_or(0.0, Sheet::lowest);
        let live = self.paper.live();
        live.y0 + lowest + square::STRIP + self.paper.height - live.y1
    }

    /// How many pages there are.
    pub fn page_count(&self) -> usize {
        self.sheets.len()
    }
}
