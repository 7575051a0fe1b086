//! What the proof finds wrong in a finished PDF.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const PROOF: &[Entry] = &[
    entry_of(
        "blank-page",
        "A page of the finished PDF carries no ink. The buyer pays paper for it and \
         wonders what is missing there.",
    ),
    entry_of(
        "bookmarks",
        "A size or a piece has no bookmark in the finished PDF, or its bookmark leads to another page. A \
         buyer who looks for one piece would print the wrong page.",
    ),
    entry_of(
        "chapter-missing",
        "A chapter is not in the finished booklet, stands there twice, or in another order. Who sews by the \
         booklet misses what it says, or does things before their time.",
    ),
    entry_of(
        "contents-page",
        "A line of the contents names another page than the one its chapter begins on, leads elsewhere, or \
         is missing. A reader who trusts it leafs through the booklet, or prints the wrong pages.",
    ),
    entry_of(
        "figure-missing",
        "A figure of the text is not in the finished booklet, cannot be seen there, or has lost its \
         caption. The words beside it count on it, and sewers often follow the figures alone.",
    ),
    entry_of(
        "fold-mark",
        "A sheet of the stapled booklet does not show above and below the trim where it is folded. Folded \
         beside the middle, the pages would stand askew.",
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
         plates 10 mm must stay free, on other pages 7 mm.",
    ),
    entry_of(
        "label-disagrees",
        "A plate does not say what was computed for it: a label, the name of a mark or the head of a size \
         is missing or says something else. The buyer cuts by the label, which lies with the piece long \
         after the booklet is put away.",
    ),
    entry_of(
        "label-place",
        "Words or marks of a plate do not stand beside the piece where they belong: they were moved, given \
         to another piece or left out. The buyer cuts one piece by the label of another, or joins sheets \
         that do not meet.",
    ),
    entry_of(
        "line-too-thin",
        "A line is so thin that home printers leave it out or break it up, and a press may lose it. A \
         quarter of a point (0.09 mm) is the hairline of the trade, twice that is safe.",
    ),
    entry_of(
        "low-contrast",
        "Words or a line are too pale against what is under them: many readers, and every reader in poor \
         light or with a print in grey, cannot make them out. Text needs a contrast of 4.5:1, lines \
         3:1 (WCAG 2).",
    ),
    entry_of(
        "not-black",
        "Black letters of a file for a print shop are not painted in black only. Printed with several inks, \
         or converted from a colour for screens, small letters come out with coloured edges.",
    ),
    entry_of(
        "outline-off",
        "An outline was found in the finished PDF, but it differs from the computed one \
         by more than the tolerance. Two edges that are sewn together would no longer \
         have the same length.",
    ),
    entry_of(
        "page-boxes",
        "A page says to printers where it is trimmed and how far ink may run over the trim: the TrimBox \
         lies in the BleedBox, and that in the MediaBox. Otherwise the page is cut at a wrong place.",
    ),
    entry_of(
        "page-labels",
        "Viewers show a label for each page; pages of plates are called after their plates. With other \
         labels a buyer who is told to print some plates would choose the wrong pages.",
    ),
    entry_of(
        "page-number",
        "The number printed on a page or a plate is not its own. Contents, references and the print window \
         all count the pages from the first, so the buyer prints the wrong ones.",
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
        "piece-hidden",
        "Part of an outline in the finished PDF is painted over by something drawn after it, so \
         that the buyer does not see where to cut or sew.",
    ),
    entry_of(
        "piece-missing",
        "A piece of the design is not in the finished PDF in one of its sizes, or not \
         as it was computed: mirrored, scaled, or drawn as another kind of line. The \
         buyer could not finish the thing in that size.",
    ),
    entry_of(
        "piece-twice",
        "The cut line of a piece is drawn more often than it is needed in one size. The buyer \
         cannot tell which to cut along, or cuts the piece twice.",
    ),
    entry_of(
        "plate-edition",
        "A plate does not tell its edition. Plates of two editions cannot be told apart on the table, and \
         pieces of both get sewn together.",
    ),
    entry_of(
        "plate-scale-words",
        "A plate does not say to print it at true scale and to measure its squares. It is the only page \
         that many buyers look at before they print.",
    ),
    entry_of(
        "plate-type-size",
        "Words on a plate are too small to be read at the sewing table: below 6 points prints of home \
         printers fill in (common practice).",
    ),
    entry_of(
        "press-line-thin",
        "A line of a file for a print shop is so thin that it breaks up in print or vanishes.",
    ),
    entry_of(
        "print-scaling",
        "The finished PDF does not ask viewers to print without scaling, so that a print window may offer to fit \
         the page.",
    ),
    entry_of(
        "same-dash",
        "Sizes that are drawn over each other are told apart by their dashes, since many buyers print \
         in black only or do not see colours well. Two of them look the same here, and one would be \
         cut for the other.",
    ),
    entry_of(
        "square-corners",
        "A large sheet carries its test squares twice, at one corner and at the opposite one: a machine \
         that draws the paper in unevenly prints one end right and the other wrong.",
    ),
    entry_of(
        "square-line",
        "The line of a test square is so thick that no one can measure to its middle. Whether the print is \
         true cannot be told.",
    ),
    entry_of(
        "square-missing",
        "A page with pieces carries no test square. A print dialog may scale a single \
         page, so the buyer must be able to measure each one before cutting.",
    ),
    entry_of(
        "square-name",
        "A test square does not bear the length of its own sides, or bears that of the other one. The buyer \
         takes a true print for a wrong one, and sets a wrong scale.",
    ),
    entry_of(
        "square-off",
        "A test square in the finished PDF is not exactly the size it claims. The buyer \
         would take a right print for a wrong one, or a wrong one for right.",
    ),
    entry_of(
        "square-over-piece",
        "A test square lies over a line of a piece. Neither can be followed, and the buyer may cut along \
         the square.",
    ),
    entry_of(
        "stapled-order",
        "A side of a sheet holds other pages than folding puts there: the stapled booklet would be read in \
         the wrong order.",
    ),
    entry_of(
        "stapled-page",
        "What is on a side of a sheet is not what is on its pages, or lies elsewhere than trimming and creep \
         ask for.",
    ),
    entry_of(
        "step-numbers",
        "The steps are not numbered one after the other as they were written, or a number stands before \
         another step's head. Where a step refers to another, the reader does the wrong one.",
    ),
    entry_of(
        "stray-outline",
        "A page with pieces carries a closed line as wide as a cut line that belongs to no piece \
         of the design. The buyer would cut along it.",
    ),
    entry_of(
        "text-cut",
        "Words end at the edge of a box or of the page, are painted over, or are not there at all: the \
         reader misses what they say, and may not even see that something is missing.",
    ),
    entry_of(
        "text-over-line",
        "A line runs through words. Neither can be followed: the letters are hard to read, and the line \
         cannot be cut or sewn along for sure.",
    ),
    entry_of(
        "text-over-text",
        "Words lie over other words, so that neither can be read.",
    ),
    entry_of(
        "tile-gap",
        "A piece spread over several sheets cannot be joined: part of its outline is on \
         no sheet, or neighbouring sheets overlap by less than 5 mm.",
    ),
    entry_of(
        "tile-join",
        "The sheets of a piece are joined by their marks: each half ring closes with its other \
         half. Cut at their trim lines and joined so, the sheets must give the piece to 0.01 mm. Where \
         the outlines on a sheet are moved against its marks, or a mark stands elsewhere, the piece \
         comes out with a jog at the joint.",
    ),
    entry_of(
        "type-size",
        "Letters of the running text are smaller than this form of the instructions promises, or than anyone \
         can read. Those who need large print could not read it.",
    ),
    entry_of(
        "words-missing",
        "The finished booklet does not print what was handed over for a chapter or the cover, or prints \
         it otherwise: a count, an amount, a caution. The buyer cuts and sews by what is printed.",
    ),
];
