//! The table of keys tells what the reader of figure blocks takes, no more and no less.

use super::super::{KEYS, flat, spots, strips};
use crate::design::keys;
use std::collections::BTreeSet;

/// Groups of the table with the keys that the reader takes there.
const GROUPS: [(&str, &[&str]); 13] = [
    ("figure", KEYS),
    ("figure.pieces", flat::PIECE),
    ("figure.on", flat::ON),
    ("figure.fold", flat::FOLD),
    ("figure.hem", flat::HEM),
    ("figure.stitching", flat::STITCHING),
    ("figure.opening", flat::OPENING),
    ("figure.turn through", flat::OPENING),
    ("figure.trim", flat::TRIM),
    ("figure.strip", strips::STRIP),
    ("figure.gather", flat::GATHER),
    ("figure.detail", spots::DETAIL),
    ("figure.letters.LETTER", spots::LETTER),
];

#[test]
fn every_key_of_a_figure_block_is_explained() {
    for (group, known) in GROUPS {
        let told = keys::all().filter_map(|entry| {
            let (above, key) = entry.path.rsplit_once('.')?;
            (above == group).then_some(key)
        });
        let told: BTreeSet<&str> = told.collect();
        let known: BTreeSet<&str> = known.iter().copied().collect();
        assert_eq!(told, known, "{group}");
    }
    let groups: BTreeSet<&str> = GROUPS.iter().map(|(group, _)| *group).collect();
    let of_blocks = keys::all().filter(|entry| entry.path.starts_with("figure."));
    for (above, _) in of_blocks.filter_map(|entry| entry.path.rsplit_once('.')) {
        assert!(
            groups.contains(above) || above == "figure.letters",
            "{above}"
        );
    }
}
