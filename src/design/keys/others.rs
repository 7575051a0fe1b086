//! Keys of `seams`, of `feet/*.yaml` and of the head of a chapter.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const OTHERS: &[KeyEntry] = &[
    key(
        "seams",
        "Which edge is sewn to which.",
        "seams: {side: {join: toe.side, to: heel.side}}",
    ),
    key(
        "seams.SEAM",
        "A seam, by its name.",
        "side: {join: toe.side, to: heel.side}",
    ),
    key(
        "seams.SEAM.join",
        "The edge that is joined (and eased, if any is).",
        "join: toe.sole edge",
    ),
    key(
        "seams.SEAM.to",
        "The edge it is joined to.",
        "to: sole.toe edge",
    ),
    key(
        "seams.SEAM.easing",
        "How much longer the joined edge is: none, a share, a range, a length, from the shoe. Default: none.",
        "easing: 4 % to 8 %",
    ),
    key(
        "seams.SEAM.direction",
        "opposite if the start of one edge meets the end of the other, or same. Default: opposite.",
        "direction: same",
    ),
    key(
        "seams.SEAM.stitch",
        "Its stitch. Default: that of the thread.",
        "stitch: running stitch",
    ),
    key("foot.name", "Words for the foot.", "name: the small doll"),
    key(
        "foot.tracing",
        "The traced outline. Required.",
        "tracing: {unit: mm, points: [[0, 3], …]}",
    ),
    key(
        "foot.tracing.unit",
        "Unit of the bare numbers: mm, cm or in.",
        "unit: mm",
    ),
    key(
        "foot.tracing.points",
        "Points in order round the foot.",
        "points: [[0, 3], [1, 5], …]",
    ),
    key(
        "foot.tracing.path",
        "Path data of a drawing.",
        "path: \"M 0 3 C …\"",
    ),
    key(
        "foot.tracing.drawing",
        "A path of an SVG drawing in true size.",
        "drawing: {file: feet/small.svg, path: foot}",
    ),
    key(
        "foot.tracing.drawing.file",
        "Path of the drawing.",
        "file: feet/small.svg",
    ),
    key(
        "foot.tracing.drawing.path",
        "The id of the path in the drawing.",
        "path: foot",
    ),
    key(
        "foot.tracing.heel",
        "Centre of the heel, on the tracing.",
        "heel: [12, 0]",
    ),
    key(
        "foot.tracing.toe",
        "Centre of the toe, on the tracing.",
        "toe: [14, 45]",
    ),
    key(
        "foot.tracing.inner side",
        "Which side is the inner one when the toe points up: left or right. Default: left.",
        "inner side: left",
    ),
    key(
        "foot.tracing.pencil",
        "Half the width of the pencil line, taken off all round: a length. Default: nothing.",
        "pencil: 0.25 mm",
    ),
    key(
        "foot.measures",
        "Measures of the foot by name: lengths.",
        "measures: {ball girth: 48 mm}",
    ),
    key(
        "foot.other foot",
        "The other foot, if it was traced too. Default: the mirror image.",
        "other foot: {tracing: {…}, measures: {ball girth: 49 mm}}",
    ),
    key(
        "foot.other foot.tracing",
        "Its traced outline, as above. Required.",
        "tracing: {unit: mm, points: [[0, 3], …]}",
    ),
    key(
        "foot.other foot.measures",
        "Its measures that differ.",
        "measures: {ball girth: 49 mm}",
    ),
    key(
        "foot.pair tolerance",
        "Feet that differ by less take one mirrored pattern: a length. Default: 1/32 in.",
        "pair tolerance: 1/32 in",
    ),
    key(
        "booklet.title",
        "Title of the chapter. Required.",
        "title: Making the shoe",
    ),
    key(
        "booklet.kind",
        "text, or steps if each ## is a numbered step. Default: text.",
        "kind: steps",
    ),
    key(
        "booklet.part",
        "Where the chapter stands: make ready, make, look up. Default: make.",
        "part: make ready",
    ),
    key(
        "booklet.standfirst",
        "One sentence below the title.",
        "standfirst: Make both shoes together.",
    ),
];
