//! Step 6: what to buy and what to cut: the cut list by cloth, the trims with their lengths, the
//! tools.
//!
//! Figures are kept in mm; [`Materials`] also carries the words the booklet prints, each rounded
//! once from the unrounded figure.

mod cut_list;
mod trims;

pub use cut_list::{ClothCuts, CutRow, cut_list};
pub use trims::{TrimLine, TrimRow, trims};

use crate::design::{Cloth, Design, LengthStyle, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::Draft;
use crate::piece::SizedPieces;
use serde::Serialize;

/// Everything to buy and cut for what the design makes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Materials {
    /// Cloths in the design's order.
    pub cloth: Vec<ClothRow>,
    /// What is cut from each cloth.
    pub cut_list: Vec<ClothCuts>,
    /// Trims and notions.
    pub trims: Vec<TrimRow>,
    /// Tools, as the design lists them.
    pub tools: Vec<String>,
}

/// A cloth as the materials list shows it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClothRow {
    /// Key.
    pub key: String,
    /// As printed.
    pub name: String,
    /// Kind, if the design says more than the name.
    pub kind: Option<String>,
    /// Thickness, sheet or width, in words.
    pub facts: Vec<String>,
    /// Words of the designer.
    pub note: Option<String>,
}

/// Gathers the materials of a design from its finished sizes; `drafts` stand in the order of
/// `sizes`.
pub fn gather(
    design: &Design,
    sizes: &[SizedPieces],
    drafts: &[Draft],
    diagnostics: &mut Diagnostics,
) -> Materials {
    tell_of_missing_cuts(design, diagnostics);
    Materials {
        cloth: design
            .cloth
            .iter()
            .map(|c| cloth_row(c, design.lengths))
            .collect(),
        cut_list: cut_list(design, sizes),
        trims: trims(design, drafts, diagnostics),
        tools: design.tools.clone(),
    }
}

/// A piece that is cut from nothing: its label and the cut list would not say how many.
fn tell_of_missing_cuts(design: &Design, diagnostics: &mut Diagnostics) {
    let cloth = design.cloth.first().map_or("outer", |c| c.key.as_str());
    for piece in design.pieces.iter().filter(|p| p.cuts.is_empty()) {
        let message = format!("{} says nothing of how many are cut", piece.title);
        let remedy = format!("add ‘cut: {{{cloth}: 1}}’");
        diagnostics.push(Diagnostic::warning("no-cut", Some(&piece.place), message).remedy(remedy));
    }
}

fn cloth_row(cloth: &Cloth, style: LengthStyle) -> ClothRow {
    let mut facts = Vec::new();
    if let Some(thickness) = cloth.thickness {
        facts.push(format!("{} thick", printed::both(thickness, style)));
    }
    if let Some([a, b]) = cloth.sheet {
        facts.push(format!(
            "in sheets of {} by {}",
            printed::both(a, style),
            printed::both(b, style)
        ));
    }
    if let Some(width) = cloth.width {
        facts.push(format!("{} wide", printed::both(width, style)));
    }
    ClothRow {
        key: cloth.key.clone(),
        name: cloth.name.clone(),
        kind: cloth.kind.clone().filter(|kind| *kind != cloth.name),
        facts,
        note: cloth.note.clone(),
    }
}
