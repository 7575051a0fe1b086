//! The change sheets of a design: one page for each paper and language, for those who have the edition
//! before.

use super::editions::Standing;
use super::finishing::head_of;
use super::press::{Booklet, Press};
use super::text_sheets::TextSheet;
use crate::booklet::text_sheet::TextSheetKind;
use crate::design::Paper;
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::edition::content;
use crate::edition::record::PaperRecord;
use crate::edition::sheet::{self, ROOMS, Told};
use serde_json::Map;

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
    ) -> Option<Vec<TextSheet>> {
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
    ) -> Option<TextSheet> {
        let design = &self.computed.design;
        for room in ROOMS {
            let (data, files) = sheet::data(told, room);
            if sheet::lacks_drawings(told, room, &data) {
                continue;
            }
            let mut parts = Map::new();
            parts.insert("changes".into(), data);
            let stamp = diagnostics.has_errors();
            let kind = TextSheetKind::Changes;
            let set = self.set_text_sheet(kind, paper, (&parts, &files), stamp, diagnostics)?;
            if set.pages == 1 {
                return self.text_sheet(kind, paper, (parts, files), &set, diagnostics);
            }
        }
        let message = format!("the change sheet does not fit one page of {}", paper.name);
        let remedy = "shorten the note of the edition, or the words under ‘faults’";
        let place = head_of(design);
        let told = Diagnostic::error("change-sheet-too-long", Some(&place), message);
        diagnostics.push(told.remedy(remedy));
        None
    }
}
