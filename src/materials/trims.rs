//! Trims and notions: cut lengths, and how much of each is bought.

use super::bias::{self, BiasSquare};
use super::money::{self, Money};
use super::shop_lengths::{self, ShopLength};
use crate::design::formula::Scope;
use crate::design::{Design, Dimension, Formula, Size, Trim, TrimKind, TrimWeight, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::Draft;
use crate::language::Places;
use serde::Serialize;

/// What is bought besides what is needed, mm: the ends of a length from the shop are not cut straight, and
/// fray (common practice: a centimetre).
const ENDS: f64 = 10.0;

/// A trim as the materials list shows it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimRow {
    /// Key.
    pub key: String,
    /// As printed.
    pub name: String,
    /// What kind of thing it is, in words.
    pub kind: &'static str,
    /// Width or diameter in words.
    pub width: Option<String>,
    /// Width or diameter, mm.
    pub width_mm: Option<f64>,
    /// How many.
    pub count: u32,
    /// Cut length of each, by size; one line without a size where all are equal; none for what is
    /// not cut from a length.
    pub lines: Vec<TrimLine>,
    /// How much longer or shorter each may be cut, in words.
    pub tolerance: Option<String>,
    /// How much longer or shorter each may be cut, mm.
    pub tolerance_mm: Option<f64>,
    /// How much is bought for what the design makes, by size as [`TrimRow::lines`].
    pub bought: Vec<TrimAmount>,
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
    /// Cut length, what joins the ends included, mm.
    pub length_mm: f64,
    /// The same as printed.
    pub text: String,
}

/// How much of a trim is bought for one size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TrimAmount {
    /// Title of the size as declared, or `None` for all sizes.
    pub size: Option<String>,
    /// Length of all together, mm; none of what is only counted.
    pub needed_mm: Option<f64>,
    /// How much to buy, as printed.
    pub text: String,
    /// What it weighs, g, if the design says.
    pub weight_g: Option<f64>,
    /// What it costs, if the design says.
    pub cost: Option<Money>,
    /// For a bias strip the square that it is cut from.
    pub square: Option<BiasSquare>,
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
        true => printed::lignes(mm, design.lengths),
        false => printed::both(mm, design.lengths),
    });
    let lengths = lengths(design, trim, drafts, diagnostics);
    TrimRow {
        key: trim.key.clone(),
        name: trim.name.clone(),
        kind: trim.kind.words(),
        width,
        width_mm: trim.width,
        count: trim.count,
        lines: lines(design, trim, &lengths),
        tolerance: trim
            .tolerance
            .map(|mm| format!("\u{b1} {}", printed::both(mm, design.lengths))),
        tolerance_mm: trim.tolerance,
        bought: bought(design, trim, &lengths),
        small_part: trim.small_part,
        note: trim.note.clone(),
    }
}

/// The cut length of each in each size that has one, mm.
fn lengths<'d>(
    design: &'d Design,
    trim: &Trim,
    drafts: &[Draft],
    diagnostics: &mut Diagnostics,
) -> Vec<(&'d Size, f64)> {
    let Some(formula) = &trim.length else {
        return Vec::new();
    };
    let mut lengths = Vec::new();
    for (size, draft) in design.sizes.iter().zip(drafts) {
        let parts = std::iter::once(formula).chain(&trim.join);
        let values: Option<Vec<Result<f64, String>>> =
            parts.map(|part| value(part, draft)).collect();
        let Some(values) = values else {
            continue;
        };
        let fault = match values.into_iter().sum::<Result<f64, String>>() {
            Ok(length) if length > 0.0 => {
                lengths.push((size, length));
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
    lengths
}

/// A length in one size, mm; `None` where it hangs on something that could not be drafted.
pub(super) fn value(formula: &Formula, draft: &Draft) -> Option<Result<f64, String>> {
    let scope = &draft.values;
    let missing = |name: &&str| scope.value(name).is_none();
    if formula.names().iter().any(missing) {
        return None;
    }
    Some(formula.evaluate(scope, Dimension::Length))
}

fn lines(design: &Design, trim: &Trim, lengths: &[(&Size, f64)]) -> Vec<TrimLine> {
    let style = design.lengths.together(lengths.iter().map(|(_, mm)| *mm));
    let of = |(size, length_mm): &(&Size, f64)| {
        let text = printed::both(*length_mm, style);
        let text = match size.only {
            Some(_) => {
                let count = trim.count.div_ceil(2);
                let places: Places<'_> = &[("count", &count), ("length", &text)];
                design.words.say("materials.each of", places)
            }
            None => text,
        };
        TrimLine {
            size: Some(size.title.clone()),
            length_mm: *length_mm,
            text,
        }
    };
    let mut lines: Vec<TrimLine> = lengths.iter().map(of).collect();
    let same = lines.windows(2).all(|pair| pair[0].text == pair[1].text);
    if same && lines.len() == design.sizes.len() {
        lines.truncate(1);
        lines.iter_mut().for_each(|line| line.size = None);
    }
    lines
}

/// Amounts by size as declared: where each foot has its own length, half are cut for each.
fn bought(design: &Design, trim: &Trim, lengths: &[(&Size, f64)]) -> Vec<TrimAmount> {
    let mut totals: Vec<(&Size, f64)> = Vec::new();
    for (size, length) in lengths {
        let count = match size.only {
            Some(_) => trim.count.div_ceil(2),
            None => trim.count,
        };
        let total = f64::from(count) * length;
        match totals
            .iter_mut()
            .find(|(of, _)| of.declared == size.declared)
        {
            Some((_, sum)) => *sum += total,
            None => totals.push((size, total)),
        }
    }
    if trim.length.is_none() {
        return vec![TrimAmount {
            size: None,
            needed_mm: None,
            text: trim.count.to_string(),
            weight_g: weight(trim, 0.0),
            cost: cost(trim, None),
            square: None,
        }];
    }
    let of = |(size, total): &(&Size, f64)| amount(design, trim, *total, size.declared_title());
    let mut amounts: Vec<TrimAmount> = totals.iter().map(of).collect();
    let same = amounts
        .windows(2)
        .all(|p| p[0].text == p[1].text && p[0].square == p[1].square);
    if same && lengths.len() == design.sizes.len() {
        amounts.drain(..amounts.len().saturating_sub(1));
        amounts.iter_mut().for_each(|amount| amount.size = None);
    }
    amounts
}

fn amount(design: &Design, trim: &Trim, total: f64, size: String) -> TrimAmount {
    let square = match (trim.kind, trim.width) {
        (TrimKind::BiasStrip, Some(width)) => {
            let each = total / f64::from(trim.count);
            bias::square(each, trim.count, width)
        }
        _ => None,
    };
    let longer = f64::from(trim.count) * trim.tolerance.unwrap_or(0.0);
    let bought = shop_lengths::of_trim(total + longer + ENDS);
    let text = match &square {
        Some(square) => square.words(design.lengths, &design.words),
        None => bought.words(design.lengths),
    };
    TrimAmount {
        size: Some(size),
        needed_mm: Some(total),
        text,
        weight_g: weight(trim, total),
        cost: cost(trim, Some((total, bought))),
        square,
    }
}

/// `length` is what is needed and what is bought, mm.
fn cost(trim: &Trim, length: Option<(f64, ShopLength)>) -> Option<Money> {
    let price = trim.price.as_ref()?;
    money::of_trim(price, trim.count, length)
}

/// Weight of all, g; `total` is their length, mm.
fn weight(trim: &Trim, total: f64) -> Option<f64> {
    trim.weight.map(|weight| match weight {
        TrimWeight::Each(grams) => grams * f64::from(trim.count),
        TrimWeight::PerMetre(grams) => grams * total / 1000.0,
    })
}
