//! Keys of trims, notions and tools.

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
        "trims.TRIM.width",
        "Width or diameter: a length; buttons in lignes.",
        "width: 14 L",
    ),
    key(
        "trims.TRIM.length",
        "Length to cut for each: a length or a formula.",
        "length: 0.2 * foot.length + 1/2 in",
    ),
    key("trims.TRIM.count", "How many. Default: 1.", "count: 2"),
    key(
        "trims.TRIM.small part",
        "Whether it is small and hard, and must be named in the caution. Default: no.",
        "small part: yes",
    ),
    key(
        "trims.TRIM.note",
        "Words for the list of materials.",
        "note: with a shank",
    ),
    key(
        "tools",
        "A list of tools, in words.",
        "tools: [small sharp scissors, pins]",
    ),
];
