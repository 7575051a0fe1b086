//! `faults` of a design: what was wrong in editions that were sold.

use super::Reading;
use super::fields::Fields;
use super::head::{edition_of, typographic};
use super::node::Node;
use crate::design::EditionFault;

/// The highest number of a plate that can be named.
const MOST_PLATES: u32 = 9999;

/// All faults, in the order of the file.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<EditionFault> {
    let Some(node) = fields.take("faults", reading) else {
        return Vec::new();
    };
    let items = reading.list(node);
    let read = items.into_iter().map(|item| fault(item, reading));
    read.collect::<Vec<_>>().into_iter().flatten().collect()
}

fn fault(node: &Node, reading: &mut Reading<'_>) -> Option<EditionFault> {
    let mut fields = Fields::of(node, "faults", "a fault of an edition", reading)?;
    let edition = fields.require("edition", reading);
    let edition = edition.map(|node| edition_of(node, reading));
    let mut plates = Vec::new();
    if let Some(node) = fields.take("plates", reading) {
        for item in reading.list(node) {
            let number = reading.count(item, "a plate", 1..=MOST_PLATES);
            plates.extend(number.and_then(|number| usize::try_from(number).ok()));
        }
    }
    let mut words = |key: &'static str| {
        let node = fields.require(key, reading);
        node.and_then(|node| reading.text(node, &format!("‘{key}’")))
    };
    let (wrong, mend) = (words("wrong"), words("do"));
    fields.finish(reading);
    Some(EditionFault {
        edition: edition?,
        plates,
        wrong: typographic(&wrong?, &reading.words),
        mend: typographic(&mend?, &reading.words),
        place: node.place.clone(),
    })
}
