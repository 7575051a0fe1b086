//! What is bought of each cloth for each size: the layouts, the amounts they ask for, how many come out
//! of a sheet, and the amounts for kits.

use super::amounts::{self, Amount, stock_words};
use super::layouts::{Layout, NoRoom, layout};
use super::lays::{CutBy, Lay, lays};
use super::means::Means;
use crate::design::{Cloth, Design, LengthStyle, Stock, printed};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::language::Words;
use crate::packing::Reason;
use crate::piece::SizedPieces;
use rayon::prelude::*;
use serde::Serialize;

/// More of what the design makes are not looked for on one sheet: nobody counts further.
const MOST_PER_SHEET: u32 = 50;

/// More pieces than this are not packed for a kit; the layout of a part of it is repeated.
const MOST_PIECES: u32 = 40;

/// What is bought of one cloth in one size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Bought {
    /// Cloth key.
    pub cloth: String,
    /// Key of the size.
    pub size: String,
    /// The size as printed.
    #[serde(skip)]
    pub title: String,
    /// How the cloth is sold, in words.
    pub sold: String,
    /// How much, for one of what the design makes.
    pub amount: Amount,
    /// The same as printed.
    pub text: String,
    /// Share of what is bought that is in the pieces, percent.
    pub used_percent: f64,
    /// What is left over in one piece of each sheet or length, along and across, mm.
    pub left_of_each_mm: Vec<Option<[f64; 2]>>,
    /// How many of what the design makes come out of one sheet, if one holds one.
    pub per_sheet: Option<u32>,
    /// For so many of what the design makes.
    pub kits: Vec<Kit>,
    /// The layout, as the paper pieces are cut round.
    #[serde(skip)]
    pub layout: Layout,
    /// The layout for a machine, where that leaves the allowance of some pieces away.
    #[serde(skip)]
    pub machine_layout: Option<Layout>,
}

impl Bought {
    /// The layout that is drawn for a machine.
    pub fn for_machine(&self) -> &Layout {
        self.machine_layout.as_ref().unwrap_or(&self.layout)
    }
}

/// What is bought of a cloth for a kit.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Kit {
    /// How many of what the design makes.
    pub times: u32,
    /// How much.
    pub amount: Amount,
    /// The same as printed.
    pub text: String,
}

/// One layout to be found.
struct Job<'a> {
    lay: Lay,
    /// The same for a machine, if it is another.
    by_machine: Option<Lay>,
    cloth: &'a Cloth,
    stock: &'a Stock,
}

/// Everything that is bought of cloth, in the order of sizes and cloths. A cloth that says nothing of how
/// it is sold is left out. Layouts are found at the same time on as many threads as there are.
pub fn buying(
    design: &Design,
    sizes: &[SizedPieces],
    means: &Means<'_>,
    diagnostics: &mut Diagnostics,
) -> Vec<Bought> {
    let mut jobs = Vec::new();
    let by_machine = lays(design, sizes, CutBy::Machine);
    for (lay, other) in lays(design, sizes, CutBy::Hand).into_iter().zip(by_machine) {
        let Some(cloth) = design.cloth.iter().find(|c| c.key == lay.cloth) else {
            continue;
        };
        let ways = amounts::ways(cloth, design.lengths, &design.words);
        jobs.extend(ways.into_iter().map(|stock| Job {
            lay: lay.clone(),
            by_machine: (other != lay).then(|| other.clone()),
            cloth,
            stock,
        }));
    }
    let found: Vec<Result<Bought, NoRoom>> = jobs
        .par_iter()
        .map(|job| bought(job, design, means))
        .collect();
    let (mut list, mut without_room) = (Vec::new(), Vec::new());
    for (job, result) in jobs.iter().zip(found) {
        match result {
            Ok(bought) => list.push(bought),
            Err(no_room) => without_room.push((job, no_room)),
        }
    }
    for (job, no_room) in without_room {
        let other = |b: &Bought| b.cloth == job.cloth.key && b.size == job.lay.size;
        tell(job, &no_room, list.iter().any(other), diagnostics);
    }
    list
}

fn bought(job: &Job<'_>, design: &Design, means: &Means<'_>) -> Result<Bought, NoRoom> {
    let style = design.lengths;
    let pack = |lay: &Lay| layout(lay, job.cloth, job.stock, means);
    let machine_layout = job.by_machine.as_ref().map(pack).transpose()?;
    let layout = pack(&job.lay)?;
    let means = &Means {
        quick: true,
        ..*means
    };
    let per_sheet = per_sheet(job, &layout, means);
    let kits = kits(job, (&layout, per_sheet), design, means)?;
    Ok(Bought {
        cloth: job.cloth.key.clone(),
        size: job.lay.size.clone(),
        title: job.lay.title.clone(),
        sold: stock_words(job.stock, style, &design.words),
        amount: layout.amount,
        text: layout.amount.words(style, &design.words, job.stock),
        used_percent: (layout.used_share() * 1000.0).round() / 10.0,
        left_of_each_mm: layout
            .laid
            .iter()
            .map(|laid| layout.left_of(laid))
            .collect(),
        per_sheet,
        kits,
        layout,
        machine_layout,
    })
}

/// The most of what the design makes that one sheet holds: by halving between one and what the area
/// allows.
fn per_sheet(job: &Job<'_>, one: &Layout, means: &Means<'_>) -> Option<u32> {
    if one.amount != (Amount::Sheets { count: 1 }) {
        return None;
    }
    let by_area = (1.0 / one.used_share())
        .floor()
        .clamp(1.0, f64::from(MOST_PER_SHEET)) as u32;
    let holds = |times: u32| {
        let found = layout(&job.lay.times(times), job.cloth, job.stock, means);
        found.is_ok_and(|found| found.amount == (Amount::Sheets { count: 1 }))
    };
    let (mut least, mut most) = (1, by_area);
    while least < most {
        let middle = (least + most).div_ceil(2);
        match holds(middle) {
            true => least = middle,
            false => most = middle - 1,
        }
    }
    Some(least)
}

/// What is bought for each kit: a layout of its own, or smaller ones put together if that is less, so that
/// no kit takes more than the parts of which it could be made up.
fn kits(
    job: &Job<'_>,
    (one, per_sheet): (&Layout, Option<u32>),
    design: &Design,
    means: &Means<'_>,
) -> Result<Vec<Kit>, NoRoom> {
    let mut known = vec![(1, one.amount)];
    known.extend(per_sheet.map(|times| (times, Amount::Sheets { count: 1 })));
    let mut sorted = design.kits.clone();
    sorted.sort_unstable();
    for times in sorted {
        let packed = repeated(job, times, means)?;
        let together = put_together(times, &known);
        let least = match together.size() < packed.size() {
            true => together,
            false => packed,
        };
        known.push((times, least));
    }
    let of = |times: &u32| {
        let found = known.iter().rev().find(|(known, _)| known == times);
        let amount = found.map_or(one.amount, |(_, amount)| *amount);
        Kit {
            times: *times,
            amount,
            text: amount.words(design.lengths, &design.words, job.stock),
        }
    };
    Ok(design.kits.iter().map(of).collect())
}

/// What a layout of `times` of what the design makes takes, or of a part of them repeated.
fn repeated(job: &Job<'_>, times: u32, means: &Means<'_>) -> Result<Amount, NoRoom> {
    let pieces: u32 = job.lay.pieces.iter().map(|p| p.count).sum();
    let part = (MOST_PIECES / pieces.max(1)).clamp(1, times.max(1));
    let (whole, rest) = (times / part, times % part);
    let of = |times: u32| layout(&job.lay.times(times), job.cloth, job.stock, means);
    let mut amount = of(part)?.amount.times(whole);
    if rest > 0 {
        amount = amount.and(of(rest)?.amount);
    }
    Ok(amount)
}

/// The least of `known` amounts, each for so many, that together are enough for `times` (unbounded
/// covering knapsack, by dynamic programming).
fn put_together(times: u32, known: &[(u32, Amount)]) -> Amount {
    let mut best: Vec<Option<Amount>> = vec![None];
    for n in 1..=times {
        let with = |(of, amount): &(u32, Amount)| match best[n.saturating_sub(*of) as usize] {
            Some(rest) => amount.and(rest),
            None => *amount,
        };
        let all = known.iter().map(with);
        best.push(all.min_by(|a, b| a.size().total_cmp(&b.size())));
    }
    let found = best.pop().flatten();
    found.unwrap_or_else(|| known[0].1.times(times))
}

/// Pieces that do not fit a cloth; only a note where the cloth is sold in `another` way that holds them.
fn tell(job: &Job<'_>, no_room: &NoRoom, another: bool, diagnostics: &mut Diagnostics) {
    let cloth = &job.cloth.name;
    for (piece, reason) in &no_room.pieces {
        let why = match reason {
            Reason::TooLarge { needs, has } if needs <= has => "it is too long for it".to_string(),
            Reason::TooLarge { needs, has } => format!(
                "it needs {} across, and there are {}",
                printed::metric(*needs),
                printed::metric(has.max(0.0))
            ),
            Reason::NoRing | Reason::NoTurn | Reason::NoFold | Reason::NoRoom => {
                "it finds no room".to_string()
            }
        };
        let message = format!(
            "{piece} of size {} does not fit {cloth} {}: {why}",
            job.lay.title,
            stock_words(job.stock, LengthStyle::METRIC, &Words::default())
        );
        let remedy = "Name a wider cloth or a larger sheet, or divide the piece by a seam.";
        let place = Some(&job.cloth.place);
        diagnostics.push(match another {
            false => Diagnostic::error("cloth-too-small", place, message).remedy(remedy),
            true => Diagnostic::note("cloth-too-small", place, message)
                .remedy("The amounts of this size leave it out."),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kit_takes_no_more_than_the_parts_it_is_made_of() {
        let sheets = |count| Amount::Sheets { count };
        // five to a sheet: 100 are 20 sheets, 101 are one more (arithmetic)
        let known = [(1, sheets(1)), (5, sheets(1))];
        assert_eq!(put_together(100, &known), sheets(20));
        assert_eq!(put_together(101, &known), sheets(21));
        assert_eq!(put_together(7, &known), sheets(2));
        // one takes 10 cm, three side by side 20 cm: seven are 20 + 20 + 10
        let known = [(1, Amount::length(100.0)), (3, Amount::length(200.0))];
        assert_eq!(put_together(7, &known).size(), 500.0);
    }
}
