//! The one caller of all stages: from a design folder to proofed files, in memory.
//!
//! [`compute`] goes as far as finished pieces and materials; [`publish`] typesets and proofs. Both
//! say what they do through a `step` callback, so that the command line can show it.

mod changes;
mod drafting;
mod drawings;
mod editions;
mod finishing;
mod fitting;
mod forms;
mod handed;
mod handover;
mod intended;
mod languages;
mod large;
mod layouts;
mod made;
mod measuring;
mod memory;
mod numbers;
mod phrases;
mod placed;
mod press;
mod preview;
mod proof_sheet;
mod reported;
mod shop;
mod sides;
mod stop;
mod tables;
mod template_data;
mod text_sheets;
mod translated;
mod wording;

use crate::booklet::{self, Moment};
use crate::design::{self, Design, Form, Paper};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::draft::Draft;
use crate::folder::shelf::{FolderShelf, NearShelf, ReadShelf, Shelf};
use crate::folder::{DesignFolder, Outputs};
use crate::foot::Foot;
use crate::materials::{self, Materials, Means};
use crate::piece::SizedPieces;
use crate::proof::Report;
use crate::review;
use drafting::{Drafted, draft_all, say_what_is_missing};
use drawings::Drawings;
pub use editions::{Release, Standing, standing};
use handover::{own_templates, papers, size_values, tell_of_unread_chapters, text_files};
pub use intended::intended;
pub use made::{Made, Sold, made};
pub use memory::Memory;
use press::Press;
pub use preview::{Looked, Preview, preview};
pub use reported::refused;
use sides::Feet;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
pub use stop::Stop;

/// What a run is asked for.
#[derive(Debug, Clone, Default)]
pub struct Options {
    /// Papers instead of those the design sells.
    pub papers: Vec<Paper>,
    /// Forms of the instructions instead of those the design sells.
    pub forms: Option<Vec<Form>>,
    /// Only these sizes.
    pub sizes: Vec<String>,
    /// The moment to print and to write into files.
    pub moment: Option<Moment>,
    /// Draft without the fit corrections.
    pub without_corrections: bool,
    /// How many times the usual work is put into packing; 0 is the usual.
    pub effort: u32,
    /// Layouts to look at: one that is not kept is packed with less work, and none is kept.
    pub quick: bool,
    /// Folder in which layouts are kept from one run to the next.
    pub shelf: Option<PathBuf>,
    /// Give the Typst sources of each booklet too.
    pub typst_sources: bool,
    /// The edition under which it is released.
    pub release: Option<Release>,
    /// What an earlier run of the same design has left to be used again.
    pub memory: Option<Memory>,
    /// Bids the run leave off; then it ends without a result.
    pub stop: Stop,
}

/// A design with every size computed.
#[derive(Debug)]
pub struct Computed {
    /// The design, reduced to the sizes asked for.
    pub design: Design,
    /// The foot of each size that has one.
    pub feet: Vec<Option<Foot>>,
    /// The draft of each size.
    pub drafts: Vec<Draft>,
    /// The finished pieces of each size.
    pub sizes: Vec<SizedPieces>,
    /// What to buy and cut.
    pub materials: Materials,
    /// Whether every piece of every size could be made.
    pub complete: bool,
    /// The layouts that were found.
    kept: Arc<NearShelf>,
}

impl Computed {
    /// Whether a layout was packed anew or had to stand in for another, not taken from the shelf.
    pub fn has_new_layouts(&self) -> bool {
        self.kept.has_new()
    }
}

/// What came of a design.
#[derive(Debug)]
pub struct Published {
    /// The files to write, and those of an older build to remove.
    pub outputs: Outputs,
    /// The report on the PDFs and on all that was said before.
    pub report: Report,
    /// Sources of the booklets by paper, of their forms by form and paper, if asked for.
    pub sources: BTreeMap<String, BTreeMap<String, Vec<u8>>>,
    /// What the proof of the PDFs found wrong.
    pub findings: Diagnostics,
    /// Whether the booklets may be sold.
    pub passed: bool,
    /// Where the design stands among its editions.
    pub standing: Standing,
}

/// Called as each stage begins, with its name.
pub type Step<'a> = &'a mut dyn FnMut(&str);

/// Reads a design and computes its pieces. `None` if it cannot be understood at all.
pub fn compute(
    folder: &DesignFolder,
    options: &Options,
    step: Step,
    diagnostics: &mut Diagnostics,
) -> Option<Computed> {
    step("read");
    let (mut design, clean) = design::read_in_part(folder, diagnostics)?;
    if !clean {
        look_through(folder, &mut design, diagnostics);
        return None;
    }
    choose_sizes(&mut design, &options.sizes, diagnostics)?;
    if options.without_corrections {
        design.fit.clear();
    }
    step("draft");
    let Drafted {
        feet,
        drafts,
        mut sizes,
    } = match &options.memory {
        Some(memory) => memory.drafted(folder, &mut design, options, diagnostics),
        None => draft_all(&mut design, &Feet::default(), diagnostics),
    };
    if options.stop.is_ordered() {
        return None;
    }
    let named = handover::draft_values(&design, &drafts);
    booklet::fill_sizes(&mut design, &named, diagnostics);
    for (sized, size) in sizes.iter_mut().zip(&design.sizes) {
        sized.words.clone_from(&size.words);
    }
    step("layouts");
    let kept = Arc::new(shelf(options));
    let means = (options, &*kept as &dyn Shelf);
    let materials = gather(&design, (&sizes, &drafts), means, diagnostics);
    if options.stop.is_ordered() {
        return None;
    }
    let complete = sizes
        .iter()
        .all(|sized| sized.pieces.len() == design.pieces.len());
    if !complete && !diagnostics.has_errors() {
        say_what_is_missing(&design, &sizes, diagnostics);
    }
    if complete && !diagnostics.has_errors() {
        let made = review::pieces::Made {
            design: &design,
            drafts: &drafts,
            sizes: &sizes,
        };
        review::pieces::review(&made, diagnostics);
    }
    Some(Computed {
        design,
        feet,
        drafts,
        sizes,
        materials,
        complete,
        kept,
    })
}

/// Where layouts are kept.
fn shelf(options: &Options) -> NearShelf {
    match (&options.shelf, options.quick) {
        (Some(directory), false) => NearShelf::before(FolderShelf::new(directory)),
        (Some(directory), true) => NearShelf::before(ReadShelf::new(directory)),
        (None, _) => NearShelf::default(),
    }
}

/// The materials, with layouts from the shelf or packed with so much of the usual work. Pieces that
/// are wrong are not packed.
fn gather(
    design: &Design,
    (sizes, drafts): (&[SizedPieces], &[Draft]),
    (options, shelf): (&Options, &dyn Shelf),
    diagnostics: &mut Diagnostics,
) -> Materials {
    let means = Means {
        effort: options.effort.max(1),
        quick: options.quick,
        rough: options.quick,
        shelf,
        last: options.memory.as_ref().map(Memory::layouts),
    };
    let sizes_to_pack = if diagnostics.has_errors() { &[] } else { sizes };
    materials::gather(design, sizes, drafts, (sizes_to_pack, &means), diagnostics)
}

/// Further mistakes of a design whose files were not all understood, so that one run tells all: those
/// of the pieces that could be read, and those of the text alone. What only follows from a mistake
/// that was told before is left out.
fn look_through(folder: &DesignFolder, design: &mut Design, diagnostics: &mut Diagnostics) {
    let mut said = Diagnostics::default();
    draft_all(design, &Feet::default(), &mut said);
    for follows in ["formula-value", "foot-missing", "notch-no-seam"] {
        said.leave_out(follows);
    }
    let files = text_files(folder, design);
    booklet::prose(design, &[], &files, &mut said);
    for follows in ["unknown-value", "figure-block"] {
        said.leave_out(follows);
    }
    said.leave_out_where(diagnostics);
    diagnostics.append(said);
}

fn choose_sizes(
    design: &mut Design,
    wanted: &[String],
    diagnostics: &mut Diagnostics,
) -> Option<()> {
    if wanted.is_empty() {
        return Some(());
    }
    let has = |key: &&String| design.sizes.iter().any(|size| size.key == **key);
    let unknown: Vec<&str> = wanted
        .iter()
        .filter(|key| !has(key))
        .map(String::as_str)
        .collect();
    if !unknown.is_empty() {
        let keys: Vec<&str> = design.sizes.iter().map(|s| s.key.as_str()).collect();
        let message = format!(
            "{} has no size called {}",
            design.title,
            unknown.join(" or ")
        );
        let remedy = format!("its sizes are {}", keys.join(", "));
        diagnostics.push(Diagnostic::error("unknown-size", None, message).remedy(remedy));
        return None;
    }
    design.sizes.retain(|size| wanted.contains(&size.key));
    Some(())
}

/// Papers and forms that lead to no file a designer may look for.
fn tell_what_is_not_made(
    design: &Design,
    options: &Options,
    pages: &[Paper],
    diagnostics: &mut Diagnostics,
) {
    let place = finishing::head_of(design);
    let own_papers = options.papers.is_empty();
    if pages.is_empty() && own_papers {
        let message = "no booklet is made: every paper is a large sheet, which holds plates only";
        let warning = Diagnostic::warning("no-booklet", Some(&place), message);
        diagnostics.push(warning.remedy("Add a4 or letter to the papers."));
    }
    let forms = options.forms.as_ref().unwrap_or(&design.forms);
    let fits = |paper: &Paper| booklet::Setting::has_forms(&paper.key);
    let meant = own_papers || options.forms.is_some();
    if meant && !forms.is_empty() && !pages.iter().any(fits) {
        let words: Vec<&str> = forms.iter().map(|form| form.words()).collect();
        let message = format!(
            "nothing is made in the form ‘{}’: forms are for A4 and US Letter only",
            words.join("’, ‘")
        );
        let warning = Diagnostic::warning("form-without-paper", Some(&place), message);
        diagnostics.push(warning.remedy("Add a4 or letter to the papers, or take the form away."));
    }
}

/// Typesets and proofs the booklets of a design, one for each paper in each language. `None` if none could
/// be set: then `diagnostics` says why.
pub fn publish(
    folder: &DesignFolder,
    computed: &mut Computed,
    options: &Options,
    directory: &Path,
    step: Step,
    diagnostics: &mut Diagnostics,
) -> Option<Published> {
    step("text");
    let (standing, further, texts) = editions::placed(folder, computed, options, diagnostics);
    let computed = &*computed;
    let all: Vec<&Computed> = std::iter::once(computed).chain(&further).collect();
    let papers = papers(&computed.design, options);
    if !computed.complete || papers.is_empty() || options.stop.is_ordered() {
        return None;
    }
    let (large, pages): (Vec<Paper>, Vec<Paper>) = papers.into_iter().partition(Paper::is_large);
    tell_what_is_not_made(&computed.design, options, &pages, diagnostics);
    let templates = own_templates(folder, diagnostics);
    tell_of_unread_chapters(folder, &computed.design, diagnostics);
    step("drawings");
    let mut presses = Vec::new();
    for (computed, text) in all.into_iter().zip(texts) {
        let forms = options.forms.as_ref().unwrap_or(&computed.design.forms);
        let templates = templates.clone();
        let of = (computed, options);
        presses.push(Press::new(of, text, templates, forms, diagnostics));
    }
    let drawn: Vec<&Drawings<'_>> = presses.iter().map(|press| &press.drawings).collect();
    let editions = drawings::beside(&drawn, || {
        // before anything is set: what fails here is set once, stamped
        step("review");
        let listing = folder.text(review::LISTING);
        languages::review_all(&presses, listing.as_ref(), diagnostics);
        let papers = (&pages[..], &large[..]);
        let each = presses.iter();
        let set =
            each.map(|press| languages::Edition::set(press, papers, &standing, step, diagnostics));
        set.collect::<Option<Vec<_>>>()
    });
    languages::finish(editions?, standing, directory, step, diagnostics)
}

/// The values that the text may name, and the text itself.
fn text_of(
    folder: &DesignFolder,
    computed: &Computed,
    diagnostics: &mut Diagnostics,
) -> (Vec<booklet::SizeValues>, booklet::Prose) {
    let values = size_values(computed);
    let files = text_files(folder, &computed.design);
    let mut said = Diagnostics::default();
    let prose = booklet::prose(&computed.design, &values, &files, &mut said);
    if !computed.complete {
        // What a piece that failed would have given the text is not unknown, only missing.
        said.leave_out("unknown-value");
    }
    diagnostics.append(said);
    (values, prose)
}
