//! What is wrong with plates, figures, the text of the booklet and its files.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const PAGES: &[Entry] = &[
    entry_of(
        "booklet-text",
        "The typesetter could not set the text at this place as it stands. The message is the \
         typesetter's own; the place is the one in your Markdown.",
    ),
    entry_of(
        "booklet-thick",
        "A booklet of so many pages, folded and stapled, bulges at the fold, and a common stapler \
         does not reach through it. It can be printed all the same.",
    ),
    entry_of(
        "booklet-too-thick",
        "So many sheets cannot be folded into each other: the inner ones are pushed far out of the \
         outer ones. The stapled booklet is not made.",
    ),
    entry_of(
        "drawing-open",
        "The finished shoe is drawn from its form. A drawing whose outer line does not close \
         looks broken, so it is left out of the booklet. Another view, or another size, usually \
         closes.",
    ),
    entry_of(
        "feet-differ",
        "Left and right foot were traced and measured both. Where they differ by more than the \
         tolerance, one mirrored pattern would not fit one of them, and a pattern is drafted \
         for each.",
    ),
    entry_of(
        "feet-same-side",
        "The other foot must be the other side: its inner side lies at the other hand.",
    ),
    entry_of(
        "figure-block",
        "A fenced block with the word `figure` asks for a drawing. It holds YAML; which keys it \
         knows, and what they draw, stands in the guide for designers under Figures. Pieces, \
         edges, seams, notches, marks, stitches and sizes must be those of the design.",
    ),
    entry_of(
        "form-without-paper",
        "A further form of the instructions is asked for, but half pages, large print and the others are \
         set for A4 and US Letter only, and the design is sold for neither. No such file is made.",
    ),
    entry_of(
        "head-alone",
        "The head of a chapter stands at the foot of a page or on one of its own, since the first step \
         finds no room below it. A reader would turn the page to see what it is the head of.",
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
        "label-without-room",
        "A piece's label found no place that is clear of every line, neither inside the piece nor \
         beside it on its plate. The piece is printed without its words, and the buyer has to tell \
         it by its shape.",
    ),
    entry_of(
        "layers",
        "The layers of the finished PDF are not the sizes and the seam allowances of the design, or viewers would \
         not show all of them at first. A buyer could hide a part of the pattern without knowing it.",
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
        "look-face",
        "A typeface of your own must be one TrueType or OpenType file for each of its cuts, all of one \
         family, with all plain letters and figures. Its maker says in the file itself (table OS/2, \
         fsType) whether it may be embedded in a document; pressfoot keeps to it.",
    ),
    entry_of(
        "missing-glyph",
        "None of the typefaces of the booklet has this character. It would print as an empty \
         box, and an accessible PDF may not hold such text.",
    ),
    entry_of(
        "no-booklet",
        "A large sheet or a roll holds the plates and none of the instructions. A design that is sold for \
         nothing else has no booklet, so the buyer has nothing to sew by.",
    ),
    entry_of(
        "picture-alt",
        "Those who cannot see a picture hear the words that stand for it. An accessible PDF \
         must have them.",
    ),
    entry_of(
        "picture-ending",
        "Pictures are known by their content. One whose name ends otherwise builds all the same, \
         but other programs may not open it, and you may look for a fault in the wrong file.",
    ),
    entry_of(
        "picture-format",
        "Pictures are PNG, JPEG or SVG, known by their content and not by their name, and \
         have at most 100 megapixels. A photograph has red, green and blue; one in the four inks \
         of a press looks otherwise on each screen, so it is not guessed. An SVG picture holds shapes, letters, gradients and \
         clips; filters, masks, patterns and pictures within it are not set, and every \
         letter must be in the typefaces.",
    ),
    entry_of(
        "picture-missing",
        "The text names a picture that is not in the design folder.",
    ),
    entry_of(
        "picture-resolution",
        "Below 200 pixels per inch at its printed size a picture looks coarse, below 100 its pixels \
         show, and it is refused; 300 are good. What is more is made smaller in the booklet, never \
         in your folder.",
    ),
    entry_of(
        "piece-not-made",
        "A piece has neither an outline nor a message that says why. No booklet may lack a piece \
         in silence, so nothing is made.",
    ),
    entry_of(
        "piece-too-large",
        "A piece is so large that it would have to be joined from more sheets than anyone joins. \
         Most often a unit is wrong: cm where mm were meant.",
    ),
    entry_of(
        "shared-text",
        "`{% include \"name.md\" %}` puts a text into the chapter that several designs share. Such texts \
         lie in the folder `_shared` beside the designs; one may hold another, but not itself.",
    ),
    entry_of(
        "sizes-not-nested",
        "The sizes of a piece were to be drawn over each other, but their lines would run together, \
         their folds would not lie on one line, or their names would find no room beside their \
         lines. A buyer could cut along the wrong line, so the sizes of this piece stand side by \
         side.",
    ),
    entry_of("step-empty", "A step has a heading and no words under it."),
    entry_of(
        "step-too-tall",
        "A step is kept together with its drawing on one page, so that the reader's eyes need \
         not leave it. One that is taller than a page cannot be.",
    ),
    entry_of(
        "table-too-wide",
        "A table of the text has more columns than find room beside each other on the page; they \
         would print over each other.",
    ),
    entry_of(
        "template-endless",
        "A file of your own in `template/` is a program for the typesetter, and one that works without end \
         cannot be stopped by itself. When a booklet is not set after two minutes, or fills the memory, \
         pressfoot says so and ends.",
    ),
    entry_of(
        "template-error",
        "A file of your own in `template/` cannot be used by the typesetter. The message is \
         the typesetter's own.",
    ),
    entry_of(
        "template-unknown",
        "A file in `template/` replaces the file of the same name of the house template. One of \
         another name would do nothing, and you would look in vain for what it changes.",
    ),
    entry_of(
        "text-too-deep",
        "Lists in lists and quotes in quotes are set to a depth of ten levels.",
    ),
    entry_of(
        "text-too-long",
        "A chapter may be 256 KB long; that is about a hundred pages. Words that stand in a fixed place may \
         have fewer letters: a title or a name 120, a note 600, what is told at some length 4,000; a word has 30.",
    ),
    entry_of(
        "text-value",
        "The values of a chapter are filled in where it says `{{ … }}`; it may also choose \
         and repeat with `{% if %}` and `{% for %}`, and round or count what it prints. Something in such a tag cannot be \
         understood or does not come to an end.",
    ),
    entry_of(
        "typed-length",
        "A length in the text was typed, and is printed just like a value of the design. Typed lengths do \
         not change with the fit; a value in double braces does.",
    ),
    entry_of(
        "typesetter-broke-off",
        "The typesetter came upon something it cannot cope with and stopped in the middle. \
         Nothing was written. The cause is most often a picture or a template of the design.",
    ),
    entry_of(
        "unknown-value",
        "The text asks for a value that does not exist. Values have the names of formulas \
         with `_` for spaces, such as `{{ sole.toe_edge }}`; a misspelt one would leave a \
         hole in the instructions.",
    ),
    entry_of(
        "word-list",
        "A list of words, `_shared/glossary.en.yaml`, holds `words:` with a word and what it means, \
         and `units:` with a short form and what it stands for. It cannot be read.",
    ),
];
