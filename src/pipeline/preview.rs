//! One booklet to look at while it is written: one paper, one language, nothing proofed and nothing
//! written.

use super::drawings;
use super::editions;
use super::finishing::labels;
use super::handover::{own_templates, papers, plate_job};
use super::press::Press;
use super::{Computed, Options, Step};
use crate::booklet::Prose;
use crate::booklet::pages::{PageSet, set_pages};
use crate::design::{Design, Paper};
use crate::diagnostic::Diagnostics;
use crate::edition::Content;
use crate::folder::DesignFolder;
use crate::piece::SizedPieces;
use crate::plates::{self, PlateSet};
use serde_json::Map;

/// Which booklet is looked at; what the design has not is taken as its first.
#[derive(Debug, Clone, Copy, Default)]
pub struct Looked<'a> {
    /// Key of the paper.
    pub paper: Option<&'a str>,
    /// The language's tag.
    pub language: Option<&'a str>,
    /// Whether it failed its proof, and is stamped although nothing was said before.
    pub unproofed: bool,
}

/// A booklet to look at.
#[derive(Debug, Clone)]
pub struct Preview {
    /// The design in the language that is looked at.
    pub design: Design,
    /// Its pieces, with their titles in that language.
    pub sizes: Vec<SizedPieces>,
    /// The paper.
    pub paper: Paper,
    /// The pages.
    pub pages: PageSet,
    /// What each page is called: its number, or `Plate 2a`.
    pub labels: Vec<String>,
    /// What stands on the true-scale pages.
    pub plates: PlateSet,
    /// All that is printed, to be compared with another state.
    pub content: Content,
}

/// Sets the booklet that is looked at. `None` if it cannot be set, and then `diagnostics` says why; or if
/// the run was to leave off.
pub fn preview(
    folder: &DesignFolder,
    computed: &mut Computed,
    options: &Options,
    looked: Looked<'_>,
    step: Step,
    diagnostics: &mut Diagnostics,
) -> Option<Preview> {
    step("text");
    let (standing, further, texts) = editions::placed(folder, computed, options, diagnostics);
    if !computed.complete || options.stop.is_ordered() {
        return None;
    }
    let papers = papers(&computed.design, options);
    let asked = |paper: &&Paper| looked.paper == Some(paper.key.as_str());
    let paper = papers.iter().find(asked).or(papers.first())?;
    let all = std::iter::once(&*computed).chain(&further).zip(texts);
    let mut all: Vec<_> = all.collect();
    let at = all
        .iter()
        .position(|(computed, _)| Some(computed.design.language.as_str()) == looked.language);
    let (computed, text) = all.swap_remove(at.unwrap_or(0));
    let templates = own_templates(folder, diagnostics);
    step("drawings and plates");
    let job = plate_job(&computed.design, paper);
    let (press, planned) = rayon::join(
        || Press::new((computed, options), text, templates, &[], diagnostics),
        || (!paper.is_large()).then(|| plates::plan(&computed.sizes, &job)),
    );
    if options.stop.is_ordered() {
        return None;
    }
    let plates = match planned.unwrap_or_else(|| press.large_plates(paper)) {
        Ok(plates) => plates,
        Err(said) => {
            diagnostics.append(said);
            return None;
        }
    };
    diagnostics.append(plates.notes.clone());
    let pages = press.pages(&plates, looked.unproofed, step, diagnostics)?;
    let before = pages.count().saturating_sub(plates.page_count());
    Some(Preview {
        labels: labels(&plates, before, &computed.design.words),
        design: computed.design.clone(),
        sizes: computed.sizes.clone(),
        paper: paper.clone(),
        content: standing.now,
        pages,
        plates,
    })
}

impl Press<'_> {
    /// Sets the pages with these plates; `stamped` even if nothing was said. The shoes are drawn meanwhile.
    fn pages(
        &self,
        plates: &PlateSet,
        stamped: bool,
        step: Step,
        diagnostics: &mut Diagnostics,
    ) -> Option<PageSet> {
        step("figures");
        let (parts, files): (Map<_, _>, _) = self.parts(plates);
        if self.options.stop.is_ordered() {
            return None;
        }
        step("typeset");
        let stamp = stamped || diagnostics.has_errors();
        let is_large = plates.paper.is_large();
        // a large sheet has none of the booklet's text, and no shoe
        let none = Prose::default();
        let prose = if is_large { &none } else { &self.prose };
        let request = self.request(prose, &plates.paper, (&parts, &files), stamp);
        if is_large {
            return set_pages(&request, true, diagnostics);
        }
        let set = || set_pages(&request, false, diagnostics);
        let pages = drawings::beside(&[&self.drawings], set)?;
        self.drawings.tell(diagnostics);
        Some(pages)
    }
}
