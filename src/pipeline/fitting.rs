//! The fitting sheets of a design with feet, one for each paper: measuring guide, corrections, and
//! the pieces without allowance. Lengths in mm.

use super::finishing::{finish_of, finished};
use super::handover::plate_job;
use super::intended::intended;
use super::measuring::feet;
use super::press::Press;
use crate::booklet::{Prose, fitting};
use crate::design::{Design, Paper};
use crate::diagnostic::Diagnostics;
use crate::folder::Outputs;
use crate::foot::Foot;
use crate::piece::{Notch, Piece, SizedPieces};
use crate::plates::{self, PlateSet};
use crate::proof::{self, Proof};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// A fitting sheet set for one paper.
pub(super) struct FittingSheet {
    paper: Paper,
    plates: PlateSet,
    pdf: Vec<u8>,
    file: String,
    sizes: Vec<SizedPieces>,
}

impl FittingSheet {
    /// What it is printed on.
    pub(super) fn paper(&self) -> &Paper {
        &self.paper
    }

    /// The proof of its pages: every piece on its seam line, at true scale.
    pub(super) fn proof(&self, design: &Design) -> Proof {
        let intended = intended(&self.sizes, &self.plates, design);
        proof::prove(&self.pdf, &self.file, &intended)
    }
}

impl Press<'_> {
    /// The sheets for all `papers`; none for a design without a foot. `None` if one could not be
    /// set: then `diagnostics` says why.
    pub(super) fn fitting_sheets<'a>(
        &self,
        papers: impl Iterator<Item = &'a Paper>,
        diagnostics: &mut Diagnostics,
    ) -> Option<Vec<FittingSheet>> {
        let sizes = self.fitting_sizes();
        let mut sheets: Vec<FittingSheet> = Vec::new();
        if sizes.is_empty() {
            return Some(sheets);
        }
        let stamp = diagnostics.has_errors();
        let told = &self.drawings.measuring;
        for paper in papers {
            let same = sheets.last().and_then(|last| last.plates.on(paper));
            let plates = match same {
                Some(plates) => plates,
                None => self.fitting_plates(&sizes, paper, diagnostics)?,
            };
            let key = self.computed.design.file_stem();
            sheets.push(FittingSheet {
                pdf: self.set_fitting(paper, &plates, told, stamp, diagnostics)?,
                file: format!("{key}-fitting-{}.pdf", paper.key),
                paper: paper.clone(),
                plates,
                sizes: sizes.clone(),
            });
        }
        Some(sheets)
    }

    /// Adds the sheets to what is written; those of a build that failed its proof are stamped and
    /// named unproofed. `None` if one of them could not be set again.
    pub(super) fn add_fitting_sheets(
        &self,
        outputs: &mut Outputs,
        sheets: Vec<FittingSheet>,
        passed: bool,
    ) -> Option<()> {
        let told = &self.drawings.measuring;
        for sheet in sheets {
            let unproofed = sheet.file.replace(".pdf", ".unproofed.pdf");
            if passed {
                outputs.add(&sheet.file, sheet.pdf);
                outputs.remove(unproofed);
            } else {
                let mut said = Diagnostics::default();
                let pdf = self.set_fitting(&sheet.paper, &sheet.plates, told, true, &mut said)?;
                outputs.add(unproofed, pdf);
            }
        }
        Some(())
    }

    /// The pieces of sizes with a foot, cut along their seam lines.
    fn fitting_sizes(&self) -> Vec<SizedPieces> {
        let note = self.computed.design.words.get("fitting.paper");
        let without = |(size, _): (&SizedPieces, &Foot)| SizedPieces {
            pieces: size
                .pieces
                .iter()
                .map(|p| without_allowance(p, note))
                .collect(),
            ..size.clone()
        };
        feet(self.computed).map(without).collect()
    }

    /// A label without room is no matter here, so that notes are left out.
    fn fitting_plates(
        &self,
        sizes: &[SizedPieces],
        paper: &Paper,
        diagnostics: &mut Diagnostics,
    ) -> Option<PlateSet> {
        let mut job = plate_job(&self.computed.design, paper);
        job.title = job.words.say("fitting.title", &[("design", &job.title)]);
        // each size is cut out by itself
        job.nested.clear();
        match plates::plan(sizes, &job) {
            Ok(plates) => Some(plates),
            Err(said) => {
                diagnostics.append(said);
                None
            }
        }
    }

    fn set_fitting(
        &self,
        paper: &Paper,
        plates: &PlateSet,
        (told, drawings): &(Value, BTreeMap<String, Vec<u8>>),
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<Vec<u8>> {
        let mut parts = Map::new();
        parts.insert("fitting".into(), told.clone());
        parts.insert("plates".into(), plates.data());
        parts.insert("plan".into(), plates.plan_data());
        let mut files = plates.files();
        files.extend(drawings.clone());
        // the sheet has none of the booklet's text
        let prose = Prose::default();
        let request = self.request(&prose, paper, (&parts, &files), stamp);
        let set = fitting::typeset_fitting(&request, diagnostics)?;
        let finish = finish_of(
            plates,
            &self.fitting_sizes(),
            set.pages,
            &self.computed.design.words,
        );
        finished(&set.pdf, &finish, request.design, diagnostics)
    }
}

/// The piece on paper: its seam line is cut, and nothing is said of cloth; `note` stands in its label.
fn without_allowance(piece: &Piece, note: &str) -> Piece {
    Piece {
        cut_line: piece.outline.path(),
        allowances: vec![0.0; piece.allowances.len()],
        notches: bare(&piece.notches),
        grain: None,
        cuts: Vec::new(),
        note: Some(note.to_string()),
        ..piece.clone()
    }
}

/// The notches on an edge without allowance.
fn bare(notches: &[Notch]) -> Vec<Notch> {
    let bare = |notch: &Notch| Notch {
        allowance: 0.0,
        ..notch.clone()
    };
    notches.iter().map(bare).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plates::fixtures::board;

    #[test]
    fn a_piece_for_fitting_is_cut_along_its_seam_line() {
        let piece = board(1, "sole", 80.0, 40.0);
        let paper = without_allowance(&piece, "for fitting");
        assert_eq!(paper.cut_line, piece.outline.path());
        assert!(paper.allowances.iter().all(|allowance| *allowance == 0.0));
        assert_eq!(paper.allowances.len(), piece.outline.edges().len());
        assert!(paper.note.is_some() && paper.cuts.is_empty());
    }
}
