//! Trims and notions with their cut lengths.

use crate::design::{Design, Dimension, Trim, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::Draft;
use serde::Serialize;

/// A trim as the materials list shows it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimRow {
    /// Key.
    pub key: String,
    /// As printed.
    pub name: String,
    /// Width or diameter in words.
    pub width: Option<String>,
    /// Width or diameter, mm.
    pub width_mm: Option<f64>,
    /// How many.
    pub count: u32,
    /// Cut length of each, by size; one line without a size where all are equal; none for what is
    /// not cut from a length.
    pub lines: Vec<TrimLine>,
    /// Small hard part that a child could swallow.
    pub small_part: bool,
    /// Words of the designer.
    pub note: Option<String>,
}

/// The cut length of a trim in one size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimLine {
    /// Title of the size, or `None` for all sizes.
    pub size: Option<String>,
    /// Cut length, mm.
    pub length_mm: f64,
    /// The same as printed.
    pub text: String,
}

/// All trims; a length that cannot be had or is not positive is reported.
pub fn trims(design: &Design, drafts: &[Draft], diagnostics: &mut Diagnostics) -> Vec<TrimRow> {
    design
        .trims
        .iter()
        .map(|trim| row(design, trim, drafts, diagnostics))
        .collect()
}

fn row(design: &Design, trim: &Trim, drafts: &[Draft], diagnostics: &mut Diagnostics) -> TrimRow {
    let width = trim.width.map(|mm| match trim.lignes {
        true => printed::lignes(mm),
        false => printed::both(mm, design.lengths),
    });
    TrimRow {
        key: trim.key.clone(),
        name: trim.name.clone(),
        width,
        width_mm: trim.width,
        count: trim.count,
        lines: lines(design, trim, drafts, diagnostics),
        small_part: trim.small_part,
        note: trim.note.clone(),
    }
}

fn lines(
    design: &Design,
    trim: &Trim,
    drafts: &[Draft],
    diagnostics: &mut Diagnostics,
) -> Vec<TrimLine> {
    let Some(formula) = &trim.length else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for (size, draft) in design.sizes.iter().zip(drafts) {
        let scope = &draft.values;
        let missing = |n: &&str| crate::design::formula::Scope::value(scope, n).is_none();
        if formula.names().iter().any(missing) {
            continue;
        }
        let fault = match formula.evaluate(scope, Dimension::Length) {
            Ok(length_mm) if length_mm > 0.0 => {
                let text = printed::both(length_mm, design.lengths);
                let text = match size.only {
                    Some(_) => format!("{} of {text}", trim.count.div_ceil(2)),
                    None => text,
                };
                lines.push(TrimLine {
                    size: Some(size.title.clone()),
                    length_mm,
                    text,
                });
                continue;
            }
            Ok(length) => format!("The length of {} would be {length:.1} mm", trim.name),
            Err(message) => message,
        };
        let message = format!("{fault}, in size {}", size.title);
        diagnostics.push(
            Diagnostic::error("trim-length", Some(&formula.place), message)
                .remedy("Change the formula, or leave the trim out of this design."),
        );
    }
    let same = lines.windows(2).all(|pair| pair[0].text == pair[1].text);
    if same && lines.len() == design.sizes.len() {
        lines.truncate(1);
        lines.iter_mut().for_each(|line| line.size = None);
    }
    lines
}
