//! The booklet's words as a document: chapters, steps, sentences and words, each with its place in the
//! designer's file. Offsets are bytes of the filled text of a chapter.

mod read;
mod sentence;

use super::lexicon::Lexicon;
use crate::booklet::source_map::Filled;
use crate::booklet::{FigureRequest, Prose};
use crate::design::{ChapterKind, Design, Part};
use crate::diagnostic::Place;
use crate::figure::flat::request::FlatRequest;
pub(super) use sentence::{Sentence, Word, words};

/// All chapters, in order.
#[derive(Debug, Clone, Default)]
pub(super) struct Text {
    pub chapters: Vec<Chapter>,
}

/// One chapter.
#[derive(Debug, Clone)]
pub(super) struct Chapter {
    pub kind: ChapterKind,
    pub part: Part,
    pub title: String,
    pub filled: Filled,
    /// What stands before the first head comes first, if anything does.
    pub sections: Vec<Section>,
}

/// What stands under one head: a step, or a part of a text.
#[derive(Debug, Clone, Default)]
pub(super) struct Section {
    /// Number of the step.
    pub step: Option<usize>,
    /// Offset of the head.
    pub at: usize,
    /// The words of the head, then those below, block by block. Captions are not among them.
    pub sentences: Vec<Sentence>,
    pub figures: Vec<Figure>,
    /// How many cautions stand in it.
    pub cautions: usize,
}

/// A drawing or picture with a block of its own.
#[derive(Debug, Clone)]
pub(super) struct Figure {
    /// Its name as the text asks for it: `_` for spaces.
    pub name: Option<String>,
    pub caption: Vec<Sentence>,
    /// Keys of the pieces that are drawn, among other words of the block.
    pub pieces: Vec<String>,
    /// Name of the seam that is drawn.
    pub seam: Option<String>,
    /// Whether it is drawn from the pieces.
    pub drawn: bool,
    /// Whether it shows the shoe, finished or in the making.
    pub shoe: bool,
    /// Stitches that its block names, in the words of the design.
    pub stitches: Vec<String>,
    /// What is to be drawn.
    pub request: Option<FigureRequest>,
    pub place: Place,
}

/// A sentence with where it stands.
#[derive(Clone, Copy)]
pub(super) struct At<'t> {
    pub chapter: &'t Chapter,
    pub section: &'t Section,
    pub sentence: &'t Sentence,
}

impl At<'_> {
    /// The place of a word of the sentence.
    pub fn place(&self, word: usize) -> Place {
        let words = &self.sentence.words;
        let at = words.get(word).map_or(self.sentence.at, |word| word.at);
        self.chapter.filled.place(at)
    }
}

impl Text {
    /// The chapters of `design`, which `prose` has filled in.
    pub fn read(design: &Design, prose: &Prose, lexicon: &Lexicon) -> Self {
        read::text(design, prose, lexicon)
    }

    /// All sentences but captions.
    pub fn all(&self) -> impl Iterator<Item = At<'_>> {
        self.chapters.iter().flat_map(|chapter| {
            chapter.sections.iter().flat_map(move |section| {
                let sentences = section.sentences.iter();
                sentences.map(move |sentence| At {
                    chapter,
                    section,
                    sentence,
                })
            })
        })
    }

    /// The sentences of the steps.
    pub fn steps(&self) -> impl Iterator<Item = At<'_>> {
        self.all().filter(|at| at.section.step.is_some())
    }

    /// The steps with their chapters, in order.
    pub fn sections(&self) -> impl Iterator<Item = (&Chapter, &Section)> {
        let chapters = self.chapters.iter();
        chapters.flat_map(|chapter| {
            chapter
                .sections
                .iter()
                .map(move |section| (chapter, section))
        })
    }

    /// Whether there is any step.
    pub fn has_steps(&self) -> bool {
        self.steps().next().is_some()
    }
}

impl Figure {
    /// What it shows flat, if it does.
    pub fn flat(&self) -> Option<&FlatRequest> {
        self.request.as_ref()?.flat.as_ref()
    }
}

impl Section {
    /// The sentences of its running text: neither heads nor cautions.
    pub fn body(&self) -> impl Iterator<Item = &Sentence> {
        let sentences = self.sentences.iter();
        sentences.filter(|sentence| !sentence.is_head && !sentence.is_caution)
    }

    /// Where its head stands.
    pub fn place(&self, chapter: &Chapter) -> Place {
        chapter.filled.place(self.at)
    }
}
