//! What a pattern is offered with, in one language: the listing, and pictures of cover, pieces, a layout
//! and a step.

use super::forms::FormFile;
use super::press::{Booklet, Press};
use crate::booklet::Later;
use crate::design::{Design, Dimension, Paper};
use crate::export::{self, BookletFact, ListingJob};
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
    /// The first page of a PDF.
    Page(&'a [u8]),
    /// A drawing, for each size of the pictures.
    Drawing(Box<dyn Fn([u32; 2]) -> Vec<u8> + Sync + 'a>),
}

impl Press<'_> {
    /// The listing and the pictures; those without words of the language are made with the design's own
    /// language alone.
    pub(super) fn offered(
        &self,
        (booklets, sheets): (&[Booklet], &[Booklet]),
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
            design.original.is_none() || matches!(picture.of, Subject::Page(_))
        };
        let made = jobs.par_iter().filter_map(|(picture, index)| {
            let size = sizes[*index];
            let png = match &picture.of {
                _ if !is_made(picture) => return None,
                Subject::Page(pdf) => export::picture_of_page(pdf, 0, size),
                Subject::Drawing(draw) => export::picture_of_drawing(&draw(size), size),
            };
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

    /// Cover, pieces, the first layout, and the drawing in the middle of the steps, as far as there are any.
    fn pictures<'p>(&'p self, booklets: &'p [Booklet]) -> Vec<Picture<'p>> {
        let design = &self.computed.design;
        let words = &design.words;
        let mut pictures = Vec::new();
        if let Some(booklet) = booklets.first() {
            let name = match design.original {
                Some(_) => format!("cover-{}", design.language),
                None => "cover".to_string(),
            };
            let alt = words.say("listing.cover", &[("title", &design.title)]);
            pictures.push(Picture {
                name,
                alt,
                of: Subject::Page(&booklet.set.pdf),
            });
        }
        let mut drawing =
            |name: &str, alt: String, draw: Box<dyn Fn([u32; 2]) -> Vec<u8> + Sync + 'p>| {
                pictures.push(Picture {
                    name: name.to_string(),
                    alt,
                    of: Subject::Drawing(draw),
                });
            };
        if let Some(figure) = self.pieces([4, 3]) {
            let draw = |size: [u32; 2]| self.pieces(size).map_or(Vec::new(), |figure| figure.svg);
            drawing("pieces", figure.alt, Box::new(draw));
        }
        if let Some((alt, svg)) = self.cloth.first_layout() {
            drawing("layout", alt, Box::new(move |_| svg.to_vec()));
        }
        if let Some((alt, svg)) = self.step() {
            drawing("step", alt, Box::new(move |_| svg.to_vec()));
        }
        pictures
    }

    /// All pieces of the last size side by side on paper of this shape.
    fn pieces(&self, [across, down]: [u32; 2]) -> Option<figure::Figure> {
        let sized = self.computed.sizes.last()?;
        let pieces: Vec<_> = sized.pieces.iter().collect();
        let [across, down] = [across, down].map(f64::from);
        let one = PAPER / (across + down);
        let look = Look::within(across * one, down * one);
        (!pieces.is_empty()).then(|| figure::pieces(&pieces, &look, &self.computed.design.words))
    }

    /// Of the drawings in the steps that in the middle; of a shoe in the making if there is one.
    fn step(&self) -> Option<(String, &[u8])> {
        let asked = || self.prose.figures.iter().filter(|f| f.shoe.is_none());
        let making: Vec<_> = asked().filter(|f| f.making.is_some()).collect();
        let all = match making.is_empty() {
            true => asked().collect(),
            false => making,
        };
        let middle = all.get(all.len() / 2)?;
        let path = middle.path();
        let own = self.drawings.files.get(&path).map(Vec::as_slice);
        let svg = own.or_else(|| self.drawings.file(&path))?;
        let alt = self.drawings.alt(middle.number)?;
        Some((alt.to_string(), svg))
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
        plates: booklet.plates.page_count(),
    }
}

fn large(sheet: &Booklet, words: &Words) -> (String, [f64; 2]) {
    let paper = &sheet.plates.paper;
    (paper_name(&sheet.paper, words), [paper.width, paper.height])
}

/// The languages of the texts, that of the design first, as each calls itself; one without a word for
/// itself by its tag.
fn languages(design: &Design) -> Vec<String> {
    let own = design.own();
    let further = own.translations.iter().map(|spoken| &spoken.words);
    let all = std::iter::once(&own.words).chain(further);
    let name = |words: &Words| {
        let is_english = crate::language::primary(words.tag()) == "en";
        match words.get("language.name") {
            // what a language lacks is English
            "English" if !is_english => words.tag().to_string(),
            name => name.to_string(),
        }
    };
    all.map(name).collect()
}
