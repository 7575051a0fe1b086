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
        "booklet-text",
        "The typesetter could not set the text at this place as it stands. The message is the \
         typesetter's own; the place is the one in your Markdown.",
    ),
    entry_of(
        "figure-block",
        "A fenced block with the word `figure` asks for a drawing. It holds YAML with the \
         keys `pieces`, `size`, `caption` and `alt`; the pieces and the size must be those of \
         the design.",
    ),
    entry_of(
        "heading-empty",
        "A heading without words makes an empty line in the contents and nothing to read \
         aloud.",
    ),
    entry_of(
        "heading-level",
        "The title of a chapter stands in the head of its file, so the text begins with `##`. \
         Two titles in one chapter would make two chapters in the contents and confuse a \
         screen reader.",
    ),
    entry_of(
        "html-as-text",
        "Markdown lets HTML through to web pages. A booklet is no web page: the tags are \
         printed as they stand, which is seldom what was meant.",
    ),
    entry_of(
        "internal-template",
        "The template that pressfoot brings along, or the way it is used, is at fault. \
         Nothing in the design is wrong.",
    ),
    entry_of(
        "link-scheme",
        "A link in a booklet may lead to a web page or a mail address. Other schemes open \
         programs or files on the reader's machine and are refused.",
    ),
    entry_of(
        "link-target",
        "A path or an anchor means something on a web site but leads nowhere from a printed \
         page or a PDF file.",
    ),
    entry_of(
        "missing-glyph",
        "None of the typefaces of the booklet has this character. It would print as an empty \
         box, and an accessible PDF may not hold such text.",
    ),
    entry_of(
        "picture-alt",
        "Those who cannot see a picture hear the words that stand for it. An accessible PDF \
         must have them.",
    ),
    entry_of(
        "picture-format",
        "Pictures are PNG, JPEG or SVG, known by their content and not by their name, and \
         have at most 100 megapixels.",
    ),
    entry_of(
        "picture-missing",
        "The text names a picture that is not in the design folder.",
    ),
    entry_of(
        "picture-resolution",
        "Below 150 pixels per inch at its printed size a picture looks coarse; 300 are good.",
    ),
    entry_of(
        "seam-length",
        "Two edges that are sewn together differ in length by more than 0.1 mm, and no easing \
         that the design declares explains the difference. The buyer would find one edge \
         hanging over the other at the end of the seam.",
    ),
    entry_of("step-empty", "A step has a heading and no words under it."),
    entry_of(
        "step-too-tall",
        "A step is kept together with its drawing on one page, so that the reader's eyes need \
         not leave it. One that is taller than a page cannot be.",
    ),
    entry_of(
        "template-error",
        "A file of your own in `template/` cannot be used by the typesetter. The message is \
         the typesetter's own.",
    ),
    entry_of(
        "text-too-deep",
        "Lists in lists and quotes in quotes are set to a depth of ten levels.",
    ),
    entry_of(
        "text-too-long",
        "A chapter may be 256 KB long; that is about a hundred pages.",
    ),
    entry_of(
        "text-value",
        "The values of a chapter are filled in where it says `{{ … }}`; it may also choose \
         and repeat with `{% if %}` and `{% for %}`. Something in such a tag cannot be \
         understood or does not come to an end.",
    ),
    entry_of(
        "unknown-value",
        "The text asks for a value that does not exist. Values have the names of formulas \
         with `_` for spaces, such as `{{ sole.toe_edge }}`; a misspelt one would leave a \
         hole in the instructions.",
    ),
];

/// The entry for `code`, if there is one.
pub fn entry(code: &str) -> Option<&'static Entry> {
    CATALOGUE.iter().find(|e| e.code == code)
}
