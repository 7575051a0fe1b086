//! Typesetting and proofing the booklets of one computed design, one for each paper.

use super::drawings::{self, Drawings};
use super::finishing::{finish_of, finished};
use super::handover::{cloth_names, plate_job};
use super::layouts::{self, ClothData};
use super::{Computed, Options, Step};
use crate::booklet::{self, OwnTemplates, Prose, SizeValues};
use crate::design::{Form, Paper};
use crate::diagnostic::Diagnostics;
use crate::edition::PagesFact;
use crate::figure;
use crate::plates::{self, NestedLook, PlateSet};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// A booklet set for one paper.
pub(super) struct Booklet {
    pub(super) paper: Paper,
    pub(super) plates: PlateSet,
    pub(super) set: SetBooklet,
    /// Whether it says on each page that it is not proofed: something was wrong before it was set.
    pub(super) is_stamped: bool,
    /// The file name under which it is sold.
    pub(super) file: String,
}

impl Booklet {
    /// What `numbers.json` tells of its pages.
    pub(super) fn pages_fact(&self) -> PagesFact {
        let [sheets_across, sheets_down] = self.plates.most_sheets();
        let (pages, plates) = (self.set.pages, self.plates.page_count());
        let before = pages.saturating_sub(plates);
        let numbered = |sheets: &[usize]| sheets.iter().map(|i| before + i + 1).collect();
        let plan = self.plates.plan().iter();
        let paper = &self.plates.paper;
        PagesFact {
            sheet: paper.is_large().then_some([paper.width, paper.height]),
            pages,
            plates,
            sheets_across,
            sheets_down,
            sizes: plan
                .map(|p| (p.size.clone(), numbered(&p.sheets)))
                .collect(),
        }
    }
}

/// A finished PDF with the sources it was set from, if they were asked for.
pub(super) struct SetBooklet {
    pub(super) pdf: Vec<u8>,
    pub(super) pages: usize,
    /// The pages on which a step begins, from 1.
    pub(super) step_pages: Vec<usize>,
    pub(super) sources: BTreeMap<String, Vec<u8>>,
}

/// The plates by the key of their paper, or why they cannot be planned.
pub(super) type LargePlates = BTreeMap<String, Result<PlateSet, Diagnostics>>;

/// What typesetting needs for all papers of one design.
pub(super) struct Press<'a> {
    pub(super) computed: &'a Computed,
    pub(super) options: &'a Options,
    pub(super) values: Vec<SizeValues>,
    pub(super) prose: Prose,
    pub(super) templates: OwnTemplates,
    pub(super) drawings: Drawings<'a>,
    /// Amounts of cloth, and the layouts.
    pub(super) cloth: ClothData,
    /// The plates on every large paper of the design, once they are asked for.
    pub(super) large: OnceLock<LargePlates>,
}

impl<'a> Press<'a> {
    /// A press for all papers, with the drawings that no paper changes: also those that some `forms`
    /// have with larger letters.
    pub(super) fn new(
        (computed, options): (&'a Computed, &'a Options),
        (values, prose): (Vec<SizeValues>, Prose),
        templates: OwnTemplates,
        forms: &[Form],
        diagnostics: &mut Diagnostics,
    ) -> Self {
        let (drawings, cloth) = rayon::join(
            || drawings::drawings(computed, &prose, forms, diagnostics),
            || layouts::cloth_data(computed, forms.contains(&Form::LargePrint)),
        );
        Self {
            drawings,
            cloth,
            computed,
            options,
            values,
            prose,
            templates,
            large: OnceLock::new(),
        }
    }
}

impl Press<'_> {
    /// Plans, draws and sets the booklet for `paper`. The plan of `last`, the booklet before, serves
    /// again if its paper has the same live area.
    pub(super) fn booklet(
        &self,
        paper: Paper,
        last: Option<&Booklet>,
        step: Step,
        diagnostics: &mut Diagnostics,
    ) -> Option<Booklet> {
        step("plates");
        let design = &self.computed.design;
        let plates = match last.and_then(|last| last.plates.on(&paper)) {
            Some(plates) => plates,
            None => match plates::plan(&self.computed.sizes, &plate_job(design, &paper)) {
                Ok(plates) => {
                    diagnostics.append(plates.notes.clone());
                    plates
                }
                Err(said) => {
                    diagnostics.append(said);
                    return None;
                }
            },
        };
        step("figures");
        let (parts, files) = self.parts(&plates);
        step("typeset");
        let stamp = diagnostics.has_errors();
        let told = (&parts, &files);
        let set = self.typeset(&paper, &plates, told, stamp, diagnostics)?;
        let file = format!("{}-{}.pdf", design.file_stem(), paper.key);
        Some(Booklet {
            paper,
            plates,
            set,
            is_stamped: stamp,
            file,
        })
    }

    /// What all files of the design are set from: the whole booklet, unless the setting is changed.
    pub(super) fn request<'r>(
        &'r self,
        prose: &'r Prose,
        paper: &'r Paper,
        (parts, files): (&'r Map<String, Value>, &'r BTreeMap<String, Vec<u8>>),
        stamp: bool,
    ) -> booklet::Request<'r> {
        booklet::Request {
            design: &self.computed.design,
            prose,
            paper,
            setting: booklet::Setting::Whole,
            sizes: &self.values,
            parts,
            files,
            later: Some(&self.drawings),
            templates: &self.templates,
            moment: self.options.moment,
            stamp: stamp.then_some(self.computed.design.words.get("booklet.not proofed")),
        }
    }

    fn typeset(
        &self,
        paper: &Paper,
        plates: &PlateSet,
        (parts, files): (&Map<String, Value>, &BTreeMap<String, Vec<u8>>),
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<SetBooklet> {
        let request = self.request(&self.prose, paper, (parts, files), stamp);
        let set = booklet::typeset(&request, diagnostics)?;
        self.set_booklet(&request, plates, set, diagnostics)
    }

    /// What was set from `request` with its PDF finished, and its sources if they are asked for.
    pub(super) fn set_booklet(
        &self,
        request: &booklet::Request<'_>,
        plates: &PlateSet,
        set: booklet::Typeset,
        diagnostics: &mut Diagnostics,
    ) -> Option<SetBooklet> {
        let sources = match self.options.typst_sources {
            true => booklet::source_files(request),
            false => BTreeMap::new(),
        };
        let design = &self.computed.design;
        let finish = finish_of(plates, &self.computed.sizes, set.pages, &design.words);
        Some(SetBooklet {
            pdf: finished(&set.pdf, &finish, design, diagnostics)?,
            pages: set.pages,
            step_pages: set.step_pages,
            sources,
        })
    }

    /// What the template is told besides the design itself, and the drawings it names.
    pub(super) fn parts(
        &self,
        plates: &PlateSet,
    ) -> (Map<String, Value>, BTreeMap<String, Vec<u8>>) {
        let computed = self.computed;
        let words = &computed.design.words;
        let relative =
            |(path, bytes): (String, Vec<u8>)| (path.trim_start_matches('/').into(), bytes);
        let mut files: BTreeMap<String, Vec<u8>> =
            plates.files().into_iter().map(relative).collect();
        let mut parts = self.text_parts();
        parts.insert("plates".into(), plates.data());
        parts.insert("plan".into(), plates.plan_data());
        parts.insert("layers".into(), json!(plates.layers()));
        parts.insert("large_sheets".into(), self.large_sheets());
        files.extend(self.cloth.files.clone());
        let mut key = figure::listing(&computed.sizes, &cloth_names(&computed.design), words);
        lines_on(plates, &mut key.data["lines"]);
        parts.insert("key".into(), key.data);
        files.extend(key.files);
        let (_, drawn) = &self.drawings.measuring;
        files.extend(drawn.clone());
        files.extend(self.drawings.files.clone());
        (parts, files)
    }

    /// What the template is told of the text, whatever the paper.
    pub(super) fn text_parts(&self) -> Map<String, Value> {
        let materials = &self.computed.materials;
        let mut parts = Map::new();
        for (name, value) in &self.cloth.parts {
            parts.insert((*name).into(), value.clone());
        }
        parts.insert("cut_list".into(), json!(materials.cut_list));
        parts.insert("trims".into(), json!(materials.trims));
        parts.insert("thread".into(), json!(materials.thread));
        parts.insert("needles".into(), json!(materials.needles));
        parts.insert("tools".into(), json!(materials.tools));
        parts.insert("substitutes".into(), json!(materials.substitutes));
        parts.insert("fitting".into(), self.drawings.measuring.0.clone());
        if let Some(cover) = &self.drawings.cover {
            parts.insert("cover".into(), cover.clone());
        }
        parts.insert("figures".into(), Value::Object(self.drawings.told.clone()));
        parts
    }

    /// The booklet once more, with a stamp across each page.
    pub(super) fn stamped(&self, booklet: &Booklet) -> Option<Vec<u8>> {
        let mut said = Diagnostics::default();
        if booklet.paper.is_large() {
            let set = self.set_large(&booklet.plates, true, &mut said)?;
            return Some(set.pdf);
        }
        let (parts, files) = self.parts(&booklet.plates);
        let told = (&parts, &files);
        self.typeset(&booklet.paper, &booklet.plates, told, true, &mut said)
            .map(|set| set.pdf)
    }
}

/// Tells the key to lines what hangs on the plates: the lines of sizes that are drawn over each other, each
/// as it is drawn, instead of those of pieces that stand alone; joints and leaders.
fn lines_on(plates: &PlateSet, lines: &mut Value) {
    let of_size = |look: &NestedLook| json!({"title": look.titles.join(", "), "dots": look.dots, "cut": look.cut, "seam": look.seam});
    let sizes: Vec<Value> = plates.looks().iter().map(of_size).collect();
    let single = sizes.is_empty() || plates.has_single();
    if !sizes.is_empty() {
        lines["sizes"] = json!(sizes);
    }
    lines["cut"] = json!(single);
    lines["seam"] = json!(single && lines["seam"] == json!(true));
    lines["joint"] = json!(plates.is_joined());
    lines["leader"] = json!(plates.has_leaders());
}
