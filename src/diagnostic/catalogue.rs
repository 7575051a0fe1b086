//! Every code a diagnostic may carry, with what `pressfoot explain CODE` says of it.

/// One code of the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The code as printed, lower case with hyphens.
    pub code: &'static str,
    /// What it means and why it matters, a few sentences.
    pub why: &'static str,
}

const fn entry_of(code: &'static str, why: &'static str) -> Entry {
    Entry { code, why }
}

/// All codes, in alphabetical order (a test sees to it).
pub const CATALOGUE: &[Entry] = &[
    entry_of(
        "label-without-room",
        "A piece's label found no place that is clear of every line, neither inside the piece nor \
         beside it on its plate. The piece is printed without its words, and the buyer has to tell \
         it by its shape.",
    ),
    entry_of(
        "piece-too-large",
        "A piece is so large that it would have to be joined from more sheets than anyone joins. \
         Most often a unit is wrong: cm where mm were meant.",
    ),
    entry_of(
        "seam-length",
        "Two edges that are sewn together differ in length by more than 0.1 mm, and no easing \
         that the design declares explains the difference. The buyer would find one edge hanging \
         over the other at the end of the seam.",
    ),
];

/// The entry for `code`, if there is one.
pub fn entry(code: &str) -> Option<&'static Entry> {
    CATALOGUE.iter().find(|e| e.code == code)
}
