//! Keys of trims, thread and tools.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const NOTIONS: &[KeyEntry] = &[
    key(
        "trims",
        "Elastic, ribbon, buttons and the like.",
        "trims: {button: {width: 14 L}}",
    ),
    key(
        "trims.TRIM",
        "A trim, by its short name.",
        "elastic: {width: 6 mm, length: 60 mm}",
    ),
    key(
        "trims.TRIM.name",
        "As printed. Default: its short name.",
        "name: flat elastic",
    ),
    key(
        "trims.TRIM.kind",
        "elastic, ribbon, cord, bias strip, button, bead, eyelet, buckle, snap or other. Default: what its \
         name tells.",
        "kind: elastic",
    ),
    key(
        "trims.TRIM.width",
        "Width or diameter: a length; buttons in lignes. Of a bias strip the width it is cut.",
        "width: 14 L",
    ),
    key(
        "trims.TRIM.length",
        "Length of each: a length or a formula.",
        "length: 0.2 * foot.length",
    ),
    key(
        "trims.TRIM.join",
        "What is added to the length of each for joining its ends: a length or a formula. Default: nothing.",
        "join: 1/2 in",
    ),
    key(
        "trims.TRIM.tolerance",
        "How much longer or shorter each may be cut: a length. Default: 1/32 in for elastic, 1/16 in for \
         ribbon, else 1/8 in.",
        "tolerance: 1 mm",
    ),
    key("trims.TRIM.count", "How many. Default: 1.", "count: 2"),
    key(
        "trims.TRIM.small part",
        "Whether it must be named in the caution. Default: yes for a button, bead, eyelet, buckle or snap that \
         is no wider than 1 1/4 in (a buckle: 2 1/2 in), or of no given width, else no.",
        "small part: yes",
    ),
    key(
        "trims.TRIM.price",
        "What it costs: amount, currency, and for how much. Default: not said.",
        "price: 0.30 EUR each",
    ),
    key(
        "trims.TRIM.weight",
        "Weight of each, or of a metre or yard. Default: not said.",
        "weight: 2 g each",
    ),
    key(
        "trims.TRIM.note",
        "Words for the list of materials.",
        "note: with a shank",
    ),
    key(
        "thread",
        "What it is sewn with. The booklet tells how much of it, from the seams.",
        "thread: {stitch: backstitch, stitch length: 1.5 mm}",
    ),
    key(
        "thread.name",
        "As printed. Default: sewing thread.",
        "name: sewing thread in the colour of the felt",
    ),
    key(
        "thread.stitch",
        "Stitch of the seams: running stitch, backstitch, whipstitch, slip stitch (by hand), lockstitch, zigzag, chain \
         stitch, overedge (by machine). Default: backstitch.",
        "stitch: lockstitch",
    ),
    key(
        "thread.stitch length",
        "From one stitch to the next: a length or a formula. Default: 2 mm.",
        "stitch length: 1.5 mm",
    ),
    key(
        "thread.stitch width",
        "Width of a zigzag or an overedge, depth of a whipstitch: a length or a formula. Default: 3 mm, 4 mm, \
         2 mm.",
        "stitch width: 2.5 mm",
    ),
    key(
        "thread.reserve",
        "Share that is added to the thread. Default: 15 %.",
        "reserve: 10 %",
    ),
    key(
        "thread.ends",
        "Thread that is lost where a seam begins and ends: a length, or none. Default: 15 cm for each seam.",
        "ends: 20 cm",
    ),
    key(
        "thread.spool",
        "Thread on a spool: a length. Default: 100 m.",
        "spool: 200 m",
    ),
    key(
        "thread.also",
        "What is sewn and is no seam, each by a name: the length of the line, or a group.",
        "also: {topline: 2 * toe.topline}",
    ),
    key(
        "thread.also.LINE",
        "A line by its name.",
        "topline: {line: 2 * toe.topline, stitch: running stitch}",
    ),
    key(
        "thread.also.LINE.line",
        "Length of the line: a length or a formula.",
        "line: toe.topline + heel.topline",
    ),
    key(
        "thread.also.LINE.thread",
        "Or the length of the thread itself: a length or a formula.",
        "thread: 40 cm",
    ),
    key(
        "thread.also.LINE.stitch",
        "Its stitch. Default: that of the seams.",
        "stitch: running stitch",
    ),
    key(
        "thread.also.LINE.through",
        "The cloths that it goes through. Default: the upper's, or the first cloth.",
        "through: [outer, lining]",
    ),
    key(
        "thread.also.LINE.count",
        "How often for what the design makes. Default: 1.",
        "count: 2",
    ),
    key(
        "thread.price",
        "What it costs: amount, currency, and for how much. Default: not said.",
        "price: 2.40 EUR per spool",
    ),
    key(
        "thread.note",
        "Words for the list of materials.",
        "note: cotton or polyester",
    ),
    key(
        "tools",
        "A list of tools, in words.",
        "tools: [small sharp scissors, pins]",
    ),
];
