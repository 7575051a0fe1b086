//! Drafting every size of a design. Lengths in mm.

use super::sides::{self, Feet};
use crate::design::{Design, Size};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::{self, Draft};
use crate::foot::Foot;
use crate::piece::{self, SizedPieces};
use rayon::prelude::*;

/// All sizes of a design, in its order.
#[derive(Debug, Clone)]
pub(super) struct Drafted {
    pub(super) feet: Vec<Option<Foot>>,
    pub(super) drafts: Vec<Draft>,
    pub(super) sizes: Vec<SizedPieces>,
}

/// Drafts and finishes every size, on all processors, with feet that are known or made; those whose feet
/// differ become two. What is said keeps the order of the sizes.
pub(super) fn draft_all(
    design: &mut Design,
    known: &Feet,
    diagnostics: &mut Diagnostics,
) -> Drafted {
    let with_feet = sides::sizes_with_feet(design, known, diagnostics).into_iter();
    let (sided, feet): (Vec<Size>, Vec<Option<Foot>>) = with_feet.unzip();
    design.sizes = sided;
    let one = |(size, foot): (&Size, &Option<Foot>)| {
        let mut said = Diagnostics::default();
        let footless = size.foot.is_some() && foot.is_none();
        // Without its foot a size would only repeat, piece by piece, that the foot is missing.
        let draft = match footless {
            true => Draft::default(),
            false => draft::draft(design, size, foot.as_ref(), &mut said),
        };
        let finished = piece::finish(design, size, &draft, &mut said);
        (draft, finished, said)
    };
    let all = design.sizes.par_iter().zip(&feet).with_max_len(1);
    let (mut drafts, mut sizes) = (Vec::new(), Vec::new());
    for (draft, finished, said) in all.map(one).collect::<Vec<_>>() {
        drafts.push(draft);
        sizes.push(finished);
        diagnostics.append(said);
    }
    Drafted {
        feet,
        drafts,
        sizes,
    }
}

/// A piece that could not be made although nothing was said against it: a fault of pressfoot, told
/// all the same, so that a booklet never lacks a piece in silence.
pub(super) fn say_what_is_missing(
    design: &Design,
    sizes: &[SizedPieces],
    diagnostics: &mut Diagnostics,
) {
    for sized in sizes {
        for spec in &design.pieces {
            if sized.pieces.iter().any(|piece| piece.key == spec.key) {
                continue;
            }
            let message = format!("{} could not be made in size {}", spec.title, sized.title);
            diagnostics.push(
                Diagnostic::error("piece-not-made", Some(&spec.place), message)
                    .remedy("this is a fault of pressfoot; please report it with the design"),
            );
        }
    }
}
