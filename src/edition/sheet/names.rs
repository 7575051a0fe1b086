//! What has another name or number, and what is sold otherwise: nothing of it is printed again.

use super::{Told, title};
use crate::edition::compare::{Kind, PieceChange, plates_moved};
use crate::edition::record::{Content, PaperRecord};
use crate::language::{Places, Words, primary};

/// Pieces with another number or name, pieces of which something else is cut, and plates with another
/// number.
pub(super) fn names(told: &Told<'_>) -> Vec<String> {
    let mut lines = of_pieces(told);
    lines.extend(of_plates(told));
    lines
}

fn of_pieces(told: &Told<'_>) -> Vec<String> {
    let words = &told.design.words;
    let mut all: Vec<&PieceChange> = Vec::new();
    for piece in &told.comparison.pieces {
        let known = all.iter().any(|other| other.piece == piece.piece);
        if piece.kind == Kind::Changed && !known {
            all.push(piece);
        }
    }
    all.sort_by_key(|piece| piece.number);
    let mut lines = Vec::new();
    for piece in all {
        let (old, new) = (old_title(piece, told), title(piece, told));
        if old != new {
            lines.push(words.say("compared.called", &[("old", &old), ("new", &new)]));
        }
        if piece.recut {
            lines.push(words.say("compared.cut otherwise", &[("piece", &new)]));
        }
    }
    lines
}

/// Number and title of a piece in the older edition, in the language of the sheet if it was sold in it.
fn old_title(piece: &PieceChange, told: &Told<'_>) -> String {
    let before = &piece.before;
    let mut texts = told.old.text.iter();
    let text = texts.find(|text| text.language == told.design.language);
    let path = format!("pieces.{}.title", before.piece);
    let title = text.and_then(|text| text.words.get(&path));
    format!("{} {}", before.number, title.unwrap_or(&before.title))
}

fn of_plates(told: &Told<'_>) -> Vec<String> {
    let words = &told.design.words;
    let of = |paper: &PaperRecord| -> Vec<String> {
        let mut papers = told.old.pages.iter();
        let Some(before) = papers.find(|other| other.paper == paper.paper) else {
            return Vec::new();
        };
        let name = super::paper_name(paper, told);
        let line = |(old, new): (usize, usize)| {
            let places: Places<'_> = &[("paper", &name), ("old", &old), ("new", &new)];
            words.say("compared.plate", places)
        };
        let moved = plates_moved(before, paper, &told.comparison.pieces);
        moved.into_iter().map(line).collect()
    };
    told.papers.iter().flat_map(of).collect()
}

/// Papers, languages and forms that came or went.
pub(super) fn sold(told: &Told<'_>) -> Vec<String> {
    let words = &told.design.words;
    let mut lines = Vec::new();
    let mut tell = |key: &str, old: &[String], new: &[String], name: &dyn Fn(&str) -> String| {
        let line = |state: &str, item: &String| {
            let what = words.say(key, &[("name", &name(item))]);
            words.say(state, &[("what", &what)])
        };
        let came = new.iter().filter(|item| !old.contains(item));
        lines.extend(came.map(|item| line("compared.added", item)));
        let went = old.iter().filter(|item| !new.contains(item));
        lines.extend(went.map(|item| line("compared.removed", item)));
    };
    let (a, b): (&Content, &Content) = (told.old, told.new);
    let paper = |key: &str| super::name_of_paper(key, told);
    tell("compared.paper", &a.sold.papers, &b.sold.papers, &paper);
    tell(
        "compared.language",
        &a.sold.languages,
        &b.sold.languages,
        &name_of_language,
    );
    let form = |key: &str| words.get(&format!("compared.{key}")).to_string();
    tell("compared.form", &a.sold.forms, &b.sold.forms, &form);
    lines
}

/// A language by what its speakers call it; by its tag where pressfoot has no words of it.
fn name_of_language(tag: &str) -> String {
    let name = |tag: &str| Words::of(tag).find("language.name").map(str::to_string);
    let known = name(tag).filter(|own| primary(tag) == "en" || Some(own) != name("en").as_ref());
    known.unwrap_or_else(|| tag.to_string())
}
