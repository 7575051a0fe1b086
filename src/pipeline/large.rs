//! Large sheets and rolls of a copy shop: all pieces of all sizes, without the instructions. Lengths in
//! mm.

use super::handover::plate_job;
use super::press::{Booklet, LargePlates, Press, SetBooklet};
use crate::booklet::{self, Prose, Setting};
use crate::design::{Paper, PaperKind};
use crate::diagnostic::Diagnostics;
use crate::plates::{self, PlateSet};
use rayon::prelude::*;
use serde_json::{Map, Value, json};

/// A roll is cut off at whole centimetres.
const CUT: f64 = 10.0;

/// No piece of a roll is cut off shorter than this, mm: head, squares and foot need it.
const SHORTEST: f64 = 300.0;

/// How often a roll is given a little more length than its pieces seemed to need.
const TRIES: usize = 12;

impl Press<'_> {
    /// The large sheet for `paper`, which is large or a roll. `None` if it cannot be set; then
    /// `diagnostics` says why.
    pub(super) fn large_sheet(
        &self,
        paper: &Paper,
        diagnostics: &mut Diagnostics,
    ) -> Option<Booklet> {
        let plates = match self.large_plates(paper) {
            Ok(plates) => plates,
            Err(said) => {
                diagnostics.append(said);
                return None;
            }
        };
        diagnostics.append(plates.notes.clone());
        let stamp = diagnostics.has_errors();
        let set = self.set_large(&plates, stamp, diagnostics)?;
        Some(Booklet {
            file: format!("{}-{}.pdf", self.computed.design.file_stem(), paper.key),
            paper: plates.paper.clone(),
            plates,
            set,
            is_stamped: stamp,
        })
    }

    /// The plates on all large papers of the design, planned once.
    fn all_large(&self) -> &LargePlates {
        if let Some(known) = self.large.get() {
            return known;
        }
        // planned before it is kept: who waits for others while it plans may be given work that asks for it, too
        let papers = self.computed.design.papers.par_iter();
        let large = papers.filter(|(paper, _)| paper.is_large());
        let planned = large
            .map(|(paper, _)| (paper.key.clone(), self.large_plan(paper)))
            .collect();
        self.large.get_or_init(|| planned)
    }

    /// How many sheets the pieces need on each large paper, by its file.
    pub(super) fn large_sheets(&self) -> Value {
        let stem = self.computed.design.file_stem();
        let planned = self.all_large().iter().filter_map(|(key, plates)| {
            let pages = plates.as_ref().ok()?.page_count();
            Some((Setting::Whole.file(&stem, key), json!(pages)))
        });
        Value::Object(planned.collect::<Map<_, _>>())
    }

    /// The plates on one large paper.
    pub(super) fn large_plates(&self, paper: &Paper) -> Result<PlateSet, Diagnostics> {
        let known = self.all_large().get(&paper.key).cloned();
        known.unwrap_or_else(|| self.large_plan(paper))
    }

    /// The plan on the whole sheet; on a roll, cut off where the pieces end.
    fn large_plan(&self, paper: &Paper) -> Result<PlateSet, Diagnostics> {
        let plan = |paper: &Paper| {
            let job = plate_job(&self.computed.design, paper);
            plates::plan(&self.computed.sizes, &job)
        };
        let whole = plan(paper)?;
        if paper.kind != PaperKind::Roll {
            return Ok(whole);
        }
        let pages = whole.page_count();
        let cut = |length: f64| plan(&paper.cut_to(length)).ok();
        let as_few = |set: &PlateSet| set.page_count() <= pages;
        if pages == 1 {
            let needed = (whole.length_needed() / CUT).ceil();
            let lengths = (0..TRIES).map(|more| (needed + more as f64) * CUT);
            let mut cuts = lengths
                .filter(|length| *length < paper.height)
                .filter_map(cut);
            return Ok(cuts.find(as_few).unwrap_or(whole));
        }
        // pieces that go on from page to page: the least length that needs no further page
        let (mut long, mut short) = (paper.height, 0.0);
        let mut best = whole;
        while long - short > CUT {
            let middle = ((long + short) / 2.0 / CUT).round() * CUT;
            match cut(middle).filter(as_few) {
                Some(set) => (best, long) = (set, middle),
                None => short = middle,
            }
            if middle <= SHORTEST {
                break;
            }
        }
        Ok(best)
    }

    /// Sets the plates of a large sheet.
    pub(super) fn set_large(
        &self,
        plates: &PlateSet,
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<SetBooklet> {
        let (parts, files) = self.parts(plates);
        // the sheet has none of the booklet's text
        let prose = Prose::default();
        let request = self.request(&prose, &plates.paper, (&parts, &files), stamp);
        let set = booklet::large::typeset_large(&request, diagnostics)?;
        self.set_booklet(&request, plates, set, diagnostics)
    }
}
