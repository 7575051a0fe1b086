//! Keys of `shoe` and `fit`.

use super::{KeyEntry, key};

/// In the order in which they are usually written.
pub(super) const SHOE: &[KeyEntry] = &[
    key(
        "shoe",
        "A shoe drafted from the foot of each size.",
        "shoe: {cloth: outer, closure: strap with elastic}",
    ),
    key(
        "shoe.drafted from",
        "form: from the foot's tape measures. strips: from paper strips over it. Default: form.",
        "drafted from: form",
    ),
    key(
        "shoe.cloth",
        "The upper's cloth, whose thickness and kind count. Required.",
        "cloth: outer",
    ),
    key(
        "shoe.lining",
        "The cloth of the lining. Default: none.",
        "lining: lining",
    ),
    key(
        "shoe.sole",
        "The cloth of the sole. Default: that of the upper.",
        "sole: outer",
    ),
    key(
        "shoe.ease",
        "Ease round the sole: a length or a formula. Default: 1/8 in.",
        "ease: \"min(3.2 mm, 0.6 mm + 0.03 * foot.length)\"",
    ),
    key(
        "shoe.allowance",
        "Allowance of the shoe's pieces unless they give their own. Default: 3/16 in.",
        "allowance: 3/16 in",
    ),
    key(
        "shoe.trim to",
        "What is left of the allowance after trimming. Default: 1/16 in.",
        "trim to: 1/16 in",
    ),
    key(
        "shoe.throat",
        "From the heel to the throat. Default: 0.64 * foot.length.",
        "throat: 0.62 * foot.length",
    ),
    key(
        "shoe.throat angle",
        "How steeply the topline falls from the throat; steeper is wider. Default: 35 deg.",
        "throat angle: 40 deg",
    ),
    key(
        "shoe.low point",
        "From the heel to where the topline is lowest. Default: 0.33 * foot.length.",
        "low point: 0.33 * foot.length",
    ),
    key(
        "shoe.side height",
        "Height of the topline there: one length, or inner and outer. Default: 0.17 and 0.165 of the foot.",
        "side height: {inner: 12 mm, outer: 11.5 mm}",
    ),
    key(
        "shoe.side height.inner",
        "On the inner side.",
        "inner: 0.17 * foot.length",
    ),
    key(
        "shoe.side height.outer",
        "On the outer side.",
        "outer: 0.165 * foot.length",
    ),
    key(
        "shoe.back height",
        "Height at the back of the heel. Default: 0.25 * foot.length.",
        "back height: 0.25 * foot.length",
    ),
    key(
        "shoe.side mark",
        "Where toe and heel piece meet, from the heel: one length, or inner and outer. Default: 0.45 * foot.length.",
        "side mark: 0.45 * foot.length",
    ),
    key(
        "shoe.side mark.inner",
        "On the inner side.",
        "inner: 0.45 * foot.length",
    ),
    key(
        "shoe.side mark.outer",
        "On the outer side.",
        "outer: 0.44 * foot.length",
    ),
    key(
        "shoe.seam lean",
        "How far the side seams lean to the toe at the top. Default: not at all.",
        "seam lean: 2 mm",
    ),
    key(
        "shoe.fullness",
        "How much longer than the sole the toe piece is. Default: what the form wants and the cloth takes.",
        "fullness: 6 mm",
    ),
    key(
        "shoe.easing limit",
        "What the cloth eases, measured on a scrap: a share. Default: that of its kind.",
        "easing limit: 9 %",
    ),
    key(
        "shoe.closure",
        "none, strap with elastic, elastic at the back, or tie. Default: none.",
        "closure: strap with elastic",
    ),
    key(
        "shoe.foot gives",
        "How far the foot gives: a share of its girth. Default: 0, a hard doll.",
        "foot gives: 5 %",
    ),
    key(
        "shoe.topline thickness",
        "Thickness of the edge at the topline. Default: twice the cloth.",
        "topline thickness: 2.4 mm",
    ),
    key(
        "shoe.elastic stretch",
        "Stretched length of the elastic against its length at rest. Default: 1.8.",
        "elastic stretch: 1.7",
    ),
    key(
        "shoe.strap at",
        "Where a strap crosses the foot: a share of its length from the heel. Default: 46 %.",
        "strap at: 46 %",
    ),
    key(
        "shoe.gathered back",
        "Topline gathered on elastic at the back: a share of the foot's length. Default: 45 %.",
        "gathered back: 45 %",
    ),
    key(
        "shoe.drawn with",
        "What drawings of the finished shoe show besides its form.",
        "drawn with: {strap: 8 mm, button: yes}",
    ),
    key(
        "shoe.drawn with.strap",
        "Width of a strap over the foot. Default: no strap.",
        "strap: 8 mm",
    ),
    key(
        "shoe.drawn with.button",
        "Whether a button sits on the strap. Default: no.",
        "button: yes",
    ),
    key(
        "shoe.drawn with.topstitching",
        "Whether stitching shows round the topline. Default: yes.",
        "topstitching: no",
    ),
    key(
        "fit",
        "What trial shoes taught: a list of dated corrections.",
        "fit: [{on: 2026-10-04, change: side height, by: 1/16 in, why: it gaped}]",
    ),
    key(
        "fit.on",
        "Date of the trial, year first. Required.",
        "on: 2026-10-04",
    ),
    key(
        "fit.change",
        "What is changed: ease, side height, back height, throat, throat angle, toe room, toe length, fullness, narrower heel, closer heel, side mark, take in. Required.",
        "change: side height",
    ),
    key(
        "fit.by",
        "By how much, more or less: a length; for the throat angle an angle. Required.",
        "by: -1/16 in",
    ),
    key(
        "fit.why",
        "Why, in words. Required.",
        "why: gaped at the side when the doll sat",
    ),
    key(
        "fit.size",
        "The only size it holds for. Default: all.",
        "size: large",
    ),
    key(
        "fit.side",
        "The only side it holds for, inner or outer: side height, side mark, take in. Default: both.",
        "side: inner",
    ),
];
