//! The further forms of the instructions that a design sells, one of each for A4 and US Letter:
//! stapled, for a print shop, in large print, sparing of ink. They have no plates; their text says in
//! which file those are.

use super::drawings::Lettered;
use super::finishing::{finished, head_of};
use super::press::{Booklet, Press};
use crate::booklet::impose::{self, StapledJob};
use crate::booklet::pdf::Finish;
use crate::booklet::{self, Setting, shop};
use crate::design::{Form, Paper};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::folder::Outputs;
use crate::language::Words;
use crate::proof::{self, IntendedBook, IntendedStapled, IntendedText, Proof};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// Thickness of the buyer's paper, mm: 80 g/m² (common practice).
const PAPER_THICKNESS: f64 = 0.1;

/// How much of its thickness a sheet pushes the one inside it outwards (1.2 to 1.4, common practice).
const CREEP_PUSH: f64 = 1.3;

/// Large print is set in type of this size or more, points (common practice: 16 to 18).
const LARGE_PRINT: f64 = 18.0;

/// A form as it was set, page by page.
struct SetPages<'a> {
    pdf: &'a [u8],
    pages: usize,
    /// The head of the design, for what is said of it as a whole.
    place: Place,
    words: &'a Words,
}

/// The instructions in one form, ready to be written.
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
    /// Whether it says on each page that it is not proofed.
    pub(super) is_stamped: bool,
    /// Its Typst sources, if asked for, and their name.
    pub(super) sources: (String, BTreeMap<String, Vec<u8>>),
}

impl FormFile {
    /// The proof of its pages; of a stapled booklet against the pages it was laid out from.
    pub(super) fn proof(&self, book: Option<&IntendedBook>) -> Proof {
        let setting = Setting::from(self.form);
        let half = setting.half_page(&self.paper);
        if let (Form::Stapled, Some(pages), Some(half)) = (self.form, &self.set, &half) {
            let intended = IntendedStapled {
                trimmed: [2.0 * half.width, half.height],
                creep: PAPER_THICKNESS * CREEP_PUSH,
                book: book.cloned(),
            };
            return proof::prove_stapled(&self.pdf, pages, &self.file, &intended);
        }
        let page = half.map_or([self.paper.width, self.paper.height], |half| {
            [half.width, half.height]
        });
        let press = self.form == Form::PrintShop;
        let intended = IntendedText {
            page,
            smallest_points: (self.form == Form::LargePrint).then_some(LARGE_PRINT),
            black_only: press,
            bleed: press.then_some(shop::BLEED),
            thinnest_points: press.then_some(shop::THINNEST),
            book: book.cloned(),
        };
        proof::prove_text(&self.pdf, &self.file, &intended)
    }
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
        match passed || forms.iter().all(|form| form.is_stamped) {
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
                if self.options.stop.is_ordered() {
                    return None;
                }
                let (mut parts, mut files) = (parts.clone(), files.clone());
                if form == Form::LargePrint {
                    files.extend(self.cloth.large.files.clone());
                    parts.insert("layouts".into(), json!(self.cloth.large.told));
                }
                if let Some(lettered) = self.drawings.lettered(form) {
                    enlarge(lettered, &mut parts, &mut files);
                }
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
        told: (&Map<String, Value>, &BTreeMap<String, Vec<u8>>),
        stamp: bool,
        diagnostics: &mut Diagnostics,
    ) -> Option<FormFile> {
        let setting = Setting::from(form);
        let design = &self.computed.design;
        let request = booklet::Request {
            setting,
            ..self.request(&self.prose, paper, told, stamp)
        };
        let set = booklet::typeset(&request, diagnostics)?;
        let plain = finished(&set.pdf, &Finish::default(), design, diagnostics)?;
        let pages = SetPages {
            words: &self.computed.design.words,
            pdf: &plain,
            pages: set.pages,
            place: head_of(design),
        };
        let laid_out = laid_out(form, paper, &pages, diagnostics)?;
        let (pdf, set_pdf) = match laid_out {
            Some(pdf) => (pdf, Some(plain)),
            None => (plain, None),
        };
        let words = form.words().replace(' ', "-");
        let name = format!("{words}-{}", self.paper_name(paper));
        let sources = match self.options.typst_sources {
            true => booklet::source_files(&request),
            false => BTreeMap::new(),
        };
        Some(FormFile {
            form,
            paper: paper.clone(),
            file: setting.file(&design.file_stem(), &paper.key),
            pdf,
            set: set_pdf,
            is_stamped: stamp,
            sources: (name, sources),
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

/// The pages of `set` as the form wants them printed: two-up with fold and trim marks for stapling, with
/// bleed and crop marks for a print shop.
/// `Some(None)` where they stay as they are; `None` if it cannot be done, which is then said.
fn laid_out(
    form: Form,
    paper: &Paper,
    set: &SetPages<'_>,
    diagnostics: &mut Diagnostics,
) -> Option<Option<Vec<u8>>> {
    let laid_out = match form {
        Form::LargePrint | Form::InkSaving => return Some(None),
        Form::PrintShop => shop::for_print_shop(set.pdf),
        Form::Stapled => {
            thickness_is_right(paper, set, diagnostics).then_some(())?;
            let job = StapledJob {
                sheet: [paper.height, paper.width],
                thickness: PAPER_THICKNESS,
                push: CREEP_PUSH,
            };
            impose::stapled(set.pdf, &job, set.words).map(|stapled| stapled.pdf)
        }
    };
    match laid_out {
        Ok(pdf) => Some(Some(pdf)),
        Err(message) => {
            let words = form.words();
            let message = format!("The pages could not be laid out ({words}): {message}.");
            let remedy = "This is a fault of pressfoot; please report it with the design.";
            let told = Diagnostic::error("internal-template", Some(&set.place), message);
            diagnostics.push(told.remedy(remedy));
            None
        }
    }
}

/// Whether the pages still fold; many are warned of.
fn thickness_is_right(paper: &Paper, set: &SetPages<'_>, diagnostics: &mut Diagnostics) -> bool {
    let pages = set.pages;
    let told = |code, limit: usize| {
        let message = format!(
            "The stapled booklet for {} has {pages} pages; from {limit} on ",
            paper.name
        );
        (code, message)
    };
    let remedy = "Shorten the instructions, or sell them as single pages.";
    if pages > impose::TOO_THICK {
        let (code, message) = told("booklet-too-thick", impose::TOO_THICK + 1);
        let message = format!("{message}paper does not fold to a booklet any more.");
        diagnostics.push(Diagnostic::error(code, Some(&set.place), message).remedy(remedy));
        return false;
    }
    if pages > impose::THICK {
        let (code, message) = told("booklet-thick", impose::THICK + 1);
        let message =
            format!("{message}it bulges, and needs a long-arm stapler with long staples.");
        diagnostics.push(Diagnostic::warning(code, Some(&set.place), message).remedy(remedy));
    }
    true
}

/// Puts the drawings with larger letters in the place of the others.
fn enlarge(
    drawings: &Lettered,
    parts: &mut Map<String, Value>,
    files: &mut BTreeMap<String, Vec<u8>>,
) {
    files.extend(drawings.guide.clone());
    for (number, (svg, told)) in &drawings.flat {
        files.insert(format!("figures/{number}.svg"), svg.clone());
        if let (Some(told), Some(all)) = (told, parts.get_mut("figures")) {
            all[number.to_string()] = told.clone();
        }
    }
}
