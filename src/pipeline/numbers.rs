//! The numbers of a design and its cut files: the same in every language.

use super::Computed;
use crate::booklet::{Moment, SizeValues};
use crate::design::{Design, Dimension, Size};
use crate::draft::{self, Draft};
use crate::edition::{self, PagesFact};
use crate::export;
use crate::folder::Outputs;
use serde_json::json;
use std::collections::BTreeMap;

/// What the drafts of shoes found, by size and name.
fn fits(computed: &Computed) -> BTreeMap<String, BTreeMap<String, f64>> {
    let sizes = computed.design.sizes.iter();
    let found = |(size, draft): (&Size, &Draft)| {
        let figures = draft.shoe.as_ref()?.figures.iter();
        let named = figures.map(|(name, value)| (name.to_string(), *value));
        Some((size.key.clone(), named.collect()))
    };
    sizes.zip(&computed.drafts).filter_map(found).collect()
}

/// Every length that formulas and the text may name, and the finished measurements, by size.
pub(super) fn lengths(
    design: &Design,
    values: &[SizeValues],
) -> BTreeMap<String, BTreeMap<String, f64>> {
    let of = |size: &SizeValues| {
        let lengths = size.values.iter();
        let lengths = lengths.filter(|(_, value)| value.dimension == Dimension::Length);
        let mut all: BTreeMap<String, f64> = lengths
            .map(|(name, value)| (name.clone(), value.value))
            .collect();
        all.extend(design.finished.iter().filter_map(|measured| {
            let mm = measured.length.evaluate(size, Dimension::Length).ok()?;
            Some((format!("finished.{}", measured.key), mm))
        }));
        (size.key.clone(), all)
    };
    values.iter().map(of).collect()
}

/// Adds `numbers.json`, the cut files and the file for programs of the trade, made at `moment`; `values` are those that the text may name, `pages` those of all booklets by paper, in further languages
/// by language and paper.
pub(super) fn add_numbers(
    computed: &Computed,
    values: &[SizeValues],
    outputs: &mut Outputs,
    pages: &BTreeMap<String, PagesFact>,
    moment: Option<Moment>,
) {
    let sizes = computed.design.sizes.iter().zip(&computed.feet);
    let feet = sizes.filter_map(|(size, foot)| {
        let figures = draft::foot_figures(foot.as_ref()?);
        Some((size.key.clone(), figures.into_iter().collect()))
    });
    let numbers = edition::Numbers {
        design: &computed.design,
        sizes: &computed.sizes,
        feet: &feet.collect(),
        fits: &fits(computed),
        values: &lengths(&computed.design, values),
        materials: &json!(computed.materials),
        pages,
    };
    outputs.add("numbers.json", numbers.to_json());
    let drawn = export::cut_files(
        &computed.design,
        &computed.sizes,
        &computed.materials.bought,
    );
    for file in drawn {
        outputs.add(file.name, file.text);
    }
    let design = &computed.design;
    let exchange = export::dxf(design, &computed.sizes, moment.map(Moment::date));
    outputs.add(format!("{}.dxf", design.key), exchange);
}
