//! What is to be read in the finished files, as it was meant: taken from the design, its text and the
//! plan of its plates, never from what was set.

use super::handover::cloth_names;
use super::phrases::{Aside, phrases};
use super::press::Press;
use super::{handed, placed};
use crate::booklet::markdown::Shown;
use crate::booklet::{self, Prose};
use crate::design::{ChapterKind, Design, Form, Paper, SizeLayout};
use crate::diagnostic::Diagnostics;
use crate::figure;
use crate::language::Words;
use crate::piece::{Cut, Piece, SizedPieces};
use crate::plates::{PlacedPiece, PlateSet, SQUARE_SIDES, Sheet, TextLine};
use crate::proof::{
    IntendedBook, IntendedFigure, IntendedLabel, IntendedPart, IntendedPlace, IntendedPlate,
    IntendedStep, IntendedWords,
};
use std::collections::BTreeMap;

/// What is to be read on `plates` with the pieces of `sizes`.
pub(super) fn of_plates(
    sizes: &[SizedPieces],
    plates: &PlateSet,
    design: &Design,
) -> IntendedWords {
    let words = &design.words;
    let names = SQUARE_SIDES.map(|side| match (side - 50.0_f64).abs() < 1e-9 {
        true => words.get("booklet.5 cm").to_string(),
        false => words.get("booklet.2 in").to_string(),
    });
    let plate = |sheet: &Sheet| plate(sheet, plates, (sizes, design));
    IntendedWords {
        book: None,
        plates: plates.sheets.iter().map(plate).collect(),
        squares: names.to_vec(),
    }
}

fn plate(
    sheet: &Sheet,
    plates: &PlateSet,
    (sizes, design): (&[SizedPieces], &Design),
) -> IntendedPlate {
    let words = &design.words;
    let (edition, paper) = plates.foot();
    let large = plates.paper.is_large();
    let scale = match large {
        true => ["booklet.foot print large", "booklet.foot measure large"],
        false => ["booklet.foot print", "booklet.foot measure"],
    };
    let bands = sheet.bands.iter().flat_map(|b| [&b.title, &b.words]);
    let names = sheet.pieces.iter().flat_map(|piece| &piece.names);
    let names = names.map(|label| label.lines.iter().map(|line| line.text.as_str()).collect());
    let captions = sheet.captions.iter().map(|line| line.text.clone());
    let paragraphs = sheet.paragraphs.iter().map(|p| p.text.clone());
    let line = |line: &TextLine| line.text.clone();
    IntendedPlate {
        head: head(sheet, plates, words),
        page: words.say("booklet.foot page", &[("n", &"{n}")]),
        edition: words.say(
            "booklet.foot edition",
            &[("edition", &edition), ("paper", &paper)],
        ),
        scale: scale.map(|key| words.get(key).to_string()).to_vec(),
        labels: sheet
            .labels
            .iter()
            .map(|label| label.lines.iter().map(line).collect())
            .collect(),
        names: bands
            .cloned()
            .chain(names)
            .chain(captions)
            .chain(paragraphs)
            .collect(),
        pieces: labels(sheet, sizes, design),
        places: sheet.pieces.iter().map(place).collect(),
        words_at: placed::words(sheet, sizes),
        marks: placed::marks(sheet),
    }
}

fn place(piece: &PlacedPiece) -> IntendedPlace {
    IntendedPlace {
        piece: piece.piece.clone(),
        sizes: piece.sizes.clone(),
        cut: piece.cut,
    }
}

/// `Plate 3`, `Plate 4, sheet a`; `Large sheet`, `Large sheet, plate 1 of 2`.
fn head(sheet: &Sheet, plates: &PlateSet, words: &Words) -> String {
    let (number, of) = (sheet.plate, plates.plate_count());
    let head = match plates.paper.is_large() {
        true if of > 1 => words.say("booklet.large sheet of", &[("n", &number), ("of", &of)]),
        true => words.get("booklet.large sheet").to_string(),
        false => words.say("booklet.plate", &[("n", &number)]),
    };
    match &sheet.letter {
        Some(letter) => {
            let letter = words.say("booklet.plate sheet", &[("sheet", letter)]);
            format!("{head}, {letter}")
        }
        None => head,
    }
}

/// What the labels of the pieces on a plate must say to cut.
fn labels(sheet: &Sheet, sizes: &[SizedPieces], design: &Design) -> Vec<IntendedLabel> {
    let cloth = cloth_names(design);
    let words = &design.words;
    let of_piece = |piece: &Piece| {
        let cut = |cut: &Cut| cut_words(cut, piece, &cloth, words);
        IntendedLabel {
            title: piece.title.clone(),
            number: piece.number,
            cuts: piece.cuts.iter().map(cut).collect(),
        }
    };
    let mut all = Vec::new();
    for placed in &sheet.pieces {
        // nested sizes have one label, made for the first of them
        let mut of_sizes = sizes
            .iter()
            .filter(|size| placed.sizes.contains(&size.size));
        let found = of_sizes.find_map(|size| size.pieces.iter().find(|p| p.key == placed.piece));
        all.extend(found.map(of_piece));
    }
    all
}

/// `Cut 2 wool felt, one turned over`.
fn cut_words(cut: &Cut, piece: &Piece, cloth: &[(String, String)], words: &Words) -> String {
    let name = cloth.iter().find(|(key, _)| *key == cut.material);
    let name = name.map_or(cut.material.as_str(), |(_, name)| name);
    let fold = piece
        .fold
        .as_ref()
        .map_or("", |_| words.get("plates.on fold"));
    let turned = match cut.count as usize / 2 {
        half if half > 0 && cut.mirrored => words.count("plates.turned", half, &[]),
        _ => String::new(),
    };
    let places: &[(&str, &dyn std::fmt::Display)] = &[
        ("count", &cut.count),
        ("cloth", &name),
        ("fold", &fold),
        ("turned", &turned),
    ];
    words.say("plates.cut", places)
}

impl Press<'_> {
    /// What is to be read in the text of the booklets, and in that of their further forms.
    pub(super) fn books(&self, paper: &Paper) -> [IntendedBook; 2] {
        let words = &self.computed.design.words;
        let (mut parts, files) = (self.text_parts(), BTreeMap::new());
        let computed = self.computed;
        let cloth = cloth_names(&computed.design);
        let mut key = figure::listing(&computed.sizes, &cloth, words);
        // that of a size drawn over others hangs on the plates, as its cut line does
        if computed.design.size_layout == SizeLayout::Nested {
            key.data["lines"]["seam"] = false.into();
        }
        parts.insert("key".into(), key.data);
        let request = self.request(&self.prose, paper, (&parts, &files), false);
        let mut data = booklet::data::data(&request, &mut Diagnostics::default());
        if let Some(alt) = self.drawings.cover_alt() {
            data["cover"]["alt"] = alt.into();
        }
        let book = IntendedBook {
            contents: words.get("booklet.contents").to_string(),
            chapters: self
                .prose
                .chapters
                .iter()
                .map(|c| c.title.clone())
                .collect(),
            cover: Some(handed::cover(&data, words)),
            parts: handed::parts(&data, &self.prose, words, false),
            to_print: IntendedPart::default(),
            steps: steps(&self.prose, &self.computed.design),
            figures: self.prose.shown.iter().map(|s| self.figure(s)).collect(),
        };
        let form = IntendedBook {
            parts: handed::parts(&data, &self.prose, words, true),
            ..book.clone()
        };
        [book, form]
    }

    /// What is to be read in a form, in which drawings with larger letters have another shape.
    pub(super) fn in_form(&self, form: Form, mut book: IntendedBook) -> IntendedBook {
        let Some(lettered) = self.drawings.lettered(form) else {
            return book;
        };
        for (figure, shown) in book.figures.iter_mut().zip(&self.prose.shown) {
            let larger = shown.drawing.and_then(|number| lettered.shape(number));
            figure.shape = larger.or(figure.shape);
        }
        book
    }

    fn figure(&self, shown: &Shown) -> IntendedFigure {
        let alt = shown.drawing.and_then(|number| self.drawings.alt(number));
        IntendedFigure {
            alt: alt.unwrap_or(&shown.alt).to_string(),
            phrases: shown.caption.as_deref().map(phrases).unwrap_or_default(),
            shape: shown.drawing.and_then(|number| self.drawings.shape(number)),
        }
    }
}

/// The steps with their heads and words, as far as they are plain.
fn steps(prose: &Prose, design: &Design) -> Vec<IntendedStep> {
    let mut steps: Vec<IntendedStep> = Vec::new();
    let chapters = design.chapters.iter().zip(&prose.filled);
    for (_, filled) in chapters.filter(|(chapter, _)| chapter.kind == ChapterKind::Steps) {
        let first = steps.len();
        let mut aside = Aside::default();
        for line in filled.text.lines() {
            if aside.holds(line) {
                continue;
            }
            if let Some(title) = line.strip_prefix("## ") {
                steps.push(IntendedStep {
                    title: plain_title(title),
                    phrases: Vec::new(),
                });
            } else if let Some(step) = steps[first..].last_mut() {
                step.phrases.extend(phrases(line));
            }
        }
    }
    // heads written otherwise: the numbers alone are looked at
    match steps.len() == prose.steps.len() {
        true => steps,
        false => vec![IntendedStep::default(); prose.steps.len()],
    }
}

/// A head without markup; `None` if it holds any.
fn plain_title(title: &str) -> Option<String> {
    let plain = !title.contains(['[', '`', '&', '<', '{', '!', '\\']);
    plain.then(|| title.trim().trim_end_matches('#').to_string())
}
