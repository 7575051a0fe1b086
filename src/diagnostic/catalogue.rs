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
        "blank-page",
        "A page of the finished PDF carries no ink. The buyer pays paper for it and \
         wonders what is missing there.",
    ),
    entry_of(
        "font-embedded",
        "A font is used but not part of the PDF. On the buyer's machine another font \
         takes its place: words change their width, fractions and signs may vanish.",
    ),
    entry_of(
        "ink-margin",
        "Something is printed nearer to the edge of the page than printers can reach. \
         They leave it out without a word, and a piece or a mark loses its edge. On \
         plates 10 mm must stay free, on other pages 5 mm.",
    ),
    entry_of(
        "outline-off",
        "An outline was found in the finished PDF, but it differs from the computed one \
         by more than the tolerance. Two edges that are sewn together would no longer \
         have the same length.",
    ),
    entry_of(
        "page-size",
        "A page of the finished PDF is not the size of its paper. Print dialogs then \
         scale the page to fit, and nothing on it is true to scale any more.",
    ),
    entry_of(
        "pdf-tags",
        "The PDF lacks what screen readers and viewers need: a title, a language, \
         tagged content, the PDF/UA mark. Buyers who cannot see the page well cannot \
         read the booklet.",
    ),
    entry_of(
        "pdf-unreadable",
        "The finished PDF could not be read back. What pressfoot cannot read, a viewer \
         or a printer may refuse too, so nothing in it counts as proofed.",
    ),
    entry_of(
        "piece-missing",
        "A piece of the design is not in the finished PDF in one of its sizes, or not \
         as it was computed: mirrored, scaled, or drawn as another kind of line. The \
         buyer could not finish the thing in that size.",
    ),
    entry_of(
        "seam-length",
        "Two edges that are sewn together differ in length by more than 0.1 mm, and no \
         easing that the design declares explains the difference. The buyer would find \
         one edge hanging over the other at the end of the seam.",
    ),
    entry_of(
        "square-missing",
        "A page with pieces carries no test square. A print dialog may scale a single \
         page, so the buyer must be able to measure each one before cutting.",
    ),
    entry_of(
        "square-off",
        "A test square in the finished PDF is not exactly the size it claims. The buyer \
         would take a right print for a wrong one, or a wrong one for right.",
    ),
    entry_of(
        "tile-gap",
        "A piece spread over several sheets cannot be joined: part of its outline is on \
         no sheet, or neighbouring sheets overlap by less than 5 mm.",
    ),
];

/// The entry for `code`, if there is one.
pub fn entry(code: &str) -> Option<&'static Entry> {
    CATALOGUE.iter().find(|e| e.code == code)
}
