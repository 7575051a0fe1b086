//! `measures` and `sizes` of a design.

use super::fields::Fields;
use super::head::optional;
use super::node::{Entry, Node};
use super::pieces::refuse_same_files;
use super::{FootHead, Reading, SizeHead, feet, names};
use crate::design::{Formula, Size};
use crate::diagnostic::Place;

/// More sizes than this are no range that anybody buys: each is drafted, packed and drawn.
const MOST: usize = 40;

/// Names that a measure cannot have, because they begin names of something else.
const TAKEN: [&str; 2] = ["foot", "shoe"];

/// The design's `measures`, in order.
pub(super) fn measures(
    fields: &mut Fields<'_>,
    reading: &mut Reading<'_>,
) -> Vec<(String, Formula)> {
    match fields.take("measures", reading) {
        Some(node) => entries(node, reading),
        None => Vec::new(),
    }
}

fn entries(node: &Node, reading: &mut Reading<'_>) -> Vec<(String, Formula)> {
    let mut measures = Vec::new();
    for entry in reading.named(node, "a measure") {
        if let (Some(_), Some(size)) = (reading.size, reading.sizes.last_mut()) {
            size.measures.push((entry.key.clone(), entry.place.clone()));
        }
        if TAKEN.contains(&entry.key.as_str()) {
            let message = format!("a measure cannot be called ‘{}’", entry.key);
            let remedy = format!("‘{}.’ begins other names; choose another one", entry.key);
            reading.error("bad-name", &entry.place, message, remedy);
            continue;
        }
        measures.extend(one_measure(entry, reading));
    }
    measures
}

fn one_measure(entry: &Entry, reading: &mut Reading<'_>) -> Option<(String, Formula)> {
    let what = format!("the measure ‘{}’", entry.key);
    let formula = reading.measure(&entry.value, &what);
    if formula.is_none() {
        reading.failed_measures.push(entry.key.clone());
    }
    Some((entry.key.clone(), formula?))
}

/// The design's `sizes`, in order.
pub(super) fn read(
    fields: &mut Fields<'_>,
    measures: &[(String, Formula)],
    reading: &mut Reading<'_>,
) -> Vec<Size> {
    let Some(node) = fields.require("sizes", reading) else {
        return Vec::new();
    };
    let mut sizes = Vec::new();
    let entries = reading.named(node, "a size");
    reading.not_too_many("sizes", MOST, entries.iter().map(|entry| &entry.place));
    for entry in entries {
        reading.size = Some(reading.sizes.len());
        if let Some(size) = size(entry, &sizes, reading) {
            sizes.push(size);
        }
        reading.size = None;
    }
    check_own_measures(measures, reading);
    let keys: Vec<(Vec<String>, Place)> = sizes
        .iter()
        .map(|size| (keys_of(size), size.place.clone()))
        .collect();
    let names = keys
        .iter()
        .map(|(keys, place)| (keys.iter().map(String::as_str).collect(), place));
    refuse_same_files("sizes", names, reading);
    sizes
}

/// The key of a size, and those it gets for each foot if the feet differ.
fn keys_of(size: &Size) -> Vec<String> {
    let pair = size.foot.as_ref().is_some_and(|foot| foot.other.is_some());
    let sides = ["right", "left"].map(|side| format!("{}-{side}", size.key));
    let sides = if pair { sides.to_vec() } else { Vec::new() };
    [vec![size.key.clone()], sides].concat()
}

fn size(entry: &Entry, others: &[Size], reading: &mut Reading<'_>) -> Option<Size> {
    let key = entry.key.clone();
    // known before it is read, so that other parts find it even if it is wrong
    reading.sizes.push(SizeHead {
        key: key.clone(),
        foot: FootHead::None,
        measures: Vec::new(),
    });
    let what = format!("size ‘{key}’");
    let mut fields = Fields::of(&entry.value, "sizes.SIZE", what, reading)?;
    let title = optional(&mut fields, "title", reading).unwrap_or_else(|| key.clone());
    let words = optional(&mut fields, "words", reading);
    let foot = fields.take("foot", reading).and_then(|node| {
        let (foot, head) = feet::read(node, others, reading);
        if let Some(size) = reading.sizes.last_mut() {
            size.foot = head;
        }
        foot
    });
    let own = match fields.take("measures", reading) {
        Some(node) => entries(node, reading),
        None => Vec::new(),
    };
    fields.finish(reading);
    Some(Size {
        declared: key.clone(),
        only: None,
        key,
        title,
        words,
        foot,
        measures: own,
        place: entry.place.clone(),
    })
}

/// Names that only sizes give must stand in every size: else a formula would have no value in
/// some, and a misspelt override would be passed over in silence.
fn check_own_measures(measures: &[(String, Formula)], reading: &mut Reading<'_>) {
    let usual = |name: &str| {
        measures.iter().any(|(key, _)| key == name)
            || reading.failed_measures.iter().any(|key| key == name)
    };
    let mut faults = Vec::new();
    for size in &reading.sizes {
        for (name, place) in &size.measures {
            let lacks = |other: &&SizeHead| other.measures.iter().all(|(own, _)| own != name);
            let Some(other) = reading.sizes.iter().find(lacks) else {
                continue;
            };
            if usual(name) {
                continue;
            }
            let known = measures.iter().map(|(key, _)| key.as_str());
            let near = other.measures.iter().map(|(own, _)| own.as_str());
            let remedy = match names::nearest(name, known.chain(near)) {
                Some(near) => format!("did you mean ‘{near}’?"),
                None => "give it in every size, or once for all under ‘measures:’".into(),
            };
            let message = format!("size ‘{}’ has no measure ‘{name}’", other.key);
            faults.push((place.clone(), message, remedy));
        }
    }
    for (place, message, remedy) in faults {
        reading.error("unknown-name", &place, message, remedy);
    }
}
