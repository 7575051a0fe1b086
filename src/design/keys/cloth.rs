//! Keys of cloth.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const CLOTH: &[KeyEntry] = &[
    key(
        "kits",
        "For how many of what the design makes amounts of cloth are given too: a list. Default: none.",
        "kits: [5, 10]",
    ),
    key(
        "cloth",
        "The materials that pieces are cut from.",
        "cloth: {outer: {name: wool felt}}",
    ),
    key(
        "cloth.CLOTH",
        "A cloth, by its short name.",
        "outer: {name: wool felt}",
    ),
    key(
        "cloth.CLOTH.name",
        "As printed. Default: its short name.",
        "name: wool felt",
    ),
    key(
        "cloth.CLOTH.kind",
        "What kind of material it is.",
        "kind: woven",
    ),
    key(
        "cloth.CLOTH.thickness",
        "Thickness: a length.",
        "thickness: 1.2 mm",
    ),
    key(
        "cloth.CLOTH.sheet",
        "Size of a sheet: two lengths, or a list of sizes.",
        "sheet: 9 in x 12 in",
    ),
    key(
        "cloth.CLOTH.hide",
        "A piece of irregular outline, such as a hide, from a drawing.",
        "hide: {file: drawings/hide.svg, path: skin}",
    ),
    key(
        "cloth.CLOTH.hide.file",
        "The drawing. Required.",
        "file: drawings/hide.svg",
    ),
    key(
        "cloth.CLOTH.hide.path",
        "The path's id in it. Required.",
        "path: skin",
    ),
    key(
        "cloth.CLOTH.width",
        "Width off the roll: a length, or a list of those in which it is sold.",
        "width: [44 in, 60 in]",
    ),
    key(
        "cloth.CLOTH.selvedge",
        "Strip along each selvedge that is not used: a length, or none. Default: 10 mm for woven and \
         knitted cloth off the roll, else none.",
        "selvedge: 1/2 in",
    ),
    key(
        "cloth.CLOTH.sides",
        "Whether its sides are alike, or right and wrong. Default: alike for felt, else right and wrong.",
        "sides: right and wrong",
    ),
    key(
        "cloth.CLOTH.grain",
        "Whether it has a grain that pieces must follow. Default: yes for woven and knitted cloth.",
        "grain: yes",
    ),
    key(
        "cloth.CLOTH.pieces lie",
        "Whether pieces may lie either way, or, for a nap or a print, all one way. Default: either way.",
        "pieces lie: one way",
    ),
    key(
        "cloth.CLOTH.lay",
        "Whether it is cut single, or folded along its length and cut double. Default: single.",
        "lay: double",
    ),
    key(
        "cloth.CLOTH.stretch",
        "Which way it stretches: across, along, both ways or none. Default: not said.",
        "stretch: across",
    ),
    key(
        "cloth.CLOTH.shrinkage",
        "How much it shrinks when it is washed before it is cut: a share. Default: none.",
        "shrinkage: 3 %",
    ),
    key(
        "cloth.CLOTH.shrinkage.along",
        "Along the selvedge: a share.",
        "along: 4 %",
    ),
    key(
        "cloth.CLOTH.shrinkage.across",
        "From selvedge to selvedge: a share.",
        "across: 1 %",
    ),
    key(
        "cloth.CLOTH.spacing",
        "Space between pieces, for scissors or a cutter: a length, or none. Default: 3 mm.",
        "spacing: 5 mm",
    ),
    key(
        "cloth.CLOTH.price",
        "What it costs: amount, currency, and for how much. Default: not said.",
        "price: 14.50 EUR per m",
    ),
    key(
        "cloth.CLOTH.weight",
        "Weight of a square metre, or yard. Default: not said.",
        "weight: 250 g/m2",
    ),
    key(
        "cloth.CLOTH.note",
        "Words for the list of materials.",
        "note: firm, not craft felt",
    ),
];
