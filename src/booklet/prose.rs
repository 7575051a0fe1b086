//! The words of a booklet: every chapter with its values filled in, as one generated file. The same
//! for all papers, so it is made once.

use super::emit::Emitter;
use super::figure_block::FigureRequest;
use super::fill::{fill, fill_words};
use super::markdown::{self, Book, Shown};
use super::own_look::{self, OwnLook};
use super::source_map::{Filled, SourceMap};
use super::values::{Names, SizeValues};
use crate::design::{ChapterKind, Design, Part};
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::flat::nearest;
use rayon::iter::{IntoParallelRefIterator, ParallelIterator};
use std::collections::BTreeMap;

/// Path of the generated text among the booklet's files.
pub const TEXT: &str = "text.typ";

/// The words of a booklet, ready to be set.
#[derive(Default, Debug, Clone, PartialEq)]
pub struct Prose {
    /// The generated file: `chapters`, a list of functions without arguments.
    pub typst: String,
    /// Its places.
    pub map: SourceMap,
    /// Drawings to be made and handed in as files.
    pub figures: Vec<FigureRequest>,
    /// Pictures of the design that are used, by path among the booklet's files.
    pub pictures: BTreeMap<String, Vec<u8>>,
    /// Name of each and where it stands first, by the same path.
    pub picture_places: BTreeMap<String, (String, Place)>,
    /// Drawings and pictures that stand by themselves, in order.
    pub shown: Vec<Shown>,
    /// Where each step stands, in order of its number.
    pub steps: Vec<Place>,
    /// The chapters, in order.
    pub chapters: Vec<ChapterHead>,
    /// The design's own look.
    pub look: OwnLook,
    /// What the design says of itself, with its values filled in.
    pub about: String,
    /// All words of the text, without what is drawn.
    pub words: String,
    /// The Markdown of each chapter with its values filled in.
    pub filled: Vec<Filled>,
}

/// What the contents say of a chapter.
#[derive(Debug, Clone, PartialEq)]
pub struct ChapterHead {
    /// Title.
    pub title: String,
    /// Text or steps.
    pub kind: ChapterKind,
    /// The part of the booklet it stands in.
    pub part: Part,
    /// Sentence under the title.
    pub standfirst: Option<String>,
    /// Numbers of its first and last step.
    pub steps: Option<[usize; 2]>,
}

/// How the file of the chapters begins.
const HEAD: &str = "// Generated from the Markdown of the design. Changes here are lost.\n\
                    #import \"/prose.typ\": *\n#let chapters = (\n";

/// Reads every chapter of `design`. `files` are the files of the design folder by path; only the
/// pictures that a chapter names are taken from them.
pub fn prose(
    design: &Design,
    sizes: &[SizeValues],
    files: &BTreeMap<String, Vec<u8>>,
    diagnostics: &mut Diagnostics,
) -> Prose {
    let mut names = Names::new(design, sizes);
    let (source, all) = (&design.source, usize::MAX);
    let about = fill_words(&design.about, "about", source, all, &names, diagnostics);
    names.set_about(&about);
    let mut book = Book::default();
    let mut chapters = Vec::new();
    let mut words_of_text = about.clone();
    let mut kept = Vec::new();
    book.out.code(HEAD);
    for (chapter, (filled, said)) in design.chapters.iter().zip(all_filled(design, &names)) {
        let before = book.steps.len();
        diagnostics.append(said);
        add_words(&mut words_of_text, &filled.text);
        book.out.code("() => {\n");
        markdown::chapter(&filled, chapter.kind, design, files, &mut book, diagnostics);
        book.out.code("},\n");
        kept.push(filled);
        let after = book.steps.len();
        let (source, lines) = (&chapter.source, chapter.first_line.saturating_sub(1));
        let mut words =
            |key, words: &str| fill_words(words, key, source, lines, &names, diagnostics);
        chapters.push(ChapterHead {
            title: words("title", &chapter.title),
            kind: chapter.kind,
            part: chapter.part,
            standfirst: chapter
                .standfirst
                .as_ref()
                .map(|sentence| words("standfirst", sentence)),
            steps: (after > before).then_some([before + 1, after]),
        });
    }
    book.out.code(")\n");
    judge_references(&book, diagnostics);
    let look = own_look::read(design, files, &mut book, diagnostics);
    let Book {
        out: Emitter { text, map },
        figures,
        pictures,
        picture_places,
        shown,
        steps,
        ..
    } = book;
    Prose {
        typst: text,
        map,
        figures,
        pictures,
        picture_places,
        shown,
        steps,
        chapters,
        about,
        words: words_of_text,
        look,
        filled: kept,
    }
}

/// The chapters with their values filled in, on all processors, and what was said of each.
fn all_filled(design: &Design, names: &Names) -> Vec<(Filled, Diagnostics)> {
    let chapters = design.chapters.par_iter();
    let filled = chapters.map(|chapter| {
        let mut said = Diagnostics::default();
        (fill(chapter, &design.shared, names, &mut said), said)
    });
    filled.collect()
}

/// Fills the values of each size into the words that follow its title.
pub fn fill_sizes(design: &mut Design, values: &[SizeValues], diagnostics: &mut Diagnostics) {
    let filled: Vec<Option<String>> = design
        .sizes
        .iter()
        .map(|size| {
            let words = size.words.as_ref()?;
            let own = values.iter().find(|values| values.key == size.key);
            let names = Names::new(design, own.map_or(&[], std::slice::from_ref));
            let source = &design.source;
            let all = usize::MAX;
            Some(fill_words(words, "words", source, all, &names, diagnostics))
        })
        .collect();
    for (size, words) in design.sizes.iter_mut().zip(filled) {
        size.words = words;
    }
}

/// Adds the words of a chapter, without its fenced blocks.
fn add_words(words: &mut String, text: &str) {
    let mut fenced = false;
    for line in text.lines() {
        let fence = line.trim_start().starts_with("```");
        fenced ^= fence;
        if !fenced && !fence {
            words.push('\n');
            words.push_str(line);
        }
    }
}

/// Tells of each reference to a figure that is not in the booklet.
fn judge_references(book: &Book, diagnostics: &mut Diagnostics) {
    for (name, place) in &book.figure_references {
        if book.figure_names.contains(name) {
            continue;
        }
        let message = format!("The text refers to a figure ‘{name}’, which is not in it.");
        let known = book.figure_names.iter().map(String::as_str);
        let said = Diagnostic::error("figure-block", Some(place), message);
        diagnostics.push(said.remedy(nearest(name, known)));
    }
}
