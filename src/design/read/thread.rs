//! `thread` of a design: what it is sewn with, and what is sewn besides its seams.

use super::Reading;
use super::fields::Fields;
use super::head::optional;
use super::node::{Entry, Kind, Node};
use super::{names, prices};
use crate::design::{Dimension, Formula, Quantity, SeamSpec, Sewn, SewnLine, Stitch, ThreadSpec};
use crate::language::Words;
use std::ops::RangeInclusive;

/// Thread on a spool, mm.
const SPOOL: RangeInclusive<f64> = 1e3..=1e7;

/// The design's `thread`, if it tells of any.
pub(super) fn read(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Option<ThreadSpec> {
    let node = fields.take("thread", reading)?;
    let usual = ThreadSpec::usual(node.place.clone());
    let mut fields = Fields::of(node, "thread", "‘thread’", reading)?;
    let name = optional(&mut fields, "name", reading)
        .unwrap_or_else(|| reading.words.get("materials.sewing thread").to_string());
    let stitch = stitch(&mut fields, reading);
    let stitch_length = size_of_stitch(&mut fields, "stitch length", reading);
    let stitch_width = size_of_stitch(&mut fields, "stitch width", reading);
    let reserve = fields.take("reserve", reading);
    let reserve = reserve.and_then(|node| reading.ratio(node, "‘reserve’", 0.0..=2.0));
    let ends = fields.take("ends", reading);
    let ends = ends.and_then(|node| match node.is_word("none") {
        true => Some(0.0),
        false => reading.length(node, "‘ends’"),
    });
    let spool = fields.take("spool", reading);
    let spool = spool.and_then(|node| spool_length(node, reading));
    let also = also(&mut fields, reading);
    let price = fields.take("price", reading);
    let price = price.and_then(|node| prices::price(node, reading));
    let note = optional(&mut fields, "note", reading);
    fields.finish(reading);
    Some(ThreadSpec {
        name,
        stitch: stitch.unwrap_or(usual.stitch),
        stitch_length,
        stitch_width,
        reserve: reserve.unwrap_or(usual.reserve),
        ends: ends.unwrap_or(usual.ends),
        spool: spool.unwrap_or(usual.spool),
        also,
        price,
        note,
        place: node.place.clone(),
    })
}

/// Usual thread for a design in which only seams tell of their stitches.
pub(super) fn of_seams(seams: &[SeamSpec], words: &Words) -> Option<ThreadSpec> {
    let told = seams.iter().find(|seam| seam.stitch.is_some());
    told.map(|seam| ThreadSpec {
        name: words.get("materials.sewing thread").to_string(),
        ..ThreadSpec::usual(seam.place.clone())
    })
}

fn stitch(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Option<Stitch> {
    let node = fields.take("stitch", reading)?;
    reading.choice(node, "a stitch", &Stitch::WORDS)
}

fn size_of_stitch(
    fields: &mut Fields<'_>,
    key: &'static str,
    reading: &mut Reading<'_>,
) -> Option<Formula> {
    let node = fields.take(key, reading)?;
    reading.positive(node, &format!("‘{key}’"), false)
}

/// A spool holds from a metre to ten kilometres: more than any other length of a design.
fn spool_length(node: &Node, reading: &mut Reading<'_>) -> Option<f64> {
    let text = reading.text(node, "‘spool’")?;
    let length = Quantity::parse(&text).ok();
    let length = length.filter(|q| q.dimension == Dimension::Length);
    let Some(length) = length else {
        let remedy = "write a length such as 100 m or 110 yd";
        reading.wrong_type(node, "‘spool’", "a length", remedy);
        return None;
    };
    if SPOOL.contains(&length.value) {
        return Some(length.value);
    }
    let message = format!("‘{text}’ of thread is no spool");
    let remedy = "write how much thread is on a spool, from 1 m to 10000 m";
    reading.error("out-of-range", &node.place, message, remedy);
    None
}

fn also(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<SewnLine> {
    let Some(node) = fields.take("also", reading) else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for entry in reading.named(node, "a sewn line") {
        lines.extend(sewn_line(entry, reading));
    }
    lines
}

/// A length of a line, or a group that says more of it.
fn sewn_line(entry: &Entry, reading: &mut Reading<'_>) -> Option<SewnLine> {
    let name = entry.key.clone();
    let what = format!("‘{name}’");
    if !matches!(entry.value.kind, Kind::Mapping(_)) {
        let length = reading.positive(&entry.value, &what, false)?;
        return Some(SewnLine {
            name,
            what: Sewn::Line(length),
            stitch: None,
            through: Vec::new(),
            count: 1,
        });
    }
    let mut fields = Fields::of(&entry.value, "thread.also.LINE", what, reading)?;
    let what = line_or_thread(&mut fields, entry, reading);
    let stitch = stitch(&mut fields, reading);
    let through = through(&mut fields, reading);
    let count = fields.take("count", reading);
    let count = count.and_then(|node| reading.count(node, "‘count’", 1..=1000));
    fields.finish(reading);
    Some(SewnLine {
        name,
        what: what?,
        stitch,
        through,
        count: count.unwrap_or(1),
    })
}

/// Either `line`, which is sewn, or `thread` itself.
fn line_or_thread(
    fields: &mut Fields<'_>,
    entry: &Entry,
    reading: &mut Reading<'_>,
) -> Option<Sewn> {
    let line = fields.take("line", reading);
    let thread = fields.take("thread", reading);
    match (line, thread) {
        (Some(line), None) => reading.positive(line, "‘line’", false).map(Sewn::Line),
        (None, Some(thread)) => reading
            .positive(thread, "‘thread’", false)
            .map(Sewn::Thread),
        (None, None) => {
            fields.missing("line", reading);
            None
        }
        (Some(_), Some(_)) => {
            let message =
                "either the length of the ‘line’ is given or that of the ‘thread’, not both";
            reading.error("one-way", &entry.place, message, "keep one of them");
            None
        }
    }
}

/// The cloths that a line is sewn through, each as often as it lies there.
fn through(fields: &mut Fields<'_>, reading: &mut Reading<'_>) -> Vec<String> {
    let Some(node) = fields.take("through", reading) else {
        return Vec::new();
    };
    let mut cloths = Vec::new();
    for item in reading.list(node) {
        let Some(key) = reading.text(item, "a cloth") else {
            continue;
        };
        if !reading.cloths.contains(&key) {
            let known = reading.cloths.clone();
            let options: Vec<&str> = known.iter().map(String::as_str).collect();
            let message = format!("there is no cloth ‘{key}’");
            let remedy = match options.as_slice() {
                [] => "describe it under ‘cloth:’ first".to_string(),
                _ => names::suggestion(&key, &options),
            };
            reading.error("unknown-cloth", &item.place, message, remedy);
        }
        cloths.push(key);
    }
    cloths
}
