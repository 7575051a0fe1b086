//! The key `strip`: elastic or ribbon that is laid on a piece, past an edge or along one.

use super::fields::{Reader, Section};
use crate::figure::flat::request::{AlongEdge, OverEdge, Strip, StripLies, StripSewn};

pub(super) const STRIP: &[&str] = &[
    "trim",
    "from",
    "past",
    "along",
    "inside",
    "between",
    "beyond",
    "stretched",
    "hidden",
    "sewn",
    "marked",
];

/// What is said only of a strip that lies along an edge, and of one that hangs out past one.
const ALONG: [&str; 5] = ["inside", "between", "beyond", "stretched", "hidden"];
const OVER: [&str; 2] = ["from", "past"];

/// Words at `sewn`.
const SEWN: [(&str, StripSewn); 5] = [
    ("yes", StripSewn::Square),
    ("true", StripSewn::Square),
    ("no", StripSewn::No),
    ("false", StripSewn::No),
    ("across", StripSewn::Across),
];

/// Reads it; `None` if there is none, or after a report.
pub(super) fn strip(section: &Section, reader: &mut Reader) -> Option<Strip> {
    let own = Section::of(section.get("strip")?, "‘strip’", STRIP, reader)?;
    let trim = own.wanted("trim", reader);
    let sewn = own.choice("sewn", &SEWN, reader);
    let sewn = sewn.unwrap_or(StripSewn::No);
    let marked = own.length("marked", reader);
    let lies = match own.get("along").is_some() {
        true => StripLies::Along(along(&own, reader)?),
        false => {
            let across = own.get("sewn").filter(|_| sewn == StripSewn::Across);
            let mut wrong = ALONG
                .into_iter()
                .filter_map(|key| own.get(key))
                .chain(across);
            if let Some(node) = wrong.next() {
                let message = "That is said of a strip along an edge, which is not named";
                reader.wrong(&node.place, message, "Add ‘along: EDGE’.");
                return None;
            }
            StripLies::Over(OverEdge {
                from: own.wanted("from", reader)?,
                past: own.wanted("past", reader)?,
            })
        }
    };
    Some(Strip {
        trim: trim?,
        lies,
        sewn,
        marked,
    })
}

fn along(own: &Section, reader: &mut Reader) -> Option<AlongEdge> {
    if let Some(node) = OVER.into_iter().find_map(|key| own.get(key)) {
        let message = "A strip lies along an edge or hangs out past one";
        reader.wrong(
            &node.place,
            message,
            "Leave out ‘along’, or ‘from’ and ‘past’.",
        );
        return None;
    }
    let between = own.between("A strip runs from one notch to another", reader)?;
    Some(AlongEdge {
        edge: own.text("along", reader)?,
        inside: own.length("inside", reader),
        between,
        beyond: own.length("beyond", reader),
        stretched: own.yes("stretched", reader),
        hidden: own.yes("hidden", reader),
    })
}
