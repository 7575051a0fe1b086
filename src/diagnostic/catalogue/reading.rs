//! What is wrong in the files of a design as they are read: the folder, the keys, the values.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const READING: &[Entry] = &[
    entry_of(
        "allowance",
        "An allowance is the strip of cloth outside the seam line. It cannot be less than \
         nothing, narrower than 0.1 mm nor wider than a metre, and the cut line it gives must be one closed line.",
    ),
    entry_of(
        "bad-name",
        "A name in the design cannot be used: it is too long, holds signs that have a \
         meaning in formulas (such as a dot or a plus), or is already the name of a unit \
         or of something else. Names are letters, digits, single spaces and hyphens.",
    ),
    entry_of(
        "cut-count",
        "The number of pieces to cut cannot be read. It is a number (2), a number of \
         pairs (1 pair, which is two pieces that mirror each other), or an even number \
         with the word mirrored.",
    ),
    entry_of(
        "cutting-colours",
        "A cutter knows what to do with a line by its colour alone. Where two kinds of lines \
         have the same colour, a fold would be cut, or a mark creased.",
    ),
    entry_of(
        "decimal-comma",
        "A number is written with a comma. Commas stand between the values of a list, so \
         decimals are written with a point in every language.",
    ),
    entry_of(
        "drawing",
        "An SVG drawing cannot be used: it is damaged, does not say how large it is, \
         lacks the path that the design names, or the path is not one closed line. A \
         piece must come from a drawing in true size.",
    ),
    entry_of(
        "duplicate-key",
        "The same key stands twice in one group. Only one of the two can be meant, and \
         pressfoot will not guess which.",
    ),
    entry_of(
        "easing",
        "The easing of a seam cannot be read. It is none, a share of the other edge (5 \
         %), a range of shares (4 % to 8 %) or a length (3 mm).",
    ),
    entry_of(
        "edition-number",
        "An edition is numbered with three numbers, such as 1.0.0, so that a buyer can \
         tell at a glance whether hers is the newest.",
    ),
    entry_of(
        "empty-value",
        "A key has no value, an empty one, or a sign where words must stand that can be read aloud \
         and looked up. Either the value was forgotten or the line is not needed.",
    ),
    entry_of(
        "file-missing",
        "A file that the design names is not in its folder, or the folder has no \
         design.yaml. Capital letters count: Toe.svg and toe.svg are two files.",
    ),
    entry_of(
        "fit-date",
        "A fit correction carries the date of the trial, so that a later reader can follow what \
         was tried when. Dates are written year first, as in 2026-10-04.",
    ),
    entry_of(
        "fit-side",
        "Some corrections move one side of the shoe alone: the height of the topline, the side \
         mark, what a side seam is taken in by. The others hold for the whole shoe.",
    ),
    entry_of(
        "fold-edge",
        "An edge that lies on the fold of the cloth, or on which a half is mirrored, must \
         be one straight line; and a piece is either cut on the fold or mirrored, not \
         both.",
    ),
    entry_of(
        "formula",
        "A formula cannot be understood or worked out. Formulas are made of values with \
         units, names, + - * / and parentheses, and the functions min, max, round, round \
         up, round down, sqrt and abs.",
    ),
    entry_of(
        "formula-cycle",
        "Formulas use each other in a circle, so that none of them can be worked out \
         first. The chain names them in turn; one of them needs a value that does not \
         hang on the others.",
    ),
    entry_of(
        "language-not-listed",
        "A file holds texts or chapters in a language that ‘languages:’ does not name as a further \
         one. It is not used, and no booklet is made in that language.",
    ),
    entry_of(
        "look-colour",
        "A colour is six digits from 0 to 9 and A to F, two each for red, green and blue. It stands \
         in quotation marks, for `#` begins a comment in YAML.",
    ),
    entry_of(
        "look-contrast",
        "Letters must stand out from the page for every reader, also on a worn printer: at least \
         4.5:1, by the contrast ratio of WCAG 2. The nearest colour that passes is named.",
    ),
    entry_of(
        "missing-head",
        "A chapter of the booklet begins with a head: a line of three dashes, then at \
         least its title, then three dashes again. Without it the booklet has no title \
         for the contents.",
    ),
    entry_of(
        "missing-key",
        "Something that every design needs is not there.",
    ),
    entry_of(
        "missing-translation",
        "A text, a chapter or a word of the program is missing in one of the design’s languages. \
         The booklet in that language is made all the same, with the words of the first language or \
         in English, which a reader may not understand.",
    ),
    entry_of(
        "no-allowance",
        "A piece is sewn in a seam, but nothing is said about its allowance. It would be \
         printed with the seam line as its cut line, and the finished thing would come \
         out too small. If that is meant, write allowance: none.",
    ),
    entry_of(
        "no-foot",
        "A formula or a tracing needs the foot of a size that has none. Every size of a \
         design that uses feet names a foot file.",
    ),
    entry_of(
        "no-shoe",
        "Pieces, values and corrections of a shoe come from the group `shoe` of design.yaml. \
         Without it there is nothing to draft them from.",
    ),
    entry_of(
        "no-unit",
        "A length or an angle is written as a bare number. Patterns mix inches and \
         millimetres, so a length without its unit is never guessed: write 5 mm or 3/16 \
         in.",
    ),
    entry_of(
        "not-a-text",
        "A translation holds the words of the design and nothing else, so that pieces, sizes and \
         amounts are the same in every language. What is no text of the design, or belongs to \
         nothing in it, has no place there.",
    ),
    entry_of(
        "not-utf-8",
        "A text file is not saved as UTF-8, so its letters cannot be told for certain. \
         Most editors offer the encoding when saving.",
    ),
    entry_of(
        "number-in-words",
        "Words of your own have other numbers than those of the house. A square of another size, or \
         another scale, would spoil what the buyer prints.",
    ),
    entry_of(
        "one-way",
        "Something is given in more than one way, or in none, where exactly one is \
         wanted: a piece has one shape, a tracing one outline, a notch one place.",
    ),
    entry_of(
        "open-outline",
        "The last edge of an outline does not lead back to the point where it began.",
    ),
    entry_of(
        "out-of-range",
        "A number is outside what can be meant: a length below nothing or above ten \
         metres, a foot of half a millimetre, a notch beyond the end of its edge. Usually \
         the unit is wrong.",
    ),
    entry_of(
        "outside-folder",
        "A path leads out of the design folder. Everything a design needs lies in its \
         folder, so that it can be kept, copied and built anywhere, and so that no other \
         file can ever find its way into a booklet.",
    ),
    entry_of(
        "picture-crop",
        "What is left of a picture after it is cropped has a shape, written as its width and height: \
         `4 x 3`. The focus says what stays in the middle of that shape.",
    ),
    entry_of(
        "place-left-out",
        "Words of your own leave out a place that pressfoot fills. A buyer would not be told what \
         stands there: an edition, a size, a paper.",
    ),
    entry_of(
        "price-unit",
        "The price of a cloth is for something in which it is not sold: for a sheet, where \
         only a width is given, or the other way round. It would count for nothing.",
    ),
    entry_of(
        "same-file-name",
        "Every piece and every size is written to a file or folder of its own name, with \
         hyphens for blanks. Two names that differ only in capitals, blanks or hyphens \
         would be one file on some computers, and one piece would take the other's place.",
    ),
    entry_of(
        "same-name",
        "Two things that must be told apart have the same name.",
    ),
    entry_of(
        "several-currencies",
        "Prices are added up, and sums in different currencies cannot be.",
    ),
    entry_of(
        "small-part",
        "Buttons, beads, buckles, eyelets and snaps that fit a cylinder 1 1/4 in across and 1 to \
         2 1/4 in deep are small parts (16 CFR 1501.4, EN 71-1): a child under three can choke on \
         them. The booklet names them in its caution, and a design cannot say that it need not.",
    ),
    entry_of(
        "small-part-size",
        "Whether a button or the like is a small part hangs on how large it is. One whose size is \
         not told is named in the caution, to be on the safe side.",
    ),
    entry_of(
        "small-part-unknown",
        "The caution names every trim that is a small part. What kind a trim is, pressfoot tells by its name, in \
         the design's language or in English; of one that is of no kind it knows it cannot tell, and a bell or a \
         toggle is a small part as much as a button.",
    ),
    entry_of(
        "too-large",
        "A file, a formula or a folder is larger than pressfoot reads, or a design has more sizes, pieces, papers \
         or figures. The limits are far above what a design needs; usually a wrong file has got into the folder, or \
         one design should be several.",
    ),
    entry_of(
        "tracing",
        "The tracing of a foot cannot be used: too few points, or a path that is not one \
         closed line.",
    ),
    entry_of(
        "trim-unit",
        "A price or a weight is for a length of a trim of which no length is cut, such as a button. \
         It would count for nothing.",
    ),
    entry_of(
        "unknown-cloth",
        "A piece is cut from a cloth that the design does not describe.",
    ),
    entry_of(
        "unknown-code",
        "Under `accepted:` stand codes of messages, as they are printed behind each. One that no message has would \
         accept nothing.",
    ),
    entry_of(
        "unknown-edge",
        "An edge is named that the piece does not have. Edges of drawn outlines have the \
         names the design gives them; a rectangle has top, right, bottom and left, an \
         ellipse a rim, a tracing a toe edge and a heel edge.",
    ),
    entry_of(
        "unknown-key",
        "A key is not known where it stands. It may be misspelt, or indented so that it \
         belongs to another group. Unknown keys are refused, because a misspelt allowance \
         that is passed over in silence would be a pattern without allowance.",
    ),
    entry_of(
        "unknown-name",
        "A formula uses a name that nothing has. Names are the measures of the design, \
         foot. with a measure of the foot, and a piece with a dot and one of its edges, \
         or width, height, perimeter, area.",
    ),
    entry_of(
        "unknown-paper",
        "The design asks for a paper that pressfoot has no page for.",
    ),
    entry_of(
        "unknown-piece",
        "A piece is named that the design does not have.",
    ),
    entry_of(
        "unknown-place",
        "A sentence of a table of words has a place in braces that pressfoot does not fill. It \
         would be printed with its braces.",
    ),
    entry_of(
        "unknown-point",
        "A point is named that is not among the points of its piece.",
    ),
    entry_of(
        "unknown-size",
        "The size named does not stand below `sizes` of the design.",
    ),
    entry_of(
        "unknown-unit",
        "A word stands where a unit is expected. Lengths are written in mm, cm, m, in, yd \
         or L (ligne, 1/40 in), angles in deg; a share is written with %.",
    ),
    entry_of(
        "unknown-word",
        "A word is none of those that are possible here.",
    ),
    entry_of(
        "unreadable",
        "A file or a folder cannot be read; the operating system's reason is given.",
    ),
    entry_of(
        "value-in-words",
        "Words of the design ask for a value, but values are filled in only in chapters, in \
         ‘about’ and in the words of sizes. Elsewhere the braces themselves would be printed.",
    ),
    entry_of(
        "words-of-weight",
        "Words by which the buyer prints at true scale, cuts along the right line or is kept from harm \
         were written anew. pressfoot cannot tell whether they still say so: read them beside those of \
         the house, and accept the warning.",
    ),
    entry_of(
        "wrong-dimension",
        "Unlike things are put together: a length and a plain number are added, or a \
         formula comes to an area where a length is wanted. A length times a length is an \
         area, a length divided by a length is a number.",
    ),
    entry_of(
        "wrong-type",
        "A value is of another kind than is wanted here: text where a list stands, a \
         group of keys where one value stands, words where yes or no is asked.",
    ),
    entry_of(
        "yaml",
        "The file cannot be read as YAML. The usual causes are a tab at the beginning of \
         a line, a missing space after a colon, a colon inside a value without quotation \
         marks, and lines of one group that do not stand exactly below each other.",
    ),
];
