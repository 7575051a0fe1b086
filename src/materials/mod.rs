//! Step 6: what to buy and what to cut: the cut list by cloth, layouts of the pieces on the cloth and
//! the amounts they ask for, the trims with their lengths, the thread in the seams, needles and tools,
//! and what changes with another cloth.
//!
//! Figures are kept in mm; [`Materials`] also carries the words the booklet prints, each rounded
//! once from the unrounded figure.

mod amounts;
mod bias;
mod buying;
mod consumption;
mod cost;
mod cut_list;
mod layouts;
mod lays;
mod means;
mod money;
mod needles;
#[cfg(test)]
mod notions_tests;
mod packed;
mod sewing;
mod sewn_by;
mod shelf;
mod shop_lengths;
mod stand_in;
mod substitutes;
#[cfg(test)]
mod tests;
mod thread;
mod tools;
mod trims;

pub use amounts::Amount;
pub use bias::BiasSquare;
pub use buying::{Bought, Kit};
use cost::Notions;
pub use cost::{Cost, KitCost, Weight};
pub use cut_list::{ClothCuts, CutRow, cut_list};
pub use layouts::{Laid, Layout, NoRoom, Placed, layout};
pub use lays::{Lay, LayPiece, lays};
pub use means::Means;
pub use money::Money;
pub use needles::NeedleRow;
pub use stand_in::StandIns;
pub use substitutes::{Substitute, Substitutes};
pub use thread::{Spools, ThreadLine, ThreadRow};
pub use trims::{TrimAmount, TrimLine, TrimRow, trims};

use crate::design::{Cloth, Design, printed};
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
    /// What is bought of each cloth in each size, with the layouts.
    pub bought: Vec<Bought>,
    /// What everything costs, by size, if something has a price.
    pub costs: Vec<Cost>,
    /// What pieces and trims weigh, by size, if something says its weight.
    pub weights: Vec<Weight>,
    /// Trims and notions.
    pub trims: Vec<TrimRow>,
    /// Sewing thread, if the design tells of it.
    pub thread: Option<ThreadRow>,
    /// Needles and stitches by cloth.
    pub needles: Vec<NeedleRow>,
    /// Tools: as the design lists them, and the needles it does not name.
    pub tools: Vec<String>,
    /// What changes with another cloth, if the kind of the main one is known.
    pub substitutes: Option<Substitutes>,
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
/// `sizes`. Only the sizes of `to_pack` are laid on cloth.
pub fn gather(
    design: &Design,
    sizes: &[SizedPieces],
    drafts: &[Draft],
    (to_pack, means): (&[SizedPieces], &Means<'_>),
    diagnostics: &mut Diagnostics,
) -> Materials {
    tell_of_missing_cuts(design, diagnostics);
    let bought = buying::buying(design, to_pack, means, diagnostics);
    let trims = trims(design, drafts, diagnostics);
    let thread = thread::thread(design, sizes, drafts, diagnostics);
    let notions = Notions {
        trims: &trims,
        thread: thread.as_ref(),
    };
    Materials {
        costs: cost::costs(design, &bought, notions, diagnostics),
        weights: cost::weights(design, &bought, &trims),
        bought,
        cloth: design.cloth.iter().map(|c| cloth_row(c, design)).collect(),
        cut_list: cut_list(design, sizes),
        trims,
        thread,
        needles: needles::needles(design, drafts),
        tools: tools::tools(design),
        substitutes: substitutes::substitutes(design, sizes),
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

/// How much a cloth shrinks in the wash, percent, whichever way it does more.
fn shrinkage(cloth: &Cloth) -> Option<f64> {
    let most = cloth.shrinkage[0].max(cloth.shrinkage[1]);
    (most > 0.0).then_some((most * 1000.0).round() / 10.0)
}

fn cloth_row(cloth: &Cloth, design: &Design) -> ClothRow {
    let (style, words) = (design.lengths, &design.words);
    let mut facts = Vec::new();
    if let Some(thickness) = cloth.thickness {
        let length = printed::metric_in(thickness, style);
        facts.push(words.say("materials.thick", &[("length", &length)]));
    }
    let sold = amounts::ways(cloth, style, words).into_iter();
    let sold = sold.map(|stock| amounts::stock_words(stock, style, words));
    let either = |first, last| words.say("language.or", &[("first", &first), ("last", &last)]);
    facts.extend(sold.reduce(either));
    facts.extend(
        cloth
            .stretch
            .map(|way| words.named("stretch", way.key()).to_string()),
    );
    if cloth.one_way {
        facts.push(words.get("materials.one way").to_string());
    }
    if let Some(shrinks) = shrinkage(cloth) {
        let percent = style.figures(&format!("{shrinks}"));
        facts.push(words.say("materials.shrinks", &[("percent", &percent)]));
    }
    ClothRow {
        key: cloth.key.clone(),
        name: cloth.name.clone(),
        kind: cloth.kind.clone().filter(|kind| *kind != cloth.name),
        facts,
        note: cloth.note.clone(),
    }
}
