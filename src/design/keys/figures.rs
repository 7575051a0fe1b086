//! Keys of the fenced blocks `figure` of the text: what is drawn.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const FIGURES: &[KeyEntry] = &[
    key(
        "figure",
        "A fenced block of the text: a drawing of pieces, of a seam, a fold or a hem, or of \
         the shoe. It draws one of ‘pieces’, ‘seam’, ‘fold’, ‘hem’, ‘shoe’ and ‘making’.",
        "pieces: [toe, heel]",
    ),
    key(
        "figure.name",
        "A name by which the text refers to it, as in ‘{{ figure.felt }}’.",
        "name: felt",
    ),
    key(
        "figure.pieces",
        "The pieces to be drawn: short names, or groups that say what is to be seen of one.",
        "pieces: [cover, {piece: cover, side: wrong}]",
    ),
    key(
        "figure.pieces.piece",
        "The piece, by its short name.",
        "piece: cover",
    ),
    key(
        "figure.pieces.side",
        "Which side is up: ‘right’ or ‘wrong’. Default: what the drawing needs, else right.",
        "side: wrong",
    ),
    key(
        "figure.pieces.cloth",
        "The one that is cut from this cloth, by its short name.",
        "cloth: lining",
    ),
    key(
        "figure.pieces.mirrored",
        "‘yes’ for the other one of a pair.",
        "mirrored: yes",
    ),
    key(
        "figure.pieces.opened",
        "‘yes’ to draw a piece on the fold as it lies open.",
        "opened: yes",
    ),
    key(
        "figure.pieces.finished",
        "‘yes’ with all allowances turned in, or the edges whose allowances are.",
        "finished: [left, right]",
    ),
    key(
        "figure.laid",
        "‘apart’, or ‘together’: right sides together. Default: apart.",
        "laid: together",
    ),
    key(
        "figure.on",
        "The piece on which the one piece of ‘pieces’ lies, finished.",
        "on: {piece: apron, line: pocket}",
    ),
    key(
        "figure.on.piece",
        "The piece, by its short name.",
        "piece: cover",
    ),
    key(
        "figure.on.side",
        "Which side is up: ‘right’ or ‘wrong’. Default: what the drawing needs, else right.",
        "side: wrong",
    ),
    key(
        "figure.on.cloth",
        "The one that is cut from this cloth, by its short name.",
        "cloth: lining",
    ),
    key(
        "figure.on.mirrored",
        "‘yes’ for the other one of a pair.",
        "mirrored: yes",
    ),
    key(
        "figure.on.opened",
        "‘yes’ to draw a piece on the fold as it lies open.",
        "opened: yes",
    ),
    key(
        "figure.on.finished",
        "‘yes’ with all allowances turned in, or the edges whose allowances are.",
        "finished: [left, right]",
    ),
    key(
        "figure.on.line",
        "The line of that piece along which it lies, by its words. Required.",
        "line: pocket",
    ),
    key(
        "figure.seam",
        "One of the seams, by its name.",
        "seam: inner side",
    ),
    key(
        "figure.stitch",
        "The stitch of that seam. Default: the stitch of the thread.",
        "stitch: running stitch",
    ),
    key(
        "figure.fold",
        "A piece that is folded: along a line, or so that one edge lies on another.",
        "fold: {piece: strap, along: fold, show: both}",
    ),
    key(
        "figure.fold.piece",
        "The piece, by its short name.",
        "piece: cover",
    ),
    key(
        "figure.fold.side",
        "Which side is up: ‘right’ or ‘wrong’. Default: what the drawing needs, else right.",
        "side: wrong",
    ),
    key(
        "figure.fold.cloth",
        "The one that is cut from this cloth, by its short name.",
        "cloth: lining",
    ),
    key(
        "figure.fold.mirrored",
        "‘yes’ for the other one of a pair.",
        "mirrored: yes",
    ),
    key(
        "figure.fold.opened",
        "‘yes’ to draw a piece on the fold as it lies open.",
        "opened: yes",
    ),
    key(
        "figure.fold.finished",
        "‘yes’ with all allowances turned in, or the edges whose allowances are.",
        "finished: [left, right]",
    ),
    key(
        "figure.fold.along",
        "The line along which it is folded, by its words, or ‘fold’ for its edge on the fold.",
        "along: fold",
    ),
    key(
        "figure.fold.lay",
        "The edge that is laid on another.",
        "lay: left",
    ),
    key(
        "figure.fold.on",
        "The edge on which it is laid.",
        "on: right",
    ),
    key(
        "figure.fold.show",
        "‘before’, ‘after’ or ‘both’. Default: both.",
        "show: after",
    ),
    key(
        "figure.fold.turned over",
        "‘yes’ shows what is folded from its other side.",
        "turned over: yes",
    ),
    key(
        "figure.hem",
        "An edge whose allowance is turned to the wrong side.",
        "hem: {piece: heel, edge: topline, stitch: backstitch, at: 5 mm}",
    ),
    key(
        "figure.hem.piece",
        "The piece, by its short name.",
        "piece: cover",
    ),
    key(
        "figure.hem.side",
        "Which side is up: ‘right’ or ‘wrong’. Default: what the drawing needs, else right.",
        "side: wrong",
    ),
    key(
        "figure.hem.cloth",
        "The one that is cut from this cloth, by its short name.",
        "cloth: lining",
    ),
    key(
        "figure.hem.mirrored",
        "‘yes’ for the other one of a pair.",
        "mirrored: yes",
    ),
    key(
        "figure.hem.opened",
        "‘yes’ to draw a piece on the fold as it lies open.",
        "opened: yes",
    ),
    key(
        "figure.hem.finished",
        "‘yes’ with all allowances turned in, or the edges whose allowances are.",
        "finished: [left, right]",
    ),
    key("figure.hem.edge", "The edge. Required.", "edge: topline"),
    key(
        "figure.hem.stitch",
        "The stitch that sews it down.",
        "stitch: backstitch",
    ),
    key(
        "figure.hem.at",
        "How far from the fold it is sewn: a length or a formula.",
        "at: 5 mm",
    ),
    key(
        "figure.hem.turned twice",
        "‘yes’ turns the cut edge in first: half the allowance is seen.",
        "turned twice: yes",
    ),
    key(
        "figure.hem.elastic",
        "‘yes’ makes it a casing with elastic in it.",
        "elastic: yes",
    ),
    key(
        "figure.stitching",
        "A row of stitches, or a list of rows.",
        "stitching: {piece: pocket, edges: [left, bottom], inside: 2 mm}",
    ),
    key(
        "figure.stitching.piece",
        "The piece it is sewn on, where several are drawn.",
        "piece: pocket",
    ),
    key(
        "figure.stitching.edges",
        "The edges along which it runs. Default: all round.",
        "edges: [left, bottom, right]",
    ),
    key(
        "figure.stitching.line",
        "The line along which it runs, by its words.",
        "line: pocket",
    ),
    key(
        "figure.stitching.round",
        "The line round which it runs, to be cut open later, by its words.",
        "round: slit",
    ),
    key(
        "figure.stitching.inside",
        "How far inside the seam line: a length or a formula. Default: on it.",
        "inside: edge stitch",
    ),
    key(
        "figure.stitching.up to",
        "The notch at which it ends; the shorter part of the notch's edge is not sewn.",
        "up to: elastic end",
    ),
    key(
        "figure.stitching.ends",
        "How far it goes where no other of its edges follows: `seam line` or `cut edge`. Default: seam line.",
        "ends: cut edge",
    ),
    key(
        "figure.stitching.stitch",
        "Its stitch. Default: the stitch of the thread.",
        "stitch: backstitch",
    ),
];
