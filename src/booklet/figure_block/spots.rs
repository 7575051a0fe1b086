//! Places named in a figure block: for its letters and for the circle that shows one larger.

use super::fields::{Reader, Section};
use crate::figure::flat::request::{Detail, Letter, Named, Spot, SpotKind};

pub(super) const DETAIL: &[&str] = &["piece", "edge", "notch", "mark", "corner", "times"];
pub(super) const LETTER: &[&str] = &["piece", "edge", "notch", "mark", "corner", "says"];

/// The words of a letter in its circle are at most this long.
const LETTERS: usize = 2;

/// A detail is drawn this many times larger, unless given, and between these.
const TIMES: f64 = 3.0;
const LEAST: f64 = 1.5;
const MOST: f64 = 6.0;

/// The letters, in order.
pub(super) fn letters(section: &Section, reader: &mut Reader) -> Vec<Letter> {
    let Some(node) = section.get("letters") else {
        return Vec::new();
    };
    let Some(all) = Section::any(node, "‘letters’", reader) else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for entry in all.entries() {
        if entry.key.chars().count() > LETTERS {
            let message = format!("‘{}’ is too long for a circle", entry.key);
            reader.wrong(&entry.place, message, "Take a letter or a number.");
        }
        let Some(own) = Section::of(&entry.value, "A letter", LETTER, reader) else {
            continue;
        };
        let says = own.text("says", reader).map(|named| named.text);
        if let Some(spot) = spot(&own, reader) {
            list.push(Letter {
                letter: entry.key.clone(),
                spot,
                says,
            });
        }
    }
    list
}

/// The place that is drawn larger.
pub(super) fn detail(section: &Section, reader: &mut Reader) -> Option<Detail> {
    let own = Section::of(section.get("detail")?, "‘detail’", DETAIL, reader)?;
    let spot = spot(&own, reader)?;
    let times = match own.text("times", reader) {
        None => TIMES,
        Some(named) => match named.text.parse::<f64>() {
            Ok(times) if (LEAST..=MOST).contains(&times) => times,
            _ => {
                let message = format!("A detail cannot be ‘{}’ times larger", named.text);
                let remedy = format!("Give a number from {LEAST} to {MOST}.");
                reader.wrong(&named.place, message, remedy);
                return None;
            }
        },
    };
    Some(Detail { spot, times })
}

fn spot(own: &Section, reader: &mut Reader) -> Option<Spot> {
    let piece = own.text("piece", reader);
    if let Some(named) = &piece
        && !reader.knows_piece(named)
    {
        return None;
    }
    let one = |key: &str, make: fn(Named) -> SpotKind, reader: &mut Reader| {
        own.text(key, reader).map(make)
    };
    let corner = own.list("corner", reader);
    let corner = match <[Named; 2]>::try_from(corner) {
        Ok(edges) => Some(SpotKind::Corner(edges)),
        Err(list) if list.is_empty() => None,
        Err(list) => {
            let message = "A corner lies between two edges";
            reader.wrong(&list[0].place, message, "Write ‘corner: [top, side]’.");
            return None;
        }
    };
    let what = one("edge", SpotKind::Edge, reader)
        .or(one("notch", SpotKind::Notch, reader))
        .or(one("mark", SpotKind::Mark, reader))
        .or(corner)
        .or(piece.clone().map(SpotKind::Piece));
    let Some(what) = what else {
        let message = "It is not said which place is meant";
        reader.wrong(
            &own.place,
            message,
            "Name an edge, a notch, a mark, a corner or a piece.",
        );
        return None;
    };
    Some(Spot {
        piece,
        what,
        place: own.place.clone(),
    })
}
