//! Step 9: the design's words, pictures and data become a PDF/UA-1 booklet.
//!
//! [`prose()`] reads the chapters once: values are filled in ([`fill`]) and Markdown becomes calls of
//! template functions ([`markdown`]), each with its place. [`typeset`] then sets the booklet for one
//! paper: template, [`data`], text, drawings and pictures are virtual files of a closed [`world`],
//! and what the typesetter says comes back as diagnostics in the designer's own files ([`trouble`]).

mod broken_picture;
pub mod data;
pub mod date;
pub mod drawn_picture;
pub mod emit;
mod faces;
pub mod figure_block;
pub mod fill;
pub mod fitting;
#[cfg(test)]
pub(crate) mod fixture;
pub mod fonts;
pub mod glossary;
pub mod impose;
pub mod large;
pub mod links;
pub mod markdown;
pub mod own_look;
pub mod own_templates;
pub mod pages;
pub mod pdf;
mod photo;
pub mod pictures;
pub mod printed;
pub mod prose;
mod rounds;
pub mod scale_faults;
pub mod setting;
pub mod shop;
pub mod source_map;
pub mod spare_ink;
pub mod tags;
pub mod template;
#[cfg(test)]
mod tests;
pub mod text_sheet;
pub mod tracing_sheet;
pub mod trouble;
pub mod values;
pub mod world;

pub use date::Moment;
pub use figure_block::FigureRequest;
pub use own_templates::OwnTemplates;
pub use prose::{Prose, fill_sizes, prose};
pub use rounds::{forget, remember};
pub use setting::Setting;
pub use values::SizeValues;
pub use world::Later;

use crate::design::{Design, Paper};
use crate::diagnostic::guard;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use prose::TEXT;
use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use trouble::Origin;
use typst::foundations::{Content, Label, Selector, Value as TypstValue};
use typst::introspection::{Introspector, MetadataElem};
use typst::utils::PicoStr;
use typst_layout::PagedDocument;
use world::BookletWorld;

/// All that one booklet is made from.
#[derive(Debug, Clone, Copy)]
pub struct Request<'a> {
    /// The design.
    pub design: &'a Design,
    /// Its chapters, from [`prose()`].
    pub prose: &'a Prose,
    /// The paper; where half a sheet is a page, the sheet.
    pub paper: &'a Paper,
    /// Whole, or the instructions alone in a further form.
    pub setting: Setting,
    /// The values of each size, in the design's order.
    pub sizes: &'a [SizeValues],
    /// Entries of `data.json` that other stages make (`plates`, `key`, `cover`, `materials`, …); they
    /// replace those made here.
    pub parts: &'a Map<String, Value>,
    /// Files those entries name, and the drawings that [`Prose::figures`] asks for, by path.
    pub files: &'a BTreeMap<String, Vec<u8>>,
    /// Drawings that [`Prose::figures`] asks for and that may still be to make.
    pub later: Option<&'a dyn Later>,
    /// The design's own templates; they replace those of the house.
    pub templates: &'a OwnTemplates,
    /// The moment to print and to write into the file, if any.
    pub moment: Option<Moment>,
    /// Printed across each page.
    pub stamp: Option<&'a str>,
}

/// A finished booklet.
#[derive(Debug, Clone, PartialEq)]
pub struct Typeset {
    /// The file.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// The true-scale pages, from 1.
    pub plate_pages: Option<RangeInclusive<usize>>,
    /// The pages on which a step begins, from 1.
    pub step_pages: Vec<usize>,
}

/// Sets the booklet. `None` if it cannot be set; then at least one error was said.
pub fn typeset(request: &Request<'_>, diagnostics: &mut Diagnostics) -> Option<Typeset> {
    let what = match request.setting {
        Setting::Whole => String::new(),
        form => format!(" {}", form.words()),
    };
    let (document, pdf) = compiled(request, template::MAIN, &what, diagnostics)?;
    tell_of_tall_steps(&document, request, diagnostics);
    Some(Typeset {
        pdf: pdf?,
        pages: document.pages().len(),
        plate_pages: plate_pages(&document),
        step_pages: step_pages(&document),
    })
}

/// Compiles the template `main` and writes the document as PDF; `what` tells its name for good from
/// those of the design's other files. What goes wrong is said.
fn compiled(
    request: &Request<'_>,
    main: &str,
    what: &str,
    diagnostics: &mut Diagnostics,
) -> Option<(PagedDocument, Option<Vec<u8>>)> {
    with_world(request, main, diagnostics, |world, origin, diagnostics| {
        let document = compile(request, world, origin, diagnostics)?;
        let ident = format!(
            "{} {} {}{what}",
            request.design.file_stem(),
            request.design.edition_number(),
            request.paper.key
        );
        let pdf = match guard::guarded(|| world.export(&document, &ident)) {
            Err(_) => {
                tell_of_a_break(request, diagnostics);
                None
            }
            Ok(Ok(pdf)) => Some(pdf),
            Ok(Err(said)) => {
                trouble::tell(&said, origin, diagnostics);
                None
            }
        };
        Some((document, pdf))
    })
}

/// Compiles the template `main` and writes nothing. What goes wrong is said.
fn set(request: &Request<'_>, main: &str, diagnostics: &mut Diagnostics) -> Option<PagedDocument> {
    with_world(request, main, diagnostics, |world, origin, diagnostics| {
        compile(request, world, origin, diagnostics)
    })
}

/// What `work` makes of the files of a booklet, in a world of their own.
fn with_world<T>(
    request: &Request<'_>,
    main: &str,
    diagnostics: &mut Diagnostics,
    work: impl FnOnce(&BookletWorld<'_>, &Origin<'_>, &mut Diagnostics) -> Option<T>,
) -> Option<T> {
    let files = files(request, diagnostics);
    let world = BookletWorld::new(&files, main, request.moment);
    let Some(world) = world.map(|world| {
        world
            .with_faces(&request.prose.look.faces)
            .with_later(request.later)
    }) else {
        let message = "A file of the booklet has a path that climbs out of its folder.";
        let remedy = "This is a fault of pressfoot, not of the design; please report it.";
        diagnostics.push(Diagnostic::error("internal-template", None, message).remedy(remedy));
        return None;
    };
    let origin = Origin {
        world: &world,
        text: TEXT,
        map: &request.prose.map,
        templates: &request.templates.files,
        pictures: &request.prose.picture_places,
    };
    let begun = own_templates::begin(request.templates);
    let made = work(&world, &origin, diagnostics);
    drop(begun);
    made
}

fn compile(
    request: &Request<'_>,
    world: &BookletWorld<'_>,
    origin: &Origin<'_>,
    diagnostics: &mut Diagnostics,
) -> Option<PagedDocument> {
    let typesetting = rounds::Typesetting::begin();
    let compiled = guard::guarded(|| world.compile());
    drop(typesetting);
    let Ok((document, said)) = compiled else {
        tell_of_a_break(request, diagnostics);
        return None;
    };
    trouble::tell(&said, origin, diagnostics);
    document
}

/// Says that the typesetter broke off, at each picture with which it breaks off by itself.
fn tell_of_a_break(request: &Request<'_>, diagnostics: &mut Diagnostics) {
    let mut found = false;
    for (path, bytes) in &request.prose.pictures {
        let Some((name, place)) = request.prose.picture_places.get(path) else {
            continue;
        };
        if broken_picture::breaks_alone(path, bytes) {
            found = true;
            let why = "the typesetter breaks off with it";
            let remedy = "Save it anew with another program, or as PNG.";
            diagnostics.push(pictures::unfit_picture(name, why, remedy, place));
        }
    }
    if !found {
        let place = Place {
            source: request.design.source.clone(),
            line: 1,
            column: 1,
        };
        let message = format!(
            "The typesetter broke off while it set the booklet for {}.",
            request.paper.name
        );
        let remedy = "Take away what was changed last, and report it: no input should do this.";
        let told = Diagnostic::error("typesetter-broke-off", Some(&place), message);
        diagnostics.push(told.remedy(remedy));
    }
}

/// The files of the booklet as a folder that any Typst 0.15 compiles: `typst compile --font-path
/// fonts booklet.typ`.
pub fn source_files(request: &Request<'_>) -> BTreeMap<String, Vec<u8>> {
    let mut files = files(request, &mut Diagnostics::default());
    files.extend(later(request));
    files.insert(
        "fonts/NotoSans-Regular.ttf".into(),
        notosans::REGULAR_TTF.to_vec(),
    );
    files.insert(
        "fonts/NotoSans-Bold.ttf".into(),
        notosans::BOLD_TTF.to_vec(),
    );
    for (path, bytes) in request.prose.look.faces.files() {
        files.insert(path.clone(), bytes.clone());
    }
    files
}

/// The drawings that the typesetter would ask for.
fn later(request: &Request<'_>) -> Vec<(String, Vec<u8>)> {
    let Some(later) = request.later else {
        return Vec::new();
    };
    let file = |path: String| {
        let bytes = later.file(&path)?.to_vec();
        Some((path, bytes))
    };
    later.paths().into_iter().filter_map(file).collect()
}

fn files(request: &Request<'_>, diagnostics: &mut Diagnostics) -> BTreeMap<String, Vec<u8>> {
    let bare = |path: &String| path.trim_start_matches('/').to_string();
    let mut files: BTreeMap<String, Vec<u8>> = request
        .files
        .iter()
        .map(|(path, bytes)| match request.setting {
            Setting::InkSaving => (bare(path), spare_ink::spared(bytes)),
            _ => (bare(path), bytes.clone()),
        })
        .collect();
    if request.setting == Setting::InkSaving {
        let spared = |(path, bytes): (String, Vec<u8>)| (path, spare_ink::spared(&bytes));
        files.extend(later(request).into_iter().map(spared));
    }
    files.extend(request.prose.pictures.clone());
    let awaited = request.later.map_or(Vec::new(), |later| later.paths());
    let at_hand = |figure: &&FigureRequest| !awaited.contains(&figure.path());
    for figure in request.prose.figures.iter().filter(at_hand) {
        files.entry(figure.path()).or_insert_with(|| {
            let what = match figure.shoe {
                Some(_) => "the finished shoe".to_string(),
                None => figure.pieces.join(", "),
            };
            let message = format!("The drawing of {what} was not made.");
            diagnostics.push(Diagnostic::error(
                "figure-block",
                Some(&figure.place),
                message,
            ));
            EMPTY_DRAWING.to_vec()
        });
    }
    for (name, text) in template::FILES {
        files.insert((*name).to_string(), text.as_bytes().to_vec());
    }
    for (name, source) in &request.templates.files {
        files.insert(name.clone(), source.text.as_bytes().to_vec());
    }
    files.insert(TEXT.to_string(), request.prose.typst.as_bytes().to_vec());
    let data = data::data(request, diagnostics);
    let data = serde_json::to_string_pretty(&data).unwrap_or_default();
    files.insert("data.json".to_string(), data.into_bytes());
    files
}

pub(crate) const EMPTY_DRAWING: &[u8] =
    b"<svg xmlns='http://www.w3.org/2000/svg' width='40mm' height='20mm' viewBox='0 0 40 20'/>";

/// The elements that the template has marked with `label`.
fn marked(document: &PagedDocument, label: &str) -> Vec<Content> {
    let label = Label::new(PicoStr::intern(label));
    let selector = label.map(Selector::Label);
    selector
        .map(|s| document.introspector().query(&s).into_iter().collect())
        .unwrap_or_default()
}

fn plate_pages(document: &PagedDocument) -> Option<RangeInclusive<usize>> {
    let end = marked(document, "end-of-text").into_iter().next()?;
    let last = document.introspector().page(end.location()?)?.get();
    let pages = document.pages().len();
    (last < pages).then(|| last + 1..=pages)
}

fn step_pages(document: &PagedDocument) -> Vec<usize> {
    let page = |mark: Content| document.introspector().page(mark.location()?);
    let mut pages: Vec<usize> = marked(document, "step-place")
        .into_iter()
        .filter_map(|mark| Some(page(mark)?.get()))
        .collect();
    pages.dedup();
    pages
}

/// A step is never split over pages, so one that is taller than a page must be two; and one that finds no
/// room below the head of its chapter leaves that alone.
fn tell_of_tall_steps(
    document: &PagedDocument,
    request: &Request<'_>,
    diagnostics: &mut Diagnostics,
) {
    let form = match request.setting {
        Setting::Whole => String::new(),
        form => format!(" in the form ‘{}’", form.words()),
    };
    let paper = &request.paper.name;
    let told = |mark: &str| steps_marked(document, request, mark);
    for (number, place) in told("step-too-tall") {
        let message = format!("Step {number} is taller than a page of {paper}{form}.");
        diagnostics.push(
            Diagnostic::error("step-too-tall", place, message)
                .remedy("Split it into two steps: a step is never parted by the end of a page."),
        );
    }
    for (number, place) in told("head-alone") {
        let message = format!(
            "Step {number} finds no room below the head of its chapter on a page of {paper}{form}, \
             so that the head stands alone."
        );
        diagnostics.push(
            Diagnostic::warning("head-alone", place, message)
                .remedy("Shorten the step, or write a sentence or two before it."),
        );
    }
}

/// The numbers of the steps with a mark, each with where it stands in the design.
fn steps_marked<'a>(
    document: &PagedDocument,
    request: &Request<'a>,
    mark: &str,
) -> Vec<(i64, Option<&'a Place>)> {
    let number = |mark: Content| match mark.to_packed::<MetadataElem>()?.value {
        TypstValue::Int(number) => Some(number),
        _ => None,
    };
    let numbers = marked(document, mark).into_iter().filter_map(number);
    let place = |number: i64| {
        let index = usize::try_from(number).ok()?.checked_sub(1)?;
        request.prose.steps.get(index)
    };
    numbers.map(|number| (number, place(number))).collect()
}
