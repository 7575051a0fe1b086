//! An edition as it is kept in `editions/1.1.0.yaml`: what was sold. Lengths in mm and areas in mm²,
//! rounded to 0.001; outlines as SVG path data in mm, y down, in the axes of each piece.

use super::Version;
use crate::design::{Dimension, FitChange};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Under what the program's own templates stand among the look of a design.
pub const HOUSE: &str = "pressfoot";

/// With what the names of the program's own words, one set for each language, begin there.
pub const HOUSE_WORDS: &str = "words ";

/// How the grain line is called among the marks of a piece; its coordinates are those of both ends.
pub const GRAIN: &str = "grain";

/// Version of the form of the file; raised when the meaning of a key changes.
pub const SCHEMA: u32 = 1;

/// A released edition.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// [`SCHEMA`] when it was written.
    pub schema: u32,
    /// Its number.
    pub edition: Version,
    /// The day it was released, year first.
    pub on: String,
    /// What is new, in words, by language.
    pub note: BTreeMap<String, String>,
    /// Hash of note and content: a file that was changed by hand is known by it.
    pub seal: String,
    /// What was sold.
    pub content: Content,
}

/// All that is printed of a design, and all that it was computed to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Content {
    /// Name of the design's folder; unknown of editions kept without it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub design: String,
    /// Title of the design.
    pub title: String,
    /// Papers it is sold for, forms of the instructions, languages.
    pub sold: Sold,
    /// The fit corrections that are in the pieces.
    pub fit: Vec<FitRecord>,
    /// The sizes, in order.
    pub sizes: Vec<SizeRecord>,
    /// What to buy: each thing with its words as they are printed.
    pub materials: Vec<Listed>,
    /// The pages on each paper; unknown of a design that was not set.
    pub pages: Vec<PaperRecord>,
    /// Hashes of what has no words: pictures, typefaces, templates, keys of the design's files.
    pub hashes: BTreeMap<String, BTreeMap<String, String>>,
    /// The text, by language.
    pub text: Vec<LanguageText>,
}

/// What is sold.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sold {
    /// Keys of the papers.
    pub papers: Vec<String>,
    /// Forms of the instructions.
    pub forms: Vec<String>,
    /// Languages of the texts.
    pub languages: Vec<String>,
}

/// A fit correction.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FitRecord {
    /// The day, year first.
    pub on: String,
    /// What was changed.
    pub change: String,
    /// By how much: mm, or degrees.
    pub by: f64,
    /// The only size it holds for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Why.
    pub why: String,
}

impl FitRecord {
    /// What its `by` measures: an angle is said as one.
    pub fn dimension(&self) -> Dimension {
        let mut all = FitChange::ALL.into_iter();
        let angle = all.any(|(words, change)| {
            change.dimension() == Dimension::Angle && self.change.contains(words)
        });
        if angle {
            Dimension::Angle
        } else {
            Dimension::Length
        }
    }

    /// Whether it is the same correction, whatever words give the reason.
    pub fn is_same(&self, other: &Self) -> bool {
        (&self.on, &self.change, &self.size) == (&other.on, &other.change, &other.size)
            && (self.by - other.by).abs() < 2e-3
    }
}

/// A size.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SizeRecord {
    /// Key.
    pub size: String,
    /// As printed.
    pub title: String,
    /// Key as declared: that of both feet where they take patterns of their own.
    pub declared: String,
    /// Lengths that formulas and text may name, mm.
    pub values: BTreeMap<String, f64>,
    /// The seams.
    pub seams: Vec<SeamRecord>,
    /// The pieces, in order.
    pub pieces: Vec<PieceRecord>,
}

/// A seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeamRecord {
    /// Name.
    pub seam: String,
    /// Piece and edge of both sides.
    pub joins: [String; 2],
    /// Lengths of both sides, mm.
    pub lengths: [f64; 2],
    /// Easing, percent.
    pub easing: f64,
}

/// A piece in one size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PieceRecord {
    /// Key.
    pub piece: String,
    /// Its number.
    pub number: usize,
    /// As printed.
    pub title: String,
    /// Words of its label.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// What is cut.
    pub cut: Vec<String>,
    /// Area within the seam line, mm².
    pub area: f64,
    /// The edges of the seam line in order: it is their paths, one after the other.
    pub edges: Vec<EdgeRecord>,
    /// The cut line.
    #[serde(rename = "cut line")]
    pub cut_line: String,
    /// Notches.
    pub notches: Vec<MarkRecord>,
    /// Marks inside, the grain line, the edge on the fold and the common point.
    pub marks: Vec<MarkRecord>,
}

/// An edge.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EdgeRecord {
    /// Name.
    pub edge: String,
    /// Length, mm.
    pub length: f64,
    /// Allowance, mm.
    pub allowance: f64,
    /// Its course.
    pub path: String,
}

/// A notch or a mark: what it is, and its coordinates or lengths in mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkRecord {
    /// In words.
    pub mark: String,
    /// Where.
    pub at: Vec<f64>,
}

/// Something to buy, or a tool.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Listed {
    /// Kind and key: `cloth outer`, `trim button`, `thread`, `tools`.
    pub what: String,
    /// As printed.
    pub words: Vec<String>,
}

/// The pages on one paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaperRecord {
    /// Key of the paper, in a further language after its tag.
    pub paper: String,
    /// Pages in all.
    pub pages: usize,
    /// What stands on each plate, by its number from 1.
    pub plates: Vec<Vec<PlacedRecord>>,
}

/// A piece on a plate.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlacedRecord {
    /// Key of the size.
    pub size: String,
    /// Key of the piece.
    pub piece: String,
}

/// The text in one language.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LanguageText {
    /// The language's tag.
    pub language: String,
    /// What the design says of itself and its pieces, by path.
    pub words: BTreeMap<String, String>,
    /// The chapters, in order.
    pub chapters: Vec<ChapterRecord>,
}

/// A chapter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChapterRecord {
    /// Title.
    pub chapter: String,
    /// Whether its sections are steps.
    pub steps: bool,
    /// Its sections: what stands before the first head has none.
    pub sections: Vec<SectionRecord>,
}

/// A section of a chapter: a step, where the chapter is one of steps.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SectionRecord {
    /// Head.
    pub head: String,
    /// Hash of the text.
    pub hash: String,
    /// The text, its values filled in.
    pub text: String,
}

impl Record {
    /// What its seal should be.
    pub fn sealed(&self) -> String {
        let said = (&self.note, &self.content);
        hash(serde_json::to_string(&said).unwrap_or_default().as_bytes())
    }

    /// The same with its seal set anew.
    #[must_use]
    pub fn with_seal(mut self) -> Self {
        self.seal = self.sealed();
        self
    }
}

/// The first 32 hexadecimal figures of the BLAKE3 hash of `bytes`: half of it is more than enough to
/// tell files of one design apart.
pub fn hash(bytes: &[u8]) -> String {
    let mut text = blake3::hash(bytes).to_hex().to_string();
    text.truncate(32);
    text
}
