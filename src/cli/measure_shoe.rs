//! What `measure` tells of a drafted shoe: its values, how the foot gets in, how the seam between
//! upper and sole walks, and what the fitting taught.

use super::Fault;
use super::screen::Screen;
use super::table::{row, table};
use crate::design::{Design, FitEntry, LengthStyle, SHOE_FIGURES, Size, printed};
use crate::draft::DraftedShoe;
use crate::draft::shoe::{Closure, Hold, Shoe};
use crate::figure;
use crate::folder;
use crate::pipeline::Computed;
use std::fmt::Write;
use std::path::Path;

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

/// Width of a picture of the strain, mm.
const PICTURE: f64 = 160.0;

/// Draws into `directory` where the toe piece of each size wants easing.
pub(super) fn pictures(
    computed: &Computed,
    directory: &Path,
    screen: &Screen,
) -> Result<(), Fault> {
    for (size, draft) in computed.design.sizes.iter().zip(&computed.drafts) {
        let form = draft.shoe.as_ref().and_then(|shoe| shoe.form.as_ref());
        if let Some(shoe) = form {
            let name = format!("{}-{}-easing.svg", computed.design.key, size.key);
            let figure = figure::strain_picture(shoe, PICTURE);
            let path = directory.join(name);
            screen.print(&format!("{}\n  {}\n", path.display(), figure.alt));
            folder::write::write(&path, &figure.svg).map_err(|why| Fault(why.to_string()))?;
        }
    }
    Ok(())
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
        Hold::Snug => "which does not hold it by itself: it wants a strap, a tie or elastic",
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
