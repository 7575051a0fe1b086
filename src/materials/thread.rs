//! Sewing thread: what lies in the seams and the other lines, what is lost at their ends, and a
//! reserve; for each size, for what the design makes. Millimetres.

use super::consumption::{StitchSizes, thread_ratio};
use super::money::{self, Money};
use super::sewing::{Sewings, sewings, thickness};
use super::shop_lengths;
use super::trims::value;
use crate::design::{Design, Formula, STITCH_LENGTH, Sewn, SewnLine, Size, Stitch, ThreadSpec};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::Draft;
use crate::piece::SizedPieces;
use serde::Serialize;

/// The thread as the materials list shows it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThreadRow {
    /// As printed.
    pub name: String,
    /// The stitches it is sewn with, as printed: `backstitch`, `lockstitch`.
    pub stitches: Vec<String>,
    /// How much, by size as declared; one line without a size where all are equal.
    pub lines: Vec<ThreadLine>,
    /// Thread on a spool, as printed.
    pub spool: String,
    /// Thread on a spool, mm.
    pub spool_mm: f64,
    /// How many spools the largest amount takes.
    pub spools: u32,
    /// How many of the largest amount come from one spool.
    pub per_spool: u32,
    /// Spools for the design's kits.
    pub kits: Vec<Spools>,
    /// Words of the designer.
    pub note: Option<String>,
}

/// Spools for a kit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Spools {
    /// How many of what the design makes.
    pub times: u32,
    /// How many spools hold the largest amount so many times.
    pub spools: u32,
}

/// The thread of one size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ThreadLine {
    /// Title of the size as declared, or `None` for all sizes.
    pub size: Option<String>,
    /// Length of all that is sewn, mm.
    pub sewn_mm: f64,
    /// Thread for it, ends and reserve included, mm.
    pub needed_mm: f64,
    /// The same rounded up, as printed.
    pub text: String,
    /// What it costs, if the design says.
    pub cost: Option<Money>,
}

fn kits(kits: &[u32], spool: f64, most: f64) -> Vec<Spools> {
    let of = |times: &u32| Spools {
        times: *times,
        spools: spools(spool, f64::from(*times) * most),
    };
    kits.iter().map(of).collect()
}

/// The least number of spools that hold `needed`.
fn spools(spool: f64, needed: f64) -> u32 {
    (needed / spool - 1e-9).ceil().max(1.0) as u32
}

/// What is sewn in a size, and the thread for it.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    sewn: f64,
    thread: f64,
}

/// The thread of a design that tells of any. A stitch or a line whose length is not more than nothing is
/// reported.
pub fn thread(
    design: &Design,
    sizes: &[SizedPieces],
    drafts: &[Draft],
    diagnostics: &mut Diagnostics,
) -> Option<ThreadRow> {
    let spec = design.thread.as_ref()?;
    let mut sums: Vec<(&Size, Sum)> = Vec::new();
    for ((size, sized), draft) in design.sizes.iter().zip(sizes).zip(drafts) {
        let sewer = Sewer {
            design,
            spec,
            size,
            draft,
        };
        let sum = sewer.sum(sized, diagnostics)?;
        match sums
            .iter_mut()
            .find(|(known, _)| known.declared == size.declared)
        {
            Some((_, known)) => {
                known.sewn += sum.sewn;
                known.thread += sum.thread;
            }
            None => sums.push((size, sum)),
        }
    }
    let lines = lines(design, spec, &sums);
    let most = lines.iter().map(|line| line.needed_mm).fold(0.0, f64::max);
    (most > 0.0).then(|| ThreadRow {
        name: spec.name.clone(),
        stitches: stitches(design, spec),
        lines,
        spool: shop_lengths::of_thread(spec.spool).words(design.lengths),
        spool_mm: spec.spool,
        spools: spools(spec.spool, most),
        per_spool: (spec.spool / most) as u32,
        kits: kits(&design.kits, spec.spool, most),
        note: spec.note.clone(),
    })
}

fn lines(design: &Design, spec: &ThreadSpec, sums: &[(&Size, Sum)]) -> Vec<ThreadLine> {
    let of = |(size, sum): &(&Size, Sum)| {
        let needed_mm = sum.thread * (1.0 + spec.reserve);
        let bought = shop_lengths::of_thread(needed_mm);
        let cost = |price| money::of_thread(price, spec.spool, (needed_mm, bought));
        ThreadLine {
            size: Some(size.declared_title()),
            sewn_mm: sum.sewn,
            needed_mm,
            text: bought.words(design.lengths),
            cost: spec.price.as_ref().map(cost),
        }
    };
    let mut lines: Vec<ThreadLine> = sums.iter().map(of).collect();
    if lines.windows(2).all(|pair| pair[0].text == pair[1].text) {
        let most = |a: &ThreadLine, b: &ThreadLine| a.needed_mm.total_cmp(&b.needed_mm);
        let line = lines.into_iter().max_by(most);
        lines = line
            .map(|line| ThreadLine { size: None, ..line })
            .into_iter()
            .collect();
    }
    lines
}

/// Every stitch of the design once, that of the thread first.
pub(super) fn stitches_used(design: &Design, spec: &ThreadSpec) -> Vec<Stitch> {
    let seams = design
        .seams
        .iter()
        .map(|seam| seam.stitch.unwrap_or(spec.stitch));
    let lines = spec
        .also
        .iter()
        .filter(|line| matches!(line.what, Sewn::Line(_)));
    let lines = lines.map(|line| line.stitch.unwrap_or(spec.stitch));
    let mut used = Vec::new();
    for stitch in seams.chain(lines) {
        if !used.contains(&stitch) {
            used.push(stitch);
        }
    }
    used
}

fn stitches(design: &Design, spec: &ThreadSpec) -> Vec<String> {
    let words = |stitch: Stitch| design.words.named("stitches", stitch.words()).to_string();
    stitches_used(design, spec).into_iter().map(words).collect()
}

/// One size while its thread is summed.
struct Sewer<'a> {
    design: &'a Design,
    spec: &'a ThreadSpec,
    size: &'a Size,
    draft: &'a Draft,
}

impl Sewer<'_> {
    /// Seams and other lines; `None` where a length could not be had.
    fn sum(&self, sized: &SizedPieces, diagnostics: &mut Diagnostics) -> Option<Sum> {
        let mut sum = Sum::default();
        for seam in &sized.seams {
            let spec = self.design.seams.iter().find(|spec| spec.name == seam.name);
            let stitch = spec
                .and_then(|spec| spec.stitch)
                .unwrap_or(self.spec.stitch);
            // eased in, the longer edge lies on the shorter
            let length = seam.length_from.max(seam.length_to);
            for sewings in sewings(self.design, &sized.pieces, seam) {
                sum.add(
                    length,
                    self.ratio(stitch, sewings, diagnostics)?,
                    sewings.times,
                    self.spec.ends,
                );
            }
        }
        for line in &self.spec.also {
            self.also(line, &mut sum, diagnostics)?;
        }
        Some(sum)
    }

    fn also(&self, line: &SewnLine, sum: &mut Sum, diagnostics: &mut Diagnostics) -> Option<()> {
        // of a pair that takes two patterns each foot has half
        let share = if self.size.only.is_some() { 0.5 } else { 1.0 };
        let mut own = Sum::default();
        match &line.what {
            Sewn::Thread(formula) => {
                own.thread = f64::from(line.count) * self.length(formula, diagnostics)?;
            }
            Sewn::Line(formula) => {
                let stitch = line.stitch.unwrap_or(self.spec.stitch);
                let through = Sewings {
                    times: line.count,
                    thickness: self.through(line),
                };
                let ratio = self.ratio(stitch, through, diagnostics)?;
                let length = self.length(formula, diagnostics)?;
                own.add(length, ratio, line.count, self.spec.ends);
            }
        }
        sum.sewn += share * own.sewn;
        sum.thread += share * own.thread;
        Some(())
    }

    /// Thickness of the cloths that a line goes through, mm.
    fn through(&self, line: &SewnLine) -> f64 {
        let cloth = |key: &str| self.design.cloth.iter().find(|cloth| cloth.key == key);
        if line.through.is_empty() {
            let upper = self
                .design
                .shoe
                .as_ref()
                .and_then(|shoe| cloth(&shoe.cloth));
            return upper.or(self.design.cloth.first()).map_or(0.0, thickness);
        }
        line.through
            .iter()
            .filter_map(|key| cloth(key))
            .map(thickness)
            .sum()
    }

    fn ratio(
        &self,
        stitch: Stitch,
        sewings: Sewings,
        diagnostics: &mut Diagnostics,
    ) -> Option<f64> {
        let size = |formula: &Option<Formula>, usual: f64, diagnostics: &mut Diagnostics| {
            formula
                .as_ref()
                .map_or(Some(usual), |formula| self.length(formula, diagnostics))
        };
        let sizes = StitchSizes {
            length: size(&self.spec.stitch_length, STITCH_LENGTH, diagnostics)?,
            width: size(&self.spec.stitch_width, stitch.usual_width(), diagnostics)?,
            thickness: sewings.thickness,
        };
        Some(thread_ratio(stitch, sizes))
    }

    /// A length in this size, mm; one that is not more than nothing is reported.
    fn length(&self, formula: &Formula, diagnostics: &mut Diagnostics) -> Option<f64> {
        let fault = match value(formula, self.draft)? {
            Ok(length) if length > 1e-3 => return Some(length),
            Ok(length) => format!("This would be {length:.1} mm"),
            Err(message) => message,
        };
        let message = format!("{fault}, in size {}", self.size.title);
        diagnostics.push(
            Diagnostic::error("thread-length", Some(&formula.place), message)
                .remedy("Change the formula, or take the line away."),
        );
        None
    }
}

impl Sum {
    /// `times` lines of this length with their ends.
    fn add(&mut self, length: f64, ratio: f64, times: u32, ends: f64) {
        self.sewn += f64::from(times) * length;
        self.thread += f64::from(times) * (length * ratio + ends);
    }
}
