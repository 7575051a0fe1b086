//! A design in its further languages: the same pieces and amounts with other words.

use super::handover::draft_values;
use super::{Computed, Options, gather};
use crate::booklet;
use crate::design::Translation;
use crate::diagnostic::Diagnostics;
use crate::piece;

/// The design in every further language.
pub(super) fn further(
    computed: &Computed,
    options: &Options,
    diagnostics: &mut Diagnostics,
) -> Vec<Computed> {
    let translations = computed.design.translations.iter();
    translations
        .map(|translation| spoken(computed, translation, options, diagnostics))
        .collect()
}

/// The design with the words of a translation. Pieces and materials are made again from the same drafts
/// and layouts, so that they carry its titles; what is wrong with them was said before.
fn spoken(
    computed: &Computed,
    translation: &Translation,
    options: &Options,
    diagnostics: &mut Diagnostics,
) -> Computed {
    let mut said = Diagnostics::default();
    let mut design = computed.design.in_language(translation);
    let values = draft_values(&design, &computed.drafts);
    booklet::fill_sizes(&mut design, &values, diagnostics);
    let sizes = design.sizes.iter().zip(&computed.drafts);
    let sizes: Vec<_> = sizes
        .map(|(size, draft)| piece::finish(&design, size, draft, &mut said))
        .collect();
    let means = (options, &*computed.kept as _);
    Computed {
        materials: gather(&design, (&sizes, &computed.drafts), means, &mut said),
        sizes,
        design,
        feet: computed.feet.clone(),
        drafts: computed.drafts.clone(),
        complete: computed.complete,
        kept: computed.kept.clone(),
    }
}
