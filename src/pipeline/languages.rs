//! The files of a design in each of its languages: the same pieces and amounts with other words. Own files
//! for each language, one proof for all.

use super::editions::Standing;
use super::fitting::FittingSheet;
use super::forms::{FormFile, add_forms};
use super::intended::intended;
use super::numbers::add_numbers;
use super::press::{Booklet, Press};
use super::reported;
use super::tables;
use super::text_sheets::TextSheet;
use super::{Published, Step};
use crate::design::Paper;
use crate::diagnostic::{Diagnostics, SourceText};
use crate::edition::record::PaperRecord;
use crate::edition::{self, PagesFact};
use crate::folder::Outputs;
use crate::proof::{self, About, IntendedBook, Report};
use crate::review::{self, Asked};
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// What a file is, its paper, and its proof.
type Job<'a> = (
    &'a str,
    &'a Paper,
    Box<dyn Fn() -> proof::Proof + Send + Sync + 'a>,
);

/// All files in one language, set and not yet proofed.
pub(super) struct Edition<'a> {
    press: &'a Press<'a>,
    booklets: Vec<Booklet>,
    sheets: Vec<Booklet>,
    fittings: Vec<FittingSheet>,
    forms: Vec<FormFile>,
    texts: Vec<TextSheet>,
}

impl<'a> Edition<'a> {
    /// Sets all files. `None` if one could not be set: then `diagnostics` says why.
    pub(super) fn set(
        press: &'a Press<'a>,
        (pages, large): (&[Paper], &[Paper]),
        standing: &Standing,
        step: Step,
        diagnostics: &mut Diagnostics,
    ) -> Option<Self> {
        let stop = &press.options.stop;
        let mut booklets: Vec<Booklet> = Vec::new();
        for paper in pages.iter().take_while(|_| !stop.is_ordered()) {
            let booklet = press.booklet(paper.clone(), booklets.last(), step, diagnostics)?;
            booklets.push(booklet);
        }
        if stop.is_ordered() {
            return None;
        }
        press.drawings.tell(diagnostics);
        let mut sheets = Vec::new();
        for paper in large.iter().take_while(|_| !stop.is_ordered()) {
            sheets.push(press.large_sheet(paper, diagnostics)?);
        }
        if stop.is_ordered() {
            return None;
        }
        step("typeset");
        let fittings = press.fitting_sheets(pages.iter(), diagnostics)?;
        let forms = press.forms(&booklets, diagnostics)?;
        if press.options.stop.is_ordered() {
            return None;
        }
        let all: Vec<&Booklet> = booklets.iter().chain(&sheets).collect();
        let mut texts = press.change_sheets(pages, &all, standing, diagnostics)?;
        texts.extend(press.proof_sheets(&booklets, &sheets, diagnostics)?);
        Some(Self {
            press,
            booklets,
            sheets,
            fittings,
            forms,
            texts,
        })
    }

    /// Proofs all files, on all processors; the results keep the order of the files.
    /// The letters of the booklets, page by page; `None` if the run is to leave off.
    fn prove(
        &self,
        sound: bool,
        report: &mut Report,
        findings: &mut Diagnostics,
    ) -> Option<Vec<Vec<String>>> {
        let computed = self.press.computed;
        let stop = &self.press.options.stop;
        let design = &computed.design;
        // words that a mistake of the design left out are told there
        let paper = self.booklets.first().map(|booklet| &booklet.paper);
        let books = paper.filter(|_| sound).map(|paper| self.press.books(paper));
        let [book, form_book] = match &books {
            Some([book, form]) => [Some(book), Some(form)],
            None => [None, None],
        };
        let mut jobs: Vec<Job<'_>> = Vec::new();
        for booklet in self.booklets.iter().chain(&self.sheets) {
            let what = if booklet.paper.is_large() {
                "plates"
            } else {
                "booklet"
            };
            jobs.push((
                what,
                &booklet.paper,
                Box::new(move || {
                    let mut intended = intended(&computed.sizes, &booklet.plates, design);
                    let book = book.filter(|_| !booklet.paper.is_large());
                    intended.words.book =
                        book.map(|book| tables::with_pages(book, booklet, &design.words));
                    proof::prove(&booklet.set.pdf, &booklet.file, &intended)
                }),
            ));
        }
        for sheet in &self.fittings {
            let prove = Box::new(move || sheet.proof(design));
            jobs.push(("fitting sheet", sheet.paper(), prove));
        }
        for form in &self.forms {
            jobs.push((
                form.form.words(),
                &form.paper,
                Box::new(move || self.form_proof(form, form_book)),
            ));
        }
        for sheet in &self.texts {
            let prove = Box::new(move || sheet.proof());
            jobs.push((sheet.kind.words(), &sheet.paper, prove));
        }
        let prove = |(_, _, prove): &Job<'_>| (!stop.is_ordered()).then(prove);
        let proofs: Option<Vec<proof::Proof>> = jobs.par_iter().map(prove).collect();
        let proofs = proofs?;
        let of_booklets = proofs.iter().take(self.booklets.len());
        let texts = of_booklets.map(|proof| proof.texts.clone()).collect();
        for ((what, paper, _), proof) in jobs.iter().zip(proofs) {
            findings.append(proof.diagnostics());
            let about = About {
                what: (*what).to_string(),
                paper: paper.name.clone(),
                language: design.language.clone(),
            };
            report.add_proof(proof, about);
        }
        Some(texts)
    }

    /// The proof of a form; its text sends to the pages of the booklet for its paper.
    fn form_proof(&self, form: &FormFile, book: Option<&IntendedBook>) -> proof::Proof {
        let words = &self.press.computed.design.words;
        let mut booklets = self.booklets.iter();
        let booklet = booklets.find(|booklet| booklet.paper == form.paper);
        let book = book.zip(booklet);
        let book = book.map(|(book, from)| tables::with_pages(book, from, words));
        let book = book.map(|book| self.press.in_form(form.form, book));
        form.proof(book.as_ref())
    }

    /// Looks for what the booklets, whose letters are `texts`, must print. Where something was wrong
    /// before, that is told alone.
    fn review(
        &self,
        texts: &[Vec<String>],
        report: &mut Report,
        before: &Diagnostics,
        findings: &mut Diagnostics,
    ) {
        if before.has_errors() || findings.has_errors() {
            return;
        }
        let mut said = Diagnostics::default();
        for (booklet, texts) in self.booklets.iter().zip(texts) {
            let pages = booklet.set.pages;
            let pages = pages.saturating_sub(booklet.plates.page_count());
            let texts = &texts[..pages.min(texts.len())];
            review::printed(&self.press.computed.design, texts, &booklet.file, &mut said);
        }
        let most =
            |count: fn(&Booklet) -> usize| self.booklets.iter().map(count).max().unwrap_or(0);
        let counts = (most(|b| b.set.pages), most(|b| b.plates.page_count()));
        let computed = &self.press.computed;
        review::numbered(&computed.design, &self.press.prose, counts, &mut said);
        report.add_diagnostics(&said);
        findings.append(said);
    }

    /// Adds the files to what is written; what failed is stamped and named unproofed. `None` if it could
    /// not be set again.
    fn write(self, passed: bool, written: &mut Written, step: Step) -> Option<()> {
        let all = self.booklets.iter().chain(&self.sheets);
        let named: Vec<String> = all
            .map(|booklet| self.press.paper_name(&booklet.paper))
            .collect();
        // of some papers only, a listing would tell the shop too little
        if passed && self.press.options.papers.is_empty() {
            let booklets = (&self.booklets[..], &self.sheets[..]);
            for (name, bytes) in self.press.offered(booklets, &self.fittings, &self.forms) {
                written.outputs.add(name, bytes);
            }
        }
        let forms = self
            .press
            .judged_forms(self.forms, &self.booklets, passed)?;
        let booklets = self.booklets.into_iter().chain(self.sheets);
        for (name, booklet) in named.into_iter().zip(booklets) {
            let unproofed = booklet.file.replace(".pdf", ".unproofed.pdf");
            written.papers.push(edition::content::paper(
                &name,
                booklet.set.pages,
                &booklet.plates,
            ));
            written.pages.insert(name.clone(), booklet.pages_fact());
            written.sources.insert(name, booklet.set.sources.clone());
            if passed {
                written.outputs.add(&booklet.file, booklet.set.pdf);
                written.outputs.remove(unproofed);
            } else if booklet.is_stamped {
                written.outputs.add(unproofed, booklet.set.pdf);
            } else {
                step("typeset");
                let stamped = self.press.stamped(&booklet)?;
                written.outputs.add(unproofed, stamped);
            }
        }
        let sources = forms.iter().map(|form| form.sources.clone());
        written.sources.extend(sources);
        add_forms(&mut written.outputs, forms, passed);
        self.press
            .add_text_sheets(&mut written.outputs, self.texts, passed)?;
        self.press
            .add_fitting_sheets(&mut written.outputs, self.fittings, passed)
    }
}

/// Has the design read through in all its languages. One with mistakes is not ready for that: what only
/// follows from them would be told too.
pub(super) fn review_all(
    presses: &[Press<'_>],
    listing: Option<&Arc<SourceText>>,
    diagnostics: &mut Diagnostics,
) {
    if diagnostics.has_errors() {
        return;
    }
    let asked = presses.iter().map(|press| Asked {
        design: &press.computed.design,
        sizes: &press.computed.sizes,
        materials: &press.computed.materials,
        prose: &press.prose,
    });
    review::review(&asked.collect::<Vec<_>>(), listing, diagnostics);
}

/// What is written in the end.
struct Written {
    outputs: Outputs,
    pages: BTreeMap<String, PagesFact>,
    papers: Vec<PaperRecord>,
    sources: BTreeMap<String, BTreeMap<String, Vec<u8>>>,
}

/// Proofs the files of all languages and collects them. Where one fails, all are stamped and named
/// unproofed.
pub(super) fn finish(
    editions: Vec<Edition<'_>>,
    mut standing: Standing,
    directory: &Path,
    step: Step,
    diagnostics: &mut Diagnostics,
) -> Option<Published> {
    step("proof");
    let own = editions.first()?.press.computed;
    let options = editions.first()?.press.options;
    let values = editions.first()?.press.values.clone();
    let design = &own.design;
    let mut report = Report::new(&design.key, &design.title, &design.edition_number());
    report.add_diagnostics(diagnostics);
    reported::tell(own, options, &mut report);
    let sound = !diagnostics.has_errors();
    let mut findings = Diagnostics::default();
    let proved = editions.iter();
    let proved = proved.map(|edition| edition.prove(sound, &mut report, &mut findings));
    let texts: Option<Vec<Vec<Vec<String>>>> = proved.collect();
    let texts = texts?;
    for (edition, texts) in editions.iter().zip(&texts) {
        edition.review(texts, &mut report, diagnostics, &mut findings);
    }
    let accepted = &design.look_up.accepted;
    review::accepted::apply(accepted, &mut report, (diagnostics, &mut findings));
    reported::picture(own, &mut report);
    let passed = report.passed();
    let mut written = Written {
        outputs: Outputs::new(directory),
        pages: BTreeMap::new(),
        papers: Vec::new(),
        sources: BTreeMap::new(),
    };
    for edition in editions {
        edition.write(passed, &mut written, step)?;
    }
    let Written {
        mut outputs,
        pages,
        papers,
        sources,
    } = written;
    standing.now.pages = papers;
    if passed {
        add_numbers(own, &values, &mut outputs, &pages, options.moment);
        if options.papers.is_empty() {
            outputs.replace_older();
        }
    }
    outputs.add("proof.json", report.to_json());
    outputs.add("proof.html", report.to_html());
    Some(Published {
        outputs,
        report,
        sources,
        findings,
        passed,
        standing,
    })
}
