//! The texts of a design in another language, by their paths in `design.yaml`.

use super::chapter::Chapter;
use super::length_style::LengthStyle;
use crate::diagnostic::SourceText;
use crate::language::Words;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The texts of a design in a further language.
#[derive(Debug, Clone, PartialEq)]
pub struct Translation {
    /// The language's tag.
    pub language: String,
    /// The words that are printed besides the design's own.
    pub words: Words,
    /// How lengths are printed.
    pub lengths: LengthStyle,
    /// Texts by path, e.g. `pieces.toe.title`, `tools.0`.
    pub texts: BTreeMap<String, String>,
    /// Words that the booklet explains in this language, and what they mean.
    pub glossary: Vec<(String, String)>,
    /// The chapters; those that are not translated in the design's own language.
    pub chapters: Vec<Chapter>,
    /// The file of the texts, if there is one.
    pub source: Option<Arc<SourceText>>,
}

/// Keys of lists that hold texts; a single value counts as a list of one.
pub const LISTS: [&str; 9] = [
    "tools",
    "editions",
    "faults",
    "fit",
    "holes",
    "eyelets",
    "buttons",
    "buttonholes",
    "lines",
];

/// Group of the words that call the seams of the design in a further language.
pub const SEAM_NAMES: &str = "seam names";
