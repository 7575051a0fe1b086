//! Sheets of text beside the booklet, one for each paper and language: set, proofed and written alike.

use super::finishing::finished;
use super::press::Press;
use crate::booklet::pdf::Finish;
use crate::booklet::text_sheet::{TextSheetKind, typeset_text_sheet};
use crate::booklet::{Prose, Typeset};
use crate::design::Paper;
use crate::diagnostic::Diagnostics;
use crate::folder::Outputs;
use crate::proof::{self, IntendedText, Proof};
use serde_json::{Map, Value};
use std::collections::BTreeMap;

/// A sheet set for one paper.
pub(super) struct TextSheet {
    pub(super) kind: TextSheetKind,
    pub(super) paper: Paper,
    pdf: Vec<u8>,
    file: String,
    parts: Map<String, Value>,
    files: BTreeMap<String, Vec<u8>>,
}

/// What a sheet is set from: its data and the drawings they name.
pub(super) type Told = (Map<String, Value>, BTreeMap<String, Vec<u8>>);

impl TextSheet {
    /// The proof of its pages.
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
    /// Sets a sheet from what it is told.
    pub(super) fn set_text_sheet(
        &self,
        kind: TextSheetKind,
        paper: &Paper,
        (parts, files): (&Map<String, Value>, &BTreeMap<String, Vec<u8>>),
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<Typeset> {
        // the sheet has none of the booklet's text, but its look
        let prose = Prose {
            look: self.prose.look.clone(),
            ..Prose::default()
        };
        let request = self.request(&prose, paper, (parts, files), stamp);
        typeset_text_sheet(kind, &request, diagnostics)
    }

    /// A sheet that was set, ready to be proofed and written. `None` if it cannot be finished; then
    /// `diagnostics` says why.
    pub(super) fn text_sheet(
        &self,
        kind: TextSheetKind,
        paper: &Paper,
        (parts, files): Told,
        set: &Typeset,
        diagnostics: &mut Diagnostics,
    ) -> Option<TextSheet> {
        let design = &self.computed.design;
        let stem = design.file_stem();
        Some(TextSheet {
            kind,
            pdf: finished(&set.pdf, &Finish::default(), design, diagnostics)?,
            file: format!("{stem}-{}-{}.pdf", kind.file_word(), paper.key),
            paper: paper.clone(),
            parts,
            files,
        })
    }

    /// Adds the sheets to what is written. Of a build that failed its proof, change sheets are stamped
    /// and named unproofed, and there is no proof sheet: nothing of it is worth a test print. `None` if
    /// one could not be set again.
    pub(super) fn add_text_sheets(
        &self,
        outputs: &mut Outputs,
        sheets: Vec<TextSheet>,
        passed: bool,
    ) -> Option<()> {
        for sheet in sheets {
            let unproofed = sheet.file.replace(".pdf", ".unproofed.pdf");
            if passed {
                outputs.add(&sheet.file, sheet.pdf);
                outputs.remove(unproofed);
            } else if sheet.kind == TextSheetKind::Changes {
                let mut said = Diagnostics::default();
                let told = (&sheet.parts, &sheet.files);
                let set = self.set_text_sheet(sheet.kind, &sheet.paper, told, true, &mut said)?;
                outputs.add(unproofed, set.pdf);
            }
        }
        Some(())
    }
}
