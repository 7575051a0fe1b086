//! The change sheet: what a buyer who has one edition should know of the next, on one page. Lengths in
//! mm.

mod drawings;
mod names;
mod rows;

use super::Version;
use super::compare::{Comparison, Kind, PieceChange, plates_anew};
use super::history::entry_of;
use super::record::{Content, PaperRecord};
use crate::design::{Design, EditionFault, Paper};
use crate::language::phrase;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What the sheet is made from.
#[derive(Debug, Clone, Copy)]
pub struct Told<'a> {
    /// The design in the language of the sheet, under its new edition.
    pub design: &'a Design,
    /// Number of the edition that the buyer has.
    pub have: Version,
    /// What was sold then.
    pub old: &'a Content,
    /// What is sold now.
    pub new: &'a Content,
    /// What differs.
    pub comparison: &'a Comparison,
    /// What the new edition says of itself.
    pub note: Option<&'a str>,
    /// The pages of all papers in this language.
    pub papers: &'a [PaperRecord],
}

/// How much is told, the fullest first: rows of the table, lines of every list, and the room of the
/// drawings, mm. A sheet that does not fit its page is set again with the next. Old against new in a drawing
/// says more than a long list, so lists are cut short before drawings are left out.
pub const ROOMS: [Room; 15] = [
    Room::new(14, 12, 100.0),
    Room::new(14, 8, 80.0),
    Room::new(14, 6, 66.0),
    Room::new(12, 4, 66.0),
    Room::new(12, 3, 66.0),
    Room::new(10, 2, 66.0),
    Room::new(12, 6, 54.0),
    Room::new(10, 4, 48.0),
    Room::new(8, 3, 42.0),
    Room::new(6, 3, 36.0),
    Room::new(6, 2, 30.0),
    Room::new(14, 12, 0.0),
    Room::new(12, 6, 0.0),
    Room::new(8, 4, 0.0),
    Room::new(3, 1, 0.0),
];

/// How much of the page there is for what can be shortened.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Rows of the table of pieces.
    pub rows: usize,
    /// Lines of every list.
    pub lines: usize,
    /// Height of all drawings, mm.
    pub height: f64,
}

impl Room {
    const fn new(rows: usize, lines: usize, height: f64) -> Self {
        Self {
            rows,
            lines,
            height,
        }
    }
}

/// Whether a drawing of a piece would be left out for want of room, and there is a room without drawings
/// that tells more beside.
pub fn lacks_drawings(told: &Told<'_>, room: Room, data: &Value) -> bool {
    let none = |drawn: &Value| drawn.as_array().is_none_or(Vec::is_empty);
    let wanted = || {
        !drawings::drawings(
            told,
            Room {
                height: f64::MAX,
                ..room
            },
        )
        .0
        .is_empty()
    };
    room.height > 0.0 && none(&data["drawings"]) && wanted()
}

/// What the template is told, and the drawings it names.
pub fn data(told: &Told<'_>, room: Room) -> (Value, BTreeMap<String, Vec<u8>>) {
    let words = &told.design.words;
    let (drawn, files, scale) = drawings::drawings(told, room);
    let shown = told.comparison.pieces.iter().filter(has_row);
    let mut shown: Vec<&PieceChange> = shown.collect();
    shown.sort_by(|a, b| b.most().total_cmp(&a.most()));
    let all = shown.len();
    shown.truncate(room.rows);
    shown.sort_by_key(|piece| place_of(piece, told));
    let cut = |list: Vec<String>| -> Value {
        let more = list.len().saturating_sub(room.lines);
        let mut list = list;
        list.truncate(room.lines);
        if more > 0 {
            list.push(words.count("compared.more", more, &[]));
        }
        json!(list)
    };
    let (names, gone, buy) = (names::names(told), gone(told), buy(told));
    let mut steps = steps(told);
    let silent = [&names, &gone, &buy, &steps]
        .iter()
        .all(|list| list.is_empty());
    if silent && all == 0 && told.comparison.fit.is_empty() {
        steps.push(words.get("compared.words only").to_string());
    }
    let data = json!({
        "have": told.have.to_string(),
        "now": told.design.edition_words(),
        "draft": told.design.draft,
        "note": told.note,
        "faults": faults(told),
        "plates": plates(told),
        "reasons": reasons(told, room),
        "rows": shown.iter().map(|piece| rows::row(piece, told)).collect::<Vec<_>>(),
        "rows_left_out": (all > shown.len())
            .then(|| words.count("compared.more pieces", all - shown.len(), &[])),
        "names": cut(names),
        "gone": cut(gone),
        "steps": cut(steps),
        "buy": cut(buy),
        "drawings": drawn,
        "scale": (scale * 100.0).round(),
        "others": others(told),
    });
    (data, files)
}

/// Whether a piece is told with what moved: one that is new has nothing to be compared with.
fn has_row(piece: &&PieceChange) -> bool {
    piece.kind == Kind::Changed && piece.is_printed_again()
}

/// Pieces stand in the order of their numbers, each in the order of sizes.
fn place_of(piece: &PieceChange, told: &Told<'_>) -> (usize, usize) {
    let size = told
        .design
        .sizes
        .iter()
        .position(|size| size.key == piece.size);
    (piece.number, size.unwrap_or(usize::MAX))
}

/// Title of a piece in the language of the sheet.
fn title(piece: &PieceChange, told: &Told<'_>) -> String {
    let spec = told
        .design
        .pieces
        .iter()
        .find(|spec| spec.key == piece.piece);
    let title = spec.map_or(&piece.title, |spec| &spec.title);
    format!("{} {title}", piece.number)
}

fn size_of(piece: &PieceChange, told: &Told<'_>) -> String {
    let size = told.design.sizes.iter().find(|size| size.key == piece.size);
    size.map_or(&piece.size_title, |size| &size.title).clone()
}

/// The correction notices of the edition that the buyer has, and of those before it: who has one of them
/// finds no other sheet.
fn faults(told: &Told<'_>) -> Vec<Value> {
    let (design, words) = (told.design, &told.design.words);
    let own = |fault: &&EditionFault| {
        Version::parse(&fault.edition).is_some_and(|edition| edition <= told.have)
    };
    let of = |fault: &EditionFault| {
        let list = words.ranges(fault.plates.clone());
        let head = match fault.plates.len() {
            0 => words.say("compared.fault", &[("have", &fault.edition)]),
            n => words.count(
                "compared.fault on",
                n,
                &[("have", &fault.edition), ("plates", &list)],
            ),
        };
        json!({"head": head, "wrong": fault.wrong, "do": fault.mend})
    };
    design.look_up.faults.iter().filter(own).map(of).collect()
}

/// For each paper the plates to print again.
fn plates(told: &Told<'_>) -> Vec<Value> {
    let words = &told.design.words;
    let of = |paper: &PaperRecord| {
        let numbers = plates_anew(paper, &told.comparison.pieces);
        let name = paper_name(paper, told);
        let large = known_paper(&paper.paper, told).is_some_and(Paper::is_large);
        let list = words.ranges(numbers.clone());
        let said = match (numbers.is_empty(), large) {
            (true, _) => words.get("compared.no plates").to_string(),
            (false, true) => words.get("compared.whole sheet").to_string(),
            (false, false) if numbers.len() == paper.plates.len() && numbers.len() > 1 => {
                words.count("compared.all plates", numbers.len(), &[])
            }
            _ => words.count("compared.plates", numbers.len(), &[("plates", &list)]),
        };
        let all = numbers.len() == paper.plates.len();
        json!({"paper": name, "words": said, "again": !numbers.is_empty(), "all": all})
    };
    told.papers.iter().map(of).collect()
}

/// A paper of the design, by the key under which its pages are kept.
fn known_paper<'t>(key: &str, told: &Told<'t>) -> Option<&'t Paper> {
    let mut known = told.design.papers.iter().map(|(paper, _)| paper);
    known.find(|known| key.ends_with(&known.key))
}

/// Name of a paper by the key under which its pages are kept: in a further language after its tag.
fn paper_name(paper: &PaperRecord, told: &Told<'_>) -> String {
    let key = paper.paper.rsplit('-').next().unwrap_or_default();
    match known_paper(&paper.paper, told) {
        Some(known) => name_of_paper(&known.key, told),
        None => name_of_paper(key, told),
    }
}

/// Name of a paper by its key in the design.
fn name_of_paper(key: &str, told: &Told<'_>) -> String {
    let own = known_paper(key, told).map_or(key, |known| known.name.as_str());
    let words = &told.design.words;
    words
        .find(&format!("papers.{key}"))
        .unwrap_or(own)
        .to_string()
}

/// The corrections that are new: what changed, and why.
fn reasons(told: &Told<'_>, room: Room) -> Vec<Value> {
    let (design, words) = (told.design, &told.design.words);
    let entries = told
        .comparison
        .fit
        .iter()
        .filter_map(|fit| entry_of(fit, design));
    let of = |entry| {
        let entry: &crate::design::FitEntry = entry;
        let key = if entry.by < 0.0 {
            "compared.less"
        } else {
            "compared.more by"
        };
        json!({
            "change": phrase::capital(&design.fit_change(entry)),
            "size": design.fit_size(entry).map(|size| words.size_inside(&size)),
            "by": words.say(key, &[("length", &design.fit_amount(entry))]),
            "why": entry.why,
        })
    };
    entries.take(room.lines).map(of).collect()
}

/// Sizes, pieces, papers, languages and forms that came or went.
fn gone(told: &Told<'_>) -> Vec<String> {
    let (c, words) = (told.comparison, &told.design.words);
    let say = |key: &str, what: &str| words.say(key, &[("what", &what)]);
    let sizes_new = c
        .sizes_added
        .iter()
        .map(|s| say("compared.added", &words.size(s)));
    let sizes_old = c
        .sizes_removed
        .iter()
        .map(|s| say("compared.removed", &words.size(s)));
    // those of a new size come with it
    let known = |piece: &&PieceChange| told.old.sizes.iter().any(|s| s.size == piece.size);
    let pieces = c.pieces.iter().filter(known).filter_map(|piece| {
        let key = match piece.kind {
            Kind::Added => "compared.added",
            Kind::Removed => "compared.removed",
            Kind::Changed => return None,
        };
        let size = words.size_inside(&size_of(piece, told));
        Some(say(key, &format!("{}, {size}", title(piece, told))))
    });
    let all = sizes_new.chain(sizes_old).chain(pieces);
    all.chain(names::sold(told)).collect()
}

/// Steps and sections that say something else.
fn steps(told: &Told<'_>) -> Vec<String> {
    let words = &told.design.words;
    let own = told
        .comparison
        .text
        .iter()
        .filter(|text| text.language == told.design.language);
    let sections = own.filter_map(|text| {
        let chapter = text.chapter.as_ref()?;
        let head = if text.head.is_empty() {
            chapter
        } else {
            &text.head
        };
        let name = match text.step.filter(|_| text.kind != Kind::Removed) {
            Some(n) => words.say("compared.step", &[("n", &n), ("head", head)]),
            None => words.say("compared.section", &[("head", head)]),
        };
        let key = match text.kind {
            Kind::Added => "compared.added",
            Kind::Removed => "compared.removed",
            Kind::Changed => "compared.changed",
        };
        Some(words.say(key, &[("what", &name)]))
    });
    sections.collect()
}

/// What is bought otherwise: only in the design's own language, whose words are kept.
fn buy(told: &Told<'_>) -> Vec<String> {
    let words = &told.design.words;
    let of = |change: &super::compare::ListChange| {
        let (kind, key) = change.what.split_once(' ').unwrap_or((&change.what, ""));
        let design = told.design;
        let cloth = design
            .cloth
            .iter()
            .find(|c| kind == "cloth" && c.key == key);
        let trim = design.trims.iter().find(|t| kind == "trim" && t.key == key);
        let name = cloth.map(|c| &c.name).or(trim.map(|t| &t.name));
        let name = name.map_or_else(
            || words.get(&format!("compared.{kind}")).into(),
            |name| phrase::capital(name),
        );
        if design.original.is_some() || change.new.is_empty() {
            return words.say("compared.changed", &[("what", &name)]);
        }
        words.say(
            "compared.now",
            &[("what", &name), ("words", &change.new.join(", "))],
        )
    };
    told.comparison.materials.iter().map(of).collect()
}

/// Whether there are pieces that are as they were.
fn others(told: &Told<'_>) -> bool {
    let changed = told
        .comparison
        .pieces
        .iter()
        .filter(|piece| piece.is_drawn_anew())
        .count();
    let all: usize = told.new.sizes.iter().map(|size| size.pieces.len()).sum();
    changed < all
}

#[cfg(test)]
mod tests;
