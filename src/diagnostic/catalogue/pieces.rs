//! What is wrong with feet, drafts, pieces, seams and what is cut from what.

use super::{Entry, entry_of};

/// In alphabetical order.
pub const PIECES: &[Entry] = &[
    entry_of(
        "allowance-swallows",
        "The cut line keeps the allowance's distance from the seam line. In a hollow or a \
         sharp inner corner there may be no room for it: the cut lines of both sides meet \
         before they reach the corner, and the buyer could not cut or sew there.",
    ),
    entry_of(
        "cloth-too-small",
        "A piece finds no room on the cloth as it is sold: it is wider than the roll or \
         larger than the sheet, however it may be turned with the grain. A buyer would find \
         out with the scissors in her hand.",
    ),
    entry_of(
        "corner-radius",
        "The rounded corners of a rectangle meet in the middle of its sides at the most.",
    ),
    entry_of(
        "cut-odd",
        "Where left and right foot take patterns of their own, each gets half of what is cut. \
         An odd number cannot be halved.",
    ),
    entry_of(
        "drawing-edges",
        "An outline drawn in an SVG file is parted into edges at its corners. Seams, \
         notches and allowances name those edges, so each stretch needs its name.",
    ),
    entry_of(
        "edge-twice",
        "Seams, notches and allowances speak of an edge by its name; two edges of one name \
         cannot be told apart.",
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
        "foot-length",
        "The traced foot is shorter than 10 mm or longer than 350 mm. No doll and hardly anybody \
         has such a foot; most often the tracing's numbers are in another unit than the file says.",
    ),
    entry_of(
        "foot-missing",
        "A piece that is made from a tracing needs the foot of each size.",
    ),
    entry_of(
        "formula-value",
        "A formula has no value in one of the sizes: it divides by nothing, takes the root \
         of a negative number, or gives something other than what is wanted.",
    ),
    entry_of(
        "inset-chain",
        "An inset or outset of a piece that is one itself, and so on, is drafted from the first of them. Nine in \
         a row are a mistake: each stands for one distance from the first piece.",
    ),
    entry_of(
        "inset-too-large",
        "Moved inward that far, the outline vanishes or falls into two parts: no piece \
         could be cut.",
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
        "no-cut",
        "The label of a piece and the list of what to cut tell the buyer how many to cut and of \
         what. A piece without `cut` leaves her guessing.",
    ),
    entry_of(
        "not-positive",
        "A width, height, radius, diameter or the length of a mark must be more than nothing.",
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
        "outline-crosses",
        "The seam line of a piece must be one closed line that neither crosses nor touches \
         itself; otherwise it cannot be cut or sewn.",
    ),
    entry_of(
        "outline-empty",
        "The outline encloses nothing, or one of its coordinates is no number.",
    ),
    entry_of(
        "outline-open",
        "The last edge of an outline must end where the first begins.",
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
        "thread-length",
        "The length of a stitch, of a line that is sewn and of its thread must be more than nothing \
         in every size.",
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
];
