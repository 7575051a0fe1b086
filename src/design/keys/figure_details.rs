//! Keys of the fenced blocks `figure` of the text: what is drawn on a piece, letters, the shoe, words.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const FIGURE_DETAILS: &[KeyEntry] = &[
    key(
        "figure.opening",
        "Part of an edge that is left open, in its middle.",
        "opening: {edge: bottom, length: 20 mm}",
    ),
    key("figure.opening.edge", "The edge. Required.", "edge: bottom"),
    key(
        "figure.opening.length",
        "How long the opening is: a length or a formula. Required.",
        "length: 20 mm",
    ),
    key(
        "figure.turn through",
        "The same, with an arrow that leads out of it.",
        "turn through: {edge: bottom, length: 20 mm}",
    ),
    key(
        "figure.turn through.edge",
        "The edge. Required.",
        "edge: bottom",
    ),
    key(
        "figure.turn through.length",
        "How long the opening is: a length or a formula. Required.",
        "length: 20 mm",
    ),
    key(
        "figure.trim",
        "Allowances that are trimmed, or a list of them.",
        "trim: {edges: [front], to: seam / 2, corners: yes}",
    ),
    key(
        "figure.trim.piece",
        "The piece, where several are drawn.",
        "piece: flap",
    ),
    key(
        "figure.trim.edges",
        "The edges. Default: all.",
        "edges: [front]",
    ),
    key(
        "figure.trim.to",
        "What is left of the allowance: a length or a formula.",
        "to: seam / 2",
    ),
    key(
        "figure.trim.corners",
        "‘yes’ cuts the corners across.",
        "corners: yes",
    ),
    key(
        "figure.gather",
        "Two threads in the allowance of an edge.",
        "gather: {edge: top, between: [left quarter, right quarter]}",
    ),
    key(
        "figure.gather.piece",
        "The piece, where several are drawn.",
        "piece: skirt",
    ),
    key("figure.gather.edge", "The edge. Required.", "edge: top"),
    key(
        "figure.gather.between",
        "The two notches between which it is gathered, by their names. Default: all of the \
         edge.",
        "between: [left quarter, right quarter]",
    ),
    key(
        "figure.strip",
        "A trim that is laid on a piece, past an edge or along one.",
        "strip: {trim: elastic, from: elastic to here, past: right}",
    ),
    key(
        "figure.strip.trim",
        "The trim, by its short name. Required.",
        "trim: elastic",
    ),
    key(
        "figure.strip.from",
        "The line from whose middle it goes, by its words.",
        "from: elastic to here",
    ),
    key(
        "figure.strip.past",
        "The edge past which it goes.",
        "past: right",
    ),
    key(
        "figure.strip.along",
        "The edge along which it lies, in place of ‘from’ and ‘past’.",
        "along: topline",
    ),
    key(
        "figure.strip.inside",
        "How far inside that edge it lies: a length or a formula. Default: none.",
        "inside: 2 mm",
    ),
    key(
        "figure.strip.between",
        "The notch from which it runs, as long as it is, and that towards which, by their names. \
         Default: all of the edge.",
        "between: [left quarter, right quarter]",
    ),
    key(
        "figure.strip.beyond",
        "How far beyond the first notch it begins: a length or a formula. Default: none.",
        "beyond: 6 mm",
    ),
    key(
        "figure.strip.stretched",
        "‘yes’ draws it as far as the second notch, and as far beyond.",
        "stretched: yes",
    ),
    key(
        "figure.strip.hidden",
        "‘yes’ draws it dashed, under the cloth.",
        "hidden: yes",
    ),
    key(
        "figure.strip.sewn",
        "‘yes’ sews it down in a square, ‘across’ across it at the first notch.",
        "sewn: yes",
    ),
    key(
        "figure.strip.marked",
        "How far out from the edge, or along one how far from either end, a line is drawn across it: a \
         length or a formula.",
        "marked: shoe.strap elastic",
    ),
    key(
        "figure.letters",
        "Letters in circles at places that the caption tells: a letter and what it stands at.",
        "letters: {A: {edge: top, says: deep hem}}",
    ),
    key(
        "figure.letters.LETTER",
        "A letter or a number of at most two signs, and the place it stands at.",
        "B: {piece: flap, mark: button}",
    ),
    key(
        "figure.detail",
        "A place that is drawn larger, in a circle.",
        "detail: {corner: [top, right], times: 4}",
    ),
    key(
        "figure.letters.LETTER.piece",
        "The piece, where several are drawn; alone, the middle of that piece.",
        "piece: flap",
    ),
    key("figure.letters.LETTER.edge", "An edge.", "edge: top"),
    key(
        "figure.letters.LETTER.notch",
        "A notch, by its name.",
        "notch: centre front",
    ),
    key(
        "figure.letters.LETTER.mark",
        "A mark, by its words, or ‘button’, ‘buttonhole’, ‘eyelet’ or ‘hole’.",
        "mark: button",
    ),
    key(
        "figure.letters.LETTER.corner",
        "The corner of two edges.",
        "corner: [top, right side]",
    ),
    key(
        "figure.detail.piece",
        "The piece, where several are drawn; alone, the middle of that piece.",
        "piece: flap",
    ),
    key("figure.detail.edge", "An edge.", "edge: top"),
    key(
        "figure.detail.notch",
        "A notch, by its name.",
        "notch: centre front",
    ),
    key(
        "figure.detail.mark",
        "A mark, by its words, or ‘button’, ‘buttonhole’, ‘eyelet’ or ‘hole’.",
        "mark: button",
    ),
    key(
        "figure.detail.corner",
        "The corner of two edges.",
        "corner: [top, right side]",
    ),
    key(
        "figure.letters.LETTER.says",
        "What the caption says of it. Default: what it is called.",
        "says: deep hem",
    ),
    key(
        "figure.detail.times",
        "How many times larger, from 1.5 to 6. Default: 3.",
        "times: 4",
    ),
    key(
        "figure.shoe",
        "The finished shoe: ‘three-quarter’, ‘side’, ‘top’, ‘back’ or ‘pair’.",
        "shoe: three-quarter",
    ),
    key(
        "figure.making",
        "The shoe in the making, by the words of the state.",
        "making: sewn",
    ),
    key(
        "figure.from",
        "From where the shoe in the making is seen: ‘outer side’, ‘inner side’, ‘back’ or \
         ‘above’. Default: as the state is seen best.",
        "from: inner side",
    ),
    key(
        "figure.wide",
        "‘yes’ gives it the width of the text. Default: no.",
        "wide: yes",
    ),
    key(
        "figure.size",
        "The size that is drawn, by its short name. Default: the last.",
        "size: large",
    ),
    key(
        "figure.caption",
        "Words under it.",
        "caption: The leaves lie in the middle of the cover.",
    ),
    key(
        "figure.alt",
        "What it shows, for those who cannot see it. Default: as pressfoot says it.",
        "alt: Two leaves on a cover.",
    ),
];
