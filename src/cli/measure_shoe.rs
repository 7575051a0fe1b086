//! What `measure` tells of a drafted shoe: its values, how the foot gets in, how the seam between
//! upper and sole walks, and what the fitting taught.

use super::measure::{row, table};
use crate::design::{Design, FitEntry, LengthStyle, SHOE_FIGURES, Size, printed};
use crate::draft::DraftedShoe;
use crate::draft::shoe::{Closure, Hold, Shoe};
use std::fmt::Write;

/// The tables of one size's shoe.
pub(super) fn shoe(design: &Design, size: &Size, shoe: &DraftedShoe) -> String {
    let mut text = String::from("\n");
    text.push_str(&table(&figures(shoe, design.lengths)));
    if let Some(form) = &shoe.form {
        text.push('\n');
        text.push_str(&table(&walk(form)));
        let _ = writeln!(text, "\n{}", getting_in(form, shoe.choices.donning.closure));
    }
    let corrections: Vec<&FitEntry> = design
        .fit
        .iter()
        .filter(|entry| entry.holds_for(&size.declared))
        .collect();
    if !corrections.is_empty() {
        text.push('\n');
        text.push_str(&table(&fit(&corrections)));
    }
    text
}

fn figures(shoe: &DraftedShoe, style: LengthStyle) -> Vec<Vec<String>> {
    let mut rows = vec![row(["value", "", "", "what it is"])];
    for figure in SHOE_FIGURES {
        let Some(value) = shoe.figures.get(figure.name) else {
            continue;
        };
        let inch = printed::inch(*value, style.denominator).unwrap_or_default();
        rows.push(vec![
            format!("shoe.{}", figure.name),
            format!("{value:.2} mm"),
            printed::plain(&inch),
            figure.meaning.to_string(),
        ]);
    }
    rows
}

fn walk(shoe: &Shoe) -> Vec<Vec<String>> {
    let mut rows = vec![row(["round the sole", "to", "sole", "upper", "eased"])];
    for step in &shoe.walk {
        rows.push(vec![
            step.from.to_string(),
            step.to.to_string(),
            format!("{:.2}", step.sole),
            format!("{:.2}", step.piece),
            format!("{:.2}", (step.piece - step.sole).max(0.0)),
        ]);
    }
    rows
}

/// Whether the foot gets in, and what holds the shoe on.
fn getting_in(shoe: &Shoe, closure: Closure) -> String {
    let donning = &shoe.donning;
    let hold = |hold: Hold| match hold {
        Hold::Locks => "which holds it behind the heel",
        Hold::Friction => "which holds it by friction",
        Hold::Snug => "which lies close but does not hold",
    };
    let opening = |opens_to: f64| {
        format!(
            "opens to {opens_to:.1} mm; the heel needs {:.1} mm",
            donning.need
        )
    };
    match closure {
        Closure::Open => format!(
            "The topline {}. It measures {:.2} of the long-heel girth, {}.",
            opening(donning.topline),
            donning.ratio,
            hold(donning.hold)
        ),
        Closure::ElasticStrap => format!("The strap {}.", opening(donning.strap.opens_to)),
        Closure::BackElastic => format!(
            "The elastic at the back {}. At rest the topline measures {:.2} of the long-heel girth, \
             {}.",
            opening(donning.back.opens_to),
            donning.back.ratio,
            hold(donning.back.hold)
        ),
        Closure::Tie => format!(
            "Untied, with the throat slit by {:.1} mm, the foot gets in: the topline measures {:.1} \
             mm, the heel needs {:.1} mm.",
            donning.tie.slit, donning.topline, donning.need
        ),
    }
}

fn fit(entries: &[&FitEntry]) -> Vec<Vec<String>> {
    let mut rows = vec![row(["fitted on", "change", "by", "why"])];
    for entry in entries {
        rows.push(vec![
            entry.on.clone(),
            entry.words(),
            entry.by_words.clone(),
            entry.why.clone(),
        ]);
    }
    rows
}
