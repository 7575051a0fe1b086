//! The further forms of the instructions that a design sells, one of each for A4 and US Letter:
//! stapled, for a print shop, in large print, sparing of ink. They have no plates; their text says in
//! which file those are.

use super::finishing::finished;
use super::handover::own_templates;
use super::press::{Booklet, Press};
use crate::booklet::pdf::Finish;
use crate::booklet::{self, Setting};
use crate::design::{Form, Paper};
use crate::diagnostic::Diagnostics;
use crate::folder::Outputs;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// The instructions in one form, ready to be written.
#[allow(
    dead_code,
    reason = "the proof of the forms reads what each is; it is joined where they are set"
)]
pub(super) struct FormFile {
    /// What it is.
    pub(super) form: Form,
    /// The sheets it is for.
    pub(super) paper: Paper,
    /// The name under which it is sold.
    pub(super) file: String,
    /// The finished file.
    pub(super) pdf: Vec<u8>,
    /// The file as it was set, page by page, where `pdf` is laid out otherwise.
    pub(super) set: Option<Vec<u8>>,
    /// How many pages were set; of half pages always a multiple of four.
    pub(super) pages: usize,
}

impl Press<'_> {
    /// The forms asked for, or those the design sells, of all `booklets` whose paper has them. `None`
    /// if one could not be set: then `diagnostics` says why.
    pub(super) fn forms(
        &self,
        booklets: &[Booklet],
        diagnostics: &mut Diagnostics,
    ) -> Option<Vec<FormFile>> {
        let stamp = diagnostics.has_errors();
        self.set_forms(booklets, stamp, diagnostics)
    }

    /// The forms as they are written: of a build that failed its proof set again, stamped. `None` if
    /// one of them could not be set again.
    pub(super) fn judged_forms(
        &self,
        forms: Vec<FormFile>,
        booklets: &[Booklet],
        passed: bool,
    ) -> Option<Vec<FormFile>> {
        match passed {
            true => Some(forms),
            false => self.set_forms(booklets, true, &mut Diagnostics::default()),
        }
    }

    fn set_forms(
        &self,
        booklets: &[Booklet],
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<Vec<FormFile>> {
        let design = &self.computed.design;
        let forms = self.options.forms.as_ref().unwrap_or(&design.forms);
        let mut set = Vec::new();
        for booklet in booklets {
            let paper = &booklet.paper;
            if forms.is_empty() || !Setting::has_forms(&paper.key) {
                continue;
            }
            let (parts, files) = self.form_parts(booklet);
            for form in forms.iter().copied() {
                set.push(self.set_form(form, paper, (&parts, &files), stamp, diagnostics)?);
            }
        }
        Some(set)
    }

    /// What the template is told as for the booklet, and on which of its pages the plates begin.
    fn form_parts(&self, booklet: &Booklet) -> (Map<String, Value>, BTreeMap<String, Vec<u8>>) {
        let (mut parts, files) = self.parts(&booklet.plates);
        let text = booklet
            .set
            .pages
            .saturating_sub(booklet.plates.page_count());
        parts.insert("first_plate_page".into(), json!(text + 1));
        (parts, files)
    }

    fn set_form(
        &self,
        form: Form,
        paper: &Paper,
        (parts, files): (&Map<String, Value>, &BTreeMap<String, Vec<u8>>),
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<FormFile> {
        let setting = Setting::from(form);
        let design = &self.computed.design;
        let request = booklet::Request {
            design,
            prose: &self.prose,
            paper: &booklet::Paper {
                key: paper.key.clone(),
                name: paper.name.clone(),
                width: paper.width,
                height: paper.height,
            },
            setting,
            sizes: &self.values,
            parts,
            files,
            templates: &own_templates(self.folder),
            moment: self.options.moment,
            stamp: stamp.then_some("not proofed"),
        };
        let set = booklet::typeset(&request, diagnostics)?;
        let plain = finished(&set.pdf, &Finish::default(), design, diagnostics)?;
        let laid_out = laid_out(form, paper, &plain, diagnostics)?;
        let (pdf, set_pdf) = match laid_out {
            Some(pdf) => (pdf, Some(plain)),
            None => (plain, None),
        };
        Some(FormFile {
            form,
            paper: paper.clone(),
            file: setting.file(&design.key, &paper.key),
            pdf,
            set: set_pdf,
            pages: set.pages,
        })
    }
}

/// Adds the forms to what is written; those of a build that failed its proof are named unproofed.
pub(super) fn add_forms(outputs: &mut Outputs, forms: Vec<FormFile>, passed: bool) {
    for form in forms {
        let unproofed = form.file.replace(".pdf", ".unproofed.pdf");
        if passed {
            outputs.add(form.file, form.pdf);
            outputs.remove(unproofed);
        } else {
            outputs.add(unproofed, form.pdf);
        }
    }
}

/// CALL POINT: the pages of `set` as the form wants them printed: two-up with fold and trim marks for
/// stapling, with bleed and crop marks for a print shop. `Some(None)` where they stay as they are;
/// `None` if it cannot be done, which is then said.
fn laid_out(
    form: Form,
    _paper: &Paper,
    _set: &[u8],
    _diagnostics: &mut Diagnostics,
) -> Option<Option<Vec<u8>>> {
    match form {
        Form::Stapled | Form::PrintShop => Some(None),
        Form::LargePrint | Form::InkSaving => Some(None),
    }
}
