//! Keys of what goes out beside the booklets: cut files, and pictures for the shop.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const SHOP: &[KeyEntry] = &[
    key(
        "cutting",
        "How the files for a cutter are drawn.",
        "cutting: {without allowance: [felt], reference square: 25 mm}",
    ),
    key(
        "cutting.colours",
        "Colours by which a cutter tells lines apart.",
        "colours: {cut: \"#FF0000\", score: \"#0000FF\"}",
    ),
    key(
        "cutting.colours.cut",
        "Colour of what is cut through. Default: \"#FF0000\".",
        "cut: \"#FF0000\"",
    ),
    key(
        "cutting.colours.score",
        "Colour of what is creased: fold lines. Default: \"#0000FF\".",
        "score: \"#0000FF\"",
    ),
    key(
        "cutting.colours.mark",
        "Colour of what is drawn: seam lines, places, buttons, the reference square. Default: \"#000000\".",
        "mark: \"#000000\"",
    ),
    key(
        "cutting.colours.guide",
        "Colour of what is only to be seen: grain lines, the border of a sheet. Default: \"#00A000\".",
        "guide: \"#00A000\"",
    ),
    key(
        "cutting.without allowance",
        "Pieces, or cloths with all that is cut from them, that are cut on the seam line, as felt that is \
         glued. Default: none.",
        "without allowance: [felt]",
    ),
    key(
        "cutting.notches",
        "What a cutter makes of notches: slits, triangles or marked; for all, or by piece. Default: slits.",
        "notches: {all: slits, toe: marked}",
    ),
    key(
        "cutting.reference square",
        "Side of the square by which the scale is measured: a length, or none. Default: 25 mm.",
        "reference square: 25 mm",
    ),
    key(
        "listing",
        "With what the pattern is offered.",
        "listing: {pictures: 1600 x 1200}",
    ),
    key(
        "listing.pictures",
        "Width and height of the pictures for the shop, in pixels; several, or none. Default: 1600 x 1200.",
        "pictures: [1600 x 1200, 800 x 800]",
    ),
];
