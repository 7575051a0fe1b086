//! What a pattern is offered with, in one language: the listing, and pictures of cover, pieces, layouts
//! and steps.

use super::fitting::FittingSheet;
use super::forms::FormFile;
use super::press::{Booklet, Press};
use crate::booklet::Later;
use crate::design::{Design, Dimension, Paper};
use crate::export::Sharing;
use crate::export::{self, BookletFact, LargeFact, ListingJob};
use crate::figure::{self, Look};
use crate::language::Words;
use rayon::prelude::*;
use std::collections::BTreeSet;

/// Paper on which the pieces are drawn for their picture: its width and height together, mm. Numbers are
/// legible at that size.
const PAPER: f64 = 350.0;

/// Files by their path below the folder of results.
pub(super) type Files = Vec<(String, Vec<u8>)>;

/// A picture to be made.
struct Picture<'a> {
    /// Its name without size and ending.
    name: String,
    alt: String,
    of: Subject<'a>,
}

/// What a picture shows.
enum Subject<'a> {
    /// The first page of a PDF, and beside it another of this number, from 0.
    Pages(&'a [u8], Option<usize>),
    /// All pieces with their names.
    Pieces,
    /// Drawings that share the picture.
    Drawings(Vec<&'a [u8]>, Sharing),
}

/// So many drawings from the steps are shown together.
const STEPS: usize = 4;

/// At most so many layouts are.
const LAYOUTS: usize = 6;

impl Press<'_> {
    /// The listing and the pictures; those without words of the language are made with the design's own
    /// language alone.
    pub(super) fn offered(
        &self,
        (booklets, sheets): (&[Booklet], &[Booklet]),
        fitting: &[FittingSheet],
        forms: &[FormFile],
    ) -> Files {
        let design = &self.computed.design;
        let pictures = self.pictures(booklets);
        let sizes = &design.shop.pictures;
        let jobs: Vec<(&Picture<'_>, usize)> = pictures
            .iter()
            .flat_map(|picture| (0..sizes.len()).map(move |size| (picture, size)))
            .collect();
        // what another language has made already is named all the same
        let is_made = |picture: &Picture<'_>| {
            design.original.is_none() || !matches!(picture.of, Subject::Drawings(..))
        };
        let made = jobs.par_iter().filter_map(|(picture, index)| {
            let size = sizes[*index];
            let png = is_made(picture).then(|| self.picture(&picture.of, size))?;
            Some((path(picture, size, *index), png?))
        });
        let mut files: Files = made.collect();
        let there: BTreeSet<&str> = files.iter().map(|(path, _)| path.as_str()).collect();
        let shown = |picture: &Picture<'_>| {
            let path = path(picture, *sizes.first()?, 0);
            let is_there = !is_made(picture) || there.contains(path.as_str());
            is_there.then(|| (path, picture.alt.clone()))
        };
        let listing = export::listing(&ListingJob {
            design,
            materials: &self.computed.materials,
            finished: self.finished(),
            booklets: booklets.iter().map(|b| fact(b, &design.words)).collect(),
            large: sheets.iter().map(|b| large(b, &design.words)).collect(),
            fitting: fitting
                .iter()
                .map(|sheet| paper_name(sheet.paper(), &design.words))
                .collect(),
            forms: forms
                .iter()
                .map(|form| (form.form, paper_name(&form.paper, &design.words)))
                .collect(),
            languages: languages(design),
            pictures: pictures.iter().filter_map(shown).collect(),
        });
        let name = match design.original {
            Some(_) => format!("listing.{}.md", design.language),
            None => "listing.md".to_string(),
        };
        files.push((name, listing.into_bytes()));
        files
    }

    /// Cover, pieces, layouts, and drawings from the steps, as far as there are any.
    fn pictures<'p>(&'p self, booklets: &'p [Booklet]) -> Vec<Picture<'p>> {
        let design = &self.computed.design;
        let words = &design.words;
        let spoken = |name: &str| match design.original {
            Some(_) => format!("{name}-{}", design.language),
            None => name.to_string(),
        };
        let mut pictures = Vec::new();
        let mut shown = |name: String, alt: String, of: Subject<'p>| {
            pictures.push(Picture { name, alt, of });
        };
        if let Some(booklet) = booklets.first() {
            let (alt, middle) = match booklet.set.step_pages.as_slice() {
                [] => ("listing.cover alone", None),
                pages => ("listing.cover", pages.get(pages.len() / 2)),
            };
            let alt = words.say(alt, &[("title", &design.title)]);
            let pages = Subject::Pages(&booklet.set.pdf, middle.map(|page| page - 1));
            shown(spoken("cover"), alt, pages);
        }
        if let Some(figure) = self.pieces([4, 3]) {
            shown(spoken("pieces"), figure.alt, Subject::Pieces);
        }
        let mut drawings = |name: &str, key: &str, all: Vec<(String, &'p [u8])>, sharing| {
            if all.is_empty() {
                return;
            }
            let (alts, drawings): (Vec<String>, Vec<&[u8]>) = all.into_iter().unzip();
            let alt = words.say(key, &[("list", &alts.join(" "))]);
            shown(name.to_string(), alt, Subject::Drawings(drawings, sharing));
        };
        let mut layouts = self.cloth.first_layouts();
        layouts.truncate(LAYOUTS);
        drawings("layouts", "listing.layouts", layouts, Sharing::OneScale);
        drawings("steps", "listing.steps", self.steps(), Sharing::Fields);
        pictures
    }

    /// The picture as PNG.
    fn picture(&self, of: &Subject<'_>, size: [u32; 2]) -> Option<Vec<u8>> {
        match of {
            Subject::Pages(pdf, further) => {
                let pages: Vec<usize> = std::iter::once(0).chain(*further).collect();
                export::picture_of_pages(pdf, &pages, size)
            }
            Subject::Pieces => {
                let drawing = self.pieces(size)?.svg;
                export::picture_of_drawings(&[&drawing], Sharing::OneScale, size)
            }
            Subject::Drawings(all, sharing) => export::picture_of_drawings(all, *sharing, size),
        }
    }

    /// All pieces of the last size side by side on paper of this shape, with their names.
    fn pieces(&self, [across, down]: [u32; 2]) -> Option<figure::Figure> {
        let sized = self.computed.sizes.last()?;
        let pieces: Vec<_> = sized.pieces.iter().collect();
        let [across, down] = [across, down].map(f64::from);
        let one = PAPER / (across + down);
        let look = Look::within(across * one, down * one);
        (!pieces.is_empty()).then(|| figure::pieces(&pieces, &look, &self.computed.design.words))
    }

    /// Some of the drawings in the steps, evenly from all of them.
    fn steps(&self) -> Vec<(String, &[u8])> {
        let asked = self.prose.figures.iter().filter(|f| f.shoe.is_none());
        let all: Vec<_> = asked.collect();
        let shown = STEPS.min(all.len());
        let some = (0..shown).map(|i| all[(2 * i + 1) * all.len() / (2 * shown)]);
        let drawn = some.filter_map(|figure| {
            let path = figure.path();
            let own = self.drawings.files.get(&path).map(Vec::as_slice);
            let svg = own.or_else(|| self.drawings.file(&path))?;
            Some((self.drawings.alt(figure.number)?.to_string(), svg))
        });
        drawn.collect()
    }

    /// What is measured on the finished thing, by size.
    fn finished(&self) -> Vec<(String, Vec<(String, f64)>)> {
        let design = &self.computed.design;
        let measured = design.finished.iter().map(|measure| {
            let lengths = design.sizes.iter().filter_map(|size| {
                let values = self.values.iter().find(|values| values.key == size.key)?;
                let mm = measure.length.evaluate(values, Dimension::Length).ok()?;
                Some((size.title.clone(), mm))
            });
            (measure.name.clone(), lengths.collect())
        });
        measured.collect()
    }
}

/// Where the picture of this size lies: the first size has the plain name.
fn path(picture: &Picture<'_>, [width, height]: [u32; 2], index: usize) -> String {
    match index {
        0 => format!("pictures/{}.png", picture.name),
        _ => format!("pictures/{}-{width}x{height}.png", picture.name),
    }
}

fn paper_name(paper: &Paper, words: &Words) -> String {
    let known = words.find(&format!("papers.{}", paper.key));
    known.unwrap_or(&paper.name).to_string()
}

fn fact(booklet: &Booklet, words: &Words) -> BookletFact {
    BookletFact {
        paper: paper_name(&booklet.paper, words),
        pages: booklet.set.pages,
        plates: booklet.plates.plate_count(),
    }
}

fn large(sheet: &Booklet, words: &Words) -> LargeFact {
    let paper = &sheet.plates.paper;
    LargeFact {
        paper: paper_name(&sheet.paper, words),
        sides: [paper.width, paper.height],
        sheets: sheet.plates.page_count(),
    }
}

/// The languages of the texts, that of the design first; one for which the language of the listing has no
/// name as it calls itself, or by its tag.
fn languages(design: &Design) -> Vec<String> {
    let own = design.own();
    let further = own.translations.iter().map(|spoken| &spoken.words);
    let all = std::iter::once(&own.words).chain(further);
    let name = |words: &Words| {
        let primary = crate::language::primary(words.tag());
        if let Some(known) = design.words.find(&format!("languages.{primary}")) {
            return known.to_string();
        }
        match words.get("language.name") {
            // what a language lacks is English
            "English" => words.tag().to_string(),
            name => name.to_string(),
        }
    };
    all.map(name).collect()
}
