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
        "foot-length",
        "The traced foot is shorter than 10 mm or longer than 350 mm. No doll and hardly anybody \
         has such a foot; most often the tracing's numbers are in another unit than the file says.",
    ),
    entry_of(
        "seam-length",
        "Two edges that are sewn together differ in length by more than 0.1 mm, and no easing \
         that the design declares explains the difference. The buyer would find one edge hanging \
         over the other at the end of the seam.",
    ),
    entry_of(
        "tracing-crosses",
        "The line of a traced foot crosses itself, so that it has no inside. Usually two points \
         stand in the wrong order, or the pencil went round more than once.",
    ),
    entry_of(
        "tracing-doubles-back",
        "On one side of a traced foot the line turns back towards the toe. Pieces are drafted by \
         going along the foot from heel to toe, and there would be two places at one distance \
         from the heel.",
    ),
    entry_of(
        "tracing-marks",
        "The marks for the centre heel and the centre toe do not lie at the ends of the traced \
         foot. They give the direction in which the foot is measured and laid on the page.",
    ),
    entry_of(
        "tracing-points",
        "The tracing of a foot cannot be used: it has too few points, is not one closed line, or \
         encloses nothing once half the pencil line is taken off.",
    ),
];

/// The entry for `code`, if there is one.
pub fn entry(code: &str) -> Option<&'static Entry> {
    CATALOGUE.iter().find(|e| e.code == code)
}
