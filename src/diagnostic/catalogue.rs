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
        "allowance",
        "An allowance is the strip of cloth outside the seam line. It cannot be less than \
         nothing, and the cut line it gives must be one closed line.",
    ),
    entry_of(
        "allowance-swallows",
        "The cut line keeps the allowance's distance from the seam line. In a hollow or a \
         sharp inner corner there may be no room for it: the cut lines of both sides meet \
         before they reach the corner, and the buyer could not cut or sew there.",
    ),
    entry_of(
        "bad-name",
        "A name in the design cannot be used: it is too long, holds signs that have a \
         meaning in formulas (such as a dot or a plus), or is already the name of a unit \
         or of something else. Names are letters, digits, single spaces and hyphens.",
    ),
    entry_of(
        "blank-page",
        "A page of the finished PDF carries no ink. The buyer pays paper for it and \
         wonders what is missing there.",
    ),
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
        "bookmarks",
        "A size or a piece has no bookmark in the finished PDF, or its bookmark leads to another page. A \
         buyer who looks for one piece would print the wrong page.",
    ),
    entry_of(
        "corner-radius",
        "The rounded corners of a rectangle meet in the middle of its sides at the most.",
    ),
    entry_of(
        "cut-count",
        "The number of pieces to cut cannot be read. It is a number (2), a number of \
         pairs (1 pair, which is two pieces that mirror each other), or an even number \
         with the word mirrored.",
    ),
    entry_of(
        "cut-odd",
        "Where left and right foot take patterns of their own, each gets half of what is cut. \
         An odd number cannot be halved.",
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
        "drawing-edges",
        "An outline drawn in an SVG file is parted into edges at its corners. Seams, \
         notches and allowances name those edges, so each stretch needs its name.",
    ),
    entry_of(
        "drawing-open",
        "The finished shoe is drawn from its form. A drawing whose outer line does not close \
         looks broken, so it is left out of the booklet. Another view, or another size, usually \
         closes.",
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
        "edge-twice",
        "Seams, notches and allowances speak of an edge by its name; two edges of one name \
         cannot be told apart.",
    ),
    entry_of(
        "edition-number",
        "An edition is numbered with three numbers, such as 1.0.0, so that a buyer can \
         tell at a glance whether hers is the newest.",
    ),
    entry_of(
        "empty-value",
        "A key has no value, or an empty one. Either the value was forgotten or the line \
         is not needed.",
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
        "A fenced block with the word `figure` asks for a drawing. It holds YAML with the \
         keys `pieces`, `size`, `caption` and `alt`; the pieces and the size must be those of \
         the design.",
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
        "fold-across",
        "A piece on the fold, or one that is mirrored, is drawn as a half: all of it lies on \
         one side of the fold line. What lies beyond would be cut twice, or not at all.",
    ),
    entry_of(
        "fold-curved",
        "Cloth folds along a straight line only. An edge that lies on the fold, or about \
         which a half is mirrored, must be straight.",
    ),
    entry_of(
        "fold-edge",
        "An edge that lies on the fold of the cloth, or on which a half is mirrored, must \
         be one straight line; and a piece is either cut on the fold or mirrored, not \
         both.",
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
        "foot-length",
        "The traced foot is shorter than 10 mm or longer than 350 mm. No doll and hardly anybody \
         has such a foot; most often the tracing's numbers are in another unit than the file says.",
    ),
    entry_of(
        "foot-missing",
        "A piece that is made from a tracing needs the foot of each size.",
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
        "formula-value",
        "A formula has no value in one of the sizes: it divides by nothing, takes the root \
         of a negative number, or gives something other than what is wanted.",
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
        "ink-margin",
        "Something is printed nearer to the edge of the page than printers can reach. \
         They leave it out without a word, and a piece or a mark loses its edge. On \
         plates 10 mm must stay free, on other pages 7 mm.",
    ),
    entry_of(
        "inset-too-large",
        "Moved inward that far, the outline vanishes or falls into two parts: no piece \
         could be cut.",
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
        "low-contrast",
        "Words or a line are too pale against what is under them: many readers, and every reader in poor \
         light or with a print in grey, cannot make them out. Text needs a contrast of 4.5:1, lines \
         3:1 (WCAG 2).",
    ),
    entry_of(
        "mark-outside",
        "A hole, eyelet, buttonhole or line that lies off the piece, or reaches over its seam \
         line, cannot be marked on the cloth. Of a button only the middle must lie on the piece.",
    ),
    entry_of(
        "measure-disagrees",
        "Each measure is possible alone, but no smooth foot has all of them. One of the \
         group named was misread; the form keeps as near to all as it can, so its pieces \
         may not fit. Tape again at the marks, with the strip neither slack nor drawn in.",
    ),
    entry_of(
        "measure-missing",
        "A shoe is drafted from the tracing and the tape measures together. Without a \
         measure the body of the foot cannot be known, or only roughly.",
    ),
    entry_of(
        "measure-range",
        "The measures of a foot hang together: a girth cannot be shorter than the width and \
         height it goes round, nor longer than a box about them. A measure beyond its range \
         was misread, taken at another place, or written in another unit.",
    ),
    entry_of(
        "missing-glyph",
        "None of the typefaces of the booklet has this character. It would print as an empty \
         box, and an accessible PDF may not hold such text.",
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
        "no-allowance",
        "A piece is sewn in a seam, but nothing is said about its allowance. It would be \
         printed with the seam line as its cut line, and the finished thing would come \
         out too small. If that is meant, write allowance: none.",
    ),
    entry_of(
        "no-cut",
        "The label of a piece and the list of what to cut tell the buyer how many to cut and of \
         what. A piece without `cut` leaves her guessing.",
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
        "not-black",
        "Black letters of a file for a print shop are not painted in black only. Printed with several inks, \
         or converted from a colour for screens, small letters come out with coloured edges.",
    ),
    entry_of(
        "not-positive",
        "A width, height, radius, diameter or the length of a mark must be more than nothing.",
    ),
    entry_of(
        "not-utf-8",
        "A text file is not saved as UTF-8, so its letters cannot be told for certain. \
         Most editors offer the encoding when saving.",
    ),
    entry_of(
        "notch-alone",
        "A notch on one edge of a seam has no partner on the other, so the buyer cannot \
         tell what it meets.",
    ),
    entry_of(
        "notch-apart",
        "Two notches that should meet when the edges are laid together stand apart: the \
         buyer would shift one edge along the other.",
    ),
    entry_of(
        "notch-no-seam",
        "A notch can only be carried over to the partner's edge if a seam joins the two \
         edges.",
    ),
    entry_of(
        "notch-off-edge",
        "A notch stands on its edge, between the start and the end.",
    ),
    entry_of(
        "one-shape",
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
        "outline-crosses",
        "The seam line of a piece must be one closed line that neither crosses nor touches \
         itself; otherwise it cannot be cut or sewn.",
    ),
    entry_of(
        "outline-empty",
        "The outline encloses nothing, or one of its coordinates is no number.",
    ),
    entry_of(
        "outline-off",
        "An outline was found in the finished PDF, but it differs from the computed one \
         by more than the tolerance. Two edges that are sewn together would no longer \
         have the same length.",
    ),
    entry_of(
        "outline-open",
        "The last edge of an outline must end where the first begins.",
    ),
    entry_of(
        "outside-folder",
        "A path leads out of the design folder. Everything a design needs lies in its \
         folder, so that it can be kept, copied and built anywhere, and so that no other \
         file can ever find its way into a booklet.",
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
        "picture-alt",
        "Those who cannot see a picture hear the words that stand for it. An accessible PDF \
         must have them.",
    ),
    entry_of(
        "picture-format",
        "Pictures are PNG, JPEG or SVG, known by their content and not by their name, and \
         have at most 100 megapixels. An SVG picture holds shapes, letters, gradients and \
         clips; filters, masks, patterns and pictures within it are not set, and every \
         letter must be in the typefaces.",
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
        "piece-twice",
        "The cut line of a piece is drawn more often than it is needed in one size. The buyer \
         cannot tell which to cut along, or cuts the piece twice.",
    ),
    entry_of(
        "same-dash",
        "Sizes that are drawn over each other are told apart by their dashes, since many buyers print \
         in black only or do not see colours well. Two of them look the same here, and one would be \
         cut for the other.",
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
        "seam-length",
        "Two edges that are sewn together differ in length by more than 0.1 mm, and no easing \
         that the design declares explains the difference. The buyer would find one edge hanging \
         over the other at the end of the seam.",
    ),
    entry_of(
        "shoe-cloth",
        "How much fullness the toe piece may have hangs on how much the cloth eases. It is \
         known for a few kinds of cloth; for others the designer measures it: ease a strip of \
         the cloth over an edge and see how much longer it may be.",
    ),
    entry_of(
        "shoe-donning",
        "A heel is larger round than the ankle above it, so a shoe that fits closely must \
         open for the foot to get in. The need is the long-heel girth with the thickness of \
         the topline's edge and a little slack.",
    ),
    entry_of(
        "shoe-ease",
        "Between the foot and the upper there must be room for the lining and for half the \
         upper's own thickness. With less, the shoe is cut smaller than the foot it is for.",
    ),
    entry_of(
        "shoe-folds",
        "A piece is laid flat with its edges held to their true lengths. If there is too \
         much fullness for its height, or it is very narrow, parts of the flat piece would \
         lie over each other, and it could not be cut from one layer of cloth.",
    ),
    entry_of(
        "shoe-fullness",
        "The rounder the toe, the more fullness the toe piece wants where it meets the \
         sole. Each cloth takes up only so much when it is eased; the rest shows as \
         puckers.",
    ),
    entry_of(
        "shoe-side-seam",
        "The side seams part the upper into a toe piece and a heel piece. They run from the \
         side marks of the sole up to the topline, behind the throat and before the heel.",
    ),
    entry_of(
        "shoe-stiffener",
        "The stiffener lies inside the trimmed and turned allowance of the sole. On a small \
         sole little or nothing may be left for it.",
    ),
    entry_of(
        "shoe-strips",
        "A shoe can be drafted with ruler and compass from strips of paper that were laid over the \
         padded foot. Where two strips meet a point of the piece lies; strips that are too short or \
         too long for each other meet nowhere, or give a toe piece that is shorter than its sole.",
    ),
    entry_of(
        "shoe-throat",
        "The throat is where the topline crosses the middle of the foot. It must lie on the \
         top of the foot, before the bend of the ankle and behind the toes, and the topline \
         must fall from it.",
    ),
    entry_of(
        "shoe-topline",
        "The topline is drawn as seen from the side and laid on the shoe's body. It must \
         stay on that body all the way round, above the sole and below its ridge.",
    ),
    entry_of(
        "side-mark",
        "The side marks part the sole into the toe edge and the heel edge; they lie between \
         heel and toe.",
    ),
    entry_of(
        "sizes-not-nested",
        "The sizes of a piece were to be drawn over each other, but their lines would run together, \
         their folds would not lie on one line, or their names would find no room beside their \
         lines. A buyer could cut along the wrong line, so the sizes of this piece stand side by \
         side.",
    ),
    entry_of(
        "square-corners",
        "A large sheet carries its test squares twice, at one corner and at the opposite one: a machine \
         that draws the paper in unevenly prints one end right and the other wrong.",
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
        "stapled-order",
        "A side of a sheet holds other pages than folding puts there: the stapled booklet would be read in \
         the wrong order.",
    ),
    entry_of(
        "stapled-page",
        "What is on a side of a sheet is not what is on its pages, or lies elsewhere than trimming and creep \
         ask for.",
    ),
    entry_of("step-empty", "A step has a heading and no words under it."),
    entry_of(
        "step-too-tall",
        "A step is kept together with its drawing on one page, so that the reader's eyes need \
         not leave it. One that is taller than a page cannot be.",
    ),
    entry_of(
        "stray-outline",
        "A page with pieces carries a closed line as wide as a cut line that belongs to no piece \
         of the design. The buyer would cut along it.",
    ),
    entry_of(
        "table-too-wide",
        "A table of the text has more columns than find room beside each other on the page; they \
         would print over each other.",
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
        "thin-line",
        "A line of a file for a print shop is so thin that it breaks up in print or vanishes.",
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
        "too-large",
        "A file, a formula or a folder is larger than pressfoot reads. The limits are far \
         above what a design needs; usually a wrong file has got into the folder.",
    ),
    entry_of(
        "tracing",
        "The tracing of a foot cannot be used: too few points, or a path that is not one \
         closed line.",
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
    entry_of(
        "trim-length",
        "The cut length of an elastic, ribbon or cord must be more than nothing in every \
         size.",
    ),
    entry_of(
        "type-size",
        "Letters of the running text are smaller than this form of the instructions promises. Those who \
         need large print could not read it.",
    ),
    entry_of(
        "typesetter-broke-off",
        "The typesetter came upon something it cannot cope with and stopped in the middle. \
         Nothing was written. The cause is most often a picture or a template of the design.",
    ),
    entry_of(
        "unknown-cloth",
        "A piece is cut from a cloth that the design does not describe.",
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
        "unknown-value",
        "The text asks for a value that does not exist. Values have the names of formulas \
         with `_` for spaces, such as `{{ sole.toe_edge }}`; a misspelt one would leave a \
         hole in the instructions.",
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
        "viewer",
        "The finished PDF does not ask viewers to print without scaling, so that a print window may offer to fit \
         the page.",
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

/// The entry for `code`, if there is one.
pub fn entry(code: &str) -> Option<&'static Entry> {
    CATALOGUE.iter().find(|e| e.code == code)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;
    use std::path::Path;

    #[test]
    fn codes_are_sorted_unique_and_explained() {
        for pair in CATALOGUE.windows(2) {
            assert!(
                pair[0].code < pair[1].code,
                "{} is out of order",
                pair[1].code
            );
        }
        for entry in CATALOGUE {
            let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            assert!(entry.code.chars().all(fits), "{}", entry.code);
            assert!(entry.why.len() > 40, "{} wants a few sentences", entry.code);
            assert!(entry.why.ends_with('.'), "{}", entry.code);
        }
    }

    #[test]
    fn every_code_of_the_sources_stands_here() {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut used: BTreeSet<String> = BTreeSet::new();
        for entry in walkdir::WalkDir::new(source) {
            let entry = entry.unwrap();
            if entry.path().extension().is_some_and(|e| e == "rs") {
                let text = std::fs::read_to_string(entry.path()).unwrap();
                used.extend(codes(&text));
            }
        }
        assert!(used.contains("no-unit"), "the search finds nothing");
        for code in &used {
            assert!(
                entry(code).is_some(),
                "code {code} is missing from the catalogue"
            );
        }
    }

    #[test]
    fn every_error_and_warning_says_what_to_do() {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut without: Vec<String> = Vec::new();
        for entry in walkdir::WalkDir::new(source) {
            let entry = entry.unwrap();
            let path = entry.path().display().to_string();
            if path.ends_with(".rs") && !path.contains("tests") {
                let text = std::fs::read_to_string(entry.path()).unwrap();
                let text = text.split("#[cfg(test)]\nmod tests").next().unwrap_or("");
                without.extend(told_bare(text).map(|line| format!("{path}:{line}")));
            }
        }
        assert!(without.is_empty(), "no remedy at\n{}", without.join("\n"));
    }

    /// Lines of calls after which, up to the end of the function, no remedy is given.
    fn told_bare(text: &str) -> impl Iterator<Item = usize> {
        let calls = ["Diagnostic::error(", "Diagnostic::warning(", "Fault::new("];
        let starts = calls
            .into_iter()
            .flat_map(move |call| text.match_indices(call));
        starts.filter_map(move |(at, _)| {
            if text[..at].ends_with("Refusal(") {
                // a type that cannot be used before its remedy is given
                return None;
            }
            let rest = &text[at..];
            let ends = ["\n}", "\n    }\n"];
            let end = ends
                .iter()
                .filter_map(|end| Some(rest[5..].find(end)? + 5))
                .min();
            let told = rest[..end.unwrap_or(rest.len())].contains("remedy(");
            (!told).then(|| text[..at].matches('\n').count() + 1)
        })
    }

    /// First argument of every call that makes a diagnostic, where it is a literal.
    fn codes(text: &str) -> Vec<String> {
        let calls = [
            "Diagnostic::error(",
            "Diagnostic::warning(",
            "Diagnostic::note(",
            "Fault::new(",
        ];
        let mut found = Vec::new();
        for call in calls {
            for after in text.split(call).skip(1) {
                if let Some(rest) = after.trim_start().strip_prefix('"') {
                    found.extend(rest.split('"').next().map(String::from));
                }
            }
        }
        for after in text
            .split("reading.error(")
            .chain(text.split("self.error("))
            .skip(1)
        {
            if let Some(rest) = after.trim_start().strip_prefix('"') {
                found.extend(rest.split('"').next().map(String::from));
            }
        }
        let code = |c: &String| c.chars().all(|c| c.is_ascii_lowercase() || c == '-');
        found.retain(code);
        found
    }
}
