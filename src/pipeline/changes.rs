//! The change sheets of a design: one page for each paper and language, for those who have the edition
//! before.

use super::editions::Standing;
use super::finishing::{finished, head_of};
use super::press::{Booklet, Press};
use crate::booklet::changes::typeset_changes;
use crate::booklet::pdf::Finish;
use crate::booklet::{Prose, Typeset};
use crate::design::Paper;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::edition::content;
use crate::edition::record::PaperRecord;
use crate::edition::sheet::{self, ROOMS, Told};
use crate::folder::Outputs;
use crate::proof::{self, IntendedText, Proof};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// A change sheet set for one paper.
pub(super) struct ChangeSheet {
    paper: Paper,
    pdf: Vec<u8>,
    file: String,
    parts: Map<String, Value>,
    files: BTreeMap<String, Vec<u8>>,
}

impl ChangeSheet {
    /// The proof of its page.
    pub(super) fn proof(&self) -> Proof {
        let intended = IntendedText {
            page: [self.paper.width, self.paper.height],
            smallest_points: None,
            black_only: false,
            bleed: None,
            thinnest_points: None,
            book: None,
        };
        proof::prove_text(&self.pdf, &self.file, &intended)
    }
}

impl Press<'_> {
    /// A paper's key; in a further language after its tag.
    pub(super) fn paper_name(&self, paper: &Paper) -> String {
        let design = &self.computed.design;
        match design.original {
            Some(_) => format!("{}-{}", design.language, paper.key),
            None => paper.key.clone(),
        }
    }

    /// The sheets for all `pages`, of a design with an earlier edition; `booklets` are the files with
    /// plates in this language. `None` if one could not be set: then `diagnostics` says why.
    pub(super) fn change_sheets(
        &self,
        pages: &[Paper],
        booklets: &[&Booklet],
        standing: &Standing,
        diagnostics: &mut Diagnostics,
    ) -> Option<Vec<ChangeSheet>> {
        let mut sheets = Vec::new();
        let Some((have, comparison)) = standing.told() else {
            return Some(sheets);
        };
        let papers: Vec<PaperRecord> = booklets
            .iter()
            .map(|b| content::paper(&self.paper_name(&b.paper), b.set.pages, &b.plates))
            .collect();
        let design = &self.computed.design;
        let note = standing.note(&design.language, &design.own().language);
        let told = Told {
            design,
            have: have.edition,
            old: &have.content,
            new: &standing.now,
            comparison,
            note: note.as_deref(),
            papers: &papers,
        };
        for paper in pages {
            sheets.push(self.change_sheet(paper, &told, diagnostics)?);
        }
        Some(sheets)
    }

    /// The page for one paper: with as much as fits it.
    fn change_sheet(
        &self,
        paper: &Paper,
        told: &Told<'_>,
        diagnostics: &mut Diagnostics,
    ) -> Option<ChangeSheet> {
        let design = &self.computed.design;
        for room in ROOMS {
            let (data, files) = sheet::data(told, room);
            let mut parts = Map::new();
            parts.insert("changes".into(), data);
            let stamp = diagnostics.has_errors();
            let set = self.set_changes(paper, (&parts, &files), stamp, diagnostics)?;
            if set.pages == 1 {
                return Some(ChangeSheet {
                    pdf: finished(&set.pdf, &Finish::default(), design, diagnostics)?,
                    file: format!("{}-changes-{}.pdf", design.file_stem(), paper.key),
                    paper: paper.clone(),
                    parts,
                    files,
                });
            }
        }
        let message = format!("the change sheet does not fit one page of {}", paper.name);
        let remedy = "shorten the note of the edition, or the words under ‘faults’";
        let place = head_of(design);
        let told = Diagnostic::error("change-sheet-too-long", Some(&place), message);
        diagnostics.push(told.remedy(remedy));
        None
    }

    fn set_changes(
        &self,
        paper: &Paper,
        told: (&Map<String, Value>, &BTreeMap<String, Vec<u8>>),
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<Typeset> {
        // the sheet has none of the booklet's text, but its look
        let prose = Prose {
            look: self.prose.look.clone(),
            ..Prose::default()
        };
        typeset_changes(&self.request(&prose, paper, told, stamp), diagnostics)
    }

    /// Adds the sheets to what is written; those of a build that failed its proof are stamped and
    /// named unproofed. `None` if one could not be set again.
    pub(super) fn add_change_sheets(
        &self,
        outputs: &mut Outputs,
        sheets: Vec<ChangeSheet>,
        passed: bool,
    ) -> Option<()> {
        for sheet in sheets {
            let unproofed = sheet.file.replace(".pdf", ".unproofed.pdf");
            if passed {
                outputs.add(&sheet.file, sheet.pdf);
                outputs.remove(unproofed);
            } else {
                let mut said = Diagnostics::default();
                let told = (&sheet.parts, &sheet.files);
                let set = self.set_changes(&sheet.paper, told, true, &mut said)?;
                outputs.add(unproofed, set.pdf);
            }
        }
        Some(())
    }
}
