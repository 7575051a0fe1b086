//! Where feet are measured: what booklet and fitting sheet tell of it, with its drawings. Lengths in mm.

use super::Computed;
use crate::booklet::fitting;
use crate::design::FootSide;
use crate::diagnostic::Diagnostics;
use crate::figure::{MeasuringGuide, measuring_guide};
use crate::foot::Foot;
use crate::foot::form::FootForm;
use crate::piece::SizedPieces;
use serde_json::Value;
use std::collections::BTreeMap;

/// Sizes with a foot, and the foot.
pub(super) fn feet(computed: &Computed) -> impl Iterator<Item = (&SizedPieces, &Foot)> {
    let sizes = computed.sizes.iter().zip(&computed.feet);
    sizes.filter_map(|(size, foot)| Some((size, foot.as_ref()?)))
}

/// By which factor letters of the measuring guide are larger for large print, where the drawings are set 1.7
/// times as large, too: 7.2 points become 18, the size of the text.
const LARGE_LETTERS: f64 = 18.0 / (7.2 * 1.7);

/// The measuring guide of the last size whose foot has a form, with its title; its letters `larger` than usual.
/// A right foot is drawn, so one for the left alone is taken last.
fn guide(computed: &Computed, larger: f64) -> Option<(&str, MeasuringGuide)> {
    let words = &computed.design.words;
    let sizes = computed.sizes.iter().zip(&computed.feet);
    let is_left = |size: &SizedPieces| {
        let mut all = computed.design.sizes.iter();
        all.any(|other| other.key == size.size && other.only == Some(FootSide::Left))
    };
    let drafted = sizes.zip(&computed.drafts).rev();
    let (left, usual): (Vec<_>, Vec<_>) = drafted.partition(|((size, _), _)| is_left(size));
    let mut drawn = usual.into_iter().chain(left);
    drawn.find_map(|((size, foot), draft)| {
        let foot = foot.as_ref()?;
        let shoe = draft.shoe.as_ref().and_then(|shoe| shoe.form.as_ref());
        let made;
        let form = match shoe {
            Some(shoe) => &shoe.foot,
            None => {
                // What is wrong with a foot was said when the shoe was drafted.
                made = FootForm::new(foot, &mut Diagnostics::default())?;
                &made
            }
        };
        let guide = measuring_guide(foot, form, (fitting::GUIDE_WIDTH, larger), words)?;
        Some((size.title.as_str(), guide))
    })
}

/// What the booklet and the fitting sheet tell of measuring, and its drawings; none without a foot.
pub(super) fn measuring(computed: &Computed) -> (Value, BTreeMap<String, Vec<u8>>) {
    measuring_with(computed, 1.0)
}

/// The same with larger letters: for large print, and for half pages, where drawings stand smaller.
pub(super) fn measuring_large(computed: &Computed) -> (Value, BTreeMap<String, Vec<u8>>) {
    measuring_with(computed, LARGE_LETTERS)
}

fn measuring_with(computed: &Computed, larger: f64) -> (Value, BTreeMap<String, Vec<u8>>) {
    let feet: Vec<(&str, &Foot)> = feet(computed)
        .map(|(size, foot)| (size.title.as_str(), foot))
        .collect();
    if feet.is_empty() {
        return (Value::Null, BTreeMap::new());
    }
    let guide = guide(computed, larger);
    let guide = guide.as_ref().map(|(title, guide)| (*title, guide));
    fitting::data(&computed.design, &feet, guide)
}

#[cfg(test)]
mod tests {
    use super::{Computed, measuring};
    use crate::diagnostic::Diagnostics;
    use crate::folder::DesignFolder;
    use crate::pipeline::{Options, compute};
    use std::path::Path;

    /// The size whose foot is drawn if only the feet of these sizes are known, of a design with a pattern for each.
    fn shown(computed: &mut Computed, sizes: &[&str]) -> Option<String> {
        let all = computed.sizes.iter().zip(&mut computed.feet);
        let unknown = all.filter(|(size, _)| !sizes.contains(&size.title.as_str()));
        unknown.for_each(|(_, foot)| *foot = None);
        let (told, drawings) = measuring(computed);
        let drawn = told["figures"].as_array().map_or(0, Vec::len);
        assert_eq!(drawn, drawings.len());
        told["shown"].as_str().map(ToString::to_string)
    }

    #[test]
    fn the_largest_right_foot_is_drawn_and_a_left_one_only_without_any() {
        let design = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs/frost-slipper");
        let folder = DesignFolder::read(&design).expect("a demo");
        let options = Options {
            quick: true,
            ..Options::default()
        };
        let mut diagnostics = Diagnostics::default();
        let computed = compute(&folder, &options, &mut |_| {}, &mut diagnostics);
        let mut computed = computed.expect("sound");
        let mut of = |sizes: &[&str]| shown(&mut computed, sizes);
        // the drawings show a right foot
        let all = ["Small", "Large right", "Large left"];
        assert_eq!(of(&all).as_deref(), Some("Large right"));
        assert_eq!(of(&["Small", "Large left"]).as_deref(), Some("Small"));
        assert_eq!(of(&["Large left"]).as_deref(), Some("Large left"));
        assert_eq!(of(&[]), None);
    }
}
