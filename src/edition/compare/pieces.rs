//! Pieces and seams of two editions. Lengths in mm, areas in mm².

use super::Kind;
use crate::edition::displacement::{
    Displacement, SAME, SEEN, cut_line, displacement, hausdorff, seam_line,
};
use crate::edition::record::{Content, GRAIN, MarkRecord, PieceRecord, SeamRecord, SizeRecord};
use kurbo::{Affine, Shape};
use std::collections::BTreeMap;

/// A piece of one size that differs.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceChange {
    /// Key of the size.
    pub size: String,
    /// The size as printed.
    pub size_title: String,
    /// Key of the piece.
    pub piece: String,
    /// Its number.
    pub number: usize,
    /// As printed.
    pub title: String,
    /// Whether it came, went or changed.
    pub kind: Kind,
    /// Width and height of the seam line, old and new.
    pub extent: [[f64; 2]; 2],
    /// Area within the seam line, old and new.
    pub area: [f64; 2],
    /// Edges whose length or allowance differs, or that came or went.
    pub edges: Vec<EdgeChange>,
    /// How far the seam line moved at most, if it did.
    pub moved: Option<Displacement>,
    /// How far the cut line moved at most; 0 where it is the same.
    pub cut_line: f64,
    /// Notches and marks that came, went or moved.
    pub marks: Vec<String>,
    /// Whether any of them came, went, or moved so far that it is seen.
    pub marks_seen: bool,
    /// By how many degrees the grain line turned, clockwise; none where it did not.
    pub turned: Option<f64>,
    /// Whether its number, title, note or cutting differs.
    pub words: bool,
    /// Whether what is cut of it differs.
    pub recut: bool,
    /// What it was called before.
    pub before: Called,
}

/// What a piece is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Called {
    /// Its key.
    pub piece: String,
    /// Its number.
    pub number: usize,
    /// As printed.
    pub title: String,
}

/// An edge that differs: length and allowance, `None` where the edition has no such edge.
#[derive(Debug, Clone, PartialEq)]
pub struct EdgeChange {
    /// Its name.
    pub edge: String,
    /// Length and allowance before.
    pub old: Option<[f64; 2]>,
    /// Length and allowance now.
    pub new: Option<[f64; 2]>,
}

/// A seam that differs, `None` where the edition has no such seam: lengths of both sides.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamChange {
    /// The size as printed.
    pub size_title: String,
    /// Its name.
    pub seam: String,
    /// Lengths of both sides before.
    pub old: Option<[f64; 2]>,
    /// Lengths of both sides now.
    pub new: Option<[f64; 2]>,
}

impl PieceChange {
    /// Whether any of its lines differs.
    pub fn is_drawn_anew(&self) -> bool {
        let lines = self.moved.is_some() || self.cut_line > 0.0;
        self.kind == Kind::Added || lines || !self.marks.is_empty()
    }

    /// Whether its plate must be printed again: a line moved so far that it is seen.
    pub fn is_printed_again(&self) -> bool {
        let lines = self.most().max(self.cut_line) >= SEEN;
        self.kind == Kind::Added || lines || self.marks_seen
    }

    /// Its key in the older edition.
    pub fn old_key(&self) -> &String {
        &self.before.piece
    }

    /// How far the seam line moved at most, mm.
    pub fn most(&self) -> f64 {
        self.moved.as_ref().map_or(0.0, |moved| moved.mm)
    }
}

/// The pieces that differ in the sizes that both have. `names` are the keys that the newer edition has for
/// pieces that had others, which stand in `old` already.
pub(super) fn pieces(
    old: &Content,
    new: &Content,
    names: &BTreeMap<String, String>,
) -> Vec<PieceChange> {
    let mut changes = Vec::new();
    for size in &new.sizes {
        let Some(before) = old.sizes.iter().find(|other| other.size == size.size) else {
            continue;
        };
        for piece in &size.pieces {
            let known = before
                .pieces
                .iter()
                .find(|other| other.piece == piece.piece);
            changes.extend(match known {
                Some(known) => changed(size, known, piece),
                None => Some(alone(size, piece, Kind::Added)),
            });
        }
        let gone = |piece: &&PieceRecord| !size.pieces.iter().any(|p| p.piece == piece.piece);
        let gone = before.pieces.iter().filter(gone);
        changes.extend(gone.map(|piece| alone(size, piece, Kind::Removed)));
    }
    for change in &mut changes {
        if let Some(before) = names.get(&change.piece) {
            change.before.piece.clone_from(before);
        }
    }
    changes
}

/// Whether two pieces are cut alike, with no line that differs.
pub(super) fn is_same_piece(old: &PieceRecord, new: &PieceRecord) -> bool {
    // what differs so much need not be laid on each other
    if old.cut != new.cut || (old.area - new.area).abs() > 1.0 {
        return false;
    }
    let differs = |change: PieceChange| change.is_drawn_anew() || !change.edges.is_empty();
    !changed(&SizeRecord::default(), old, new).is_some_and(differs)
}

fn extent(piece: &PieceRecord) -> [f64; 2] {
    let room = seam_line(piece).bounding_box();
    [room.width(), room.height()]
}

/// A piece that only one of the editions has.
fn alone(size: &SizeRecord, piece: &PieceRecord, kind: Kind) -> PieceChange {
    PieceChange {
        size: size.size.clone(),
        size_title: size.title.clone(),
        piece: piece.piece.clone(),
        number: piece.number,
        title: piece.title.clone(),
        kind,
        extent: [extent(piece); 2],
        area: [piece.area; 2],
        edges: Vec::new(),
        moved: None,
        cut_line: 0.0,
        marks: Vec::new(),
        marks_seen: false,
        turned: None,
        words: false,
        recut: false,
        before: Called {
            piece: piece.piece.clone(),
            number: piece.number,
            title: piece.title.clone(),
        },
    }
}

fn changed(size: &SizeRecord, old: &PieceRecord, new: &PieceRecord) -> Option<PieceChange> {
    if old == new {
        return None;
    }
    let moved = displacement(old, new);
    let laid = Affine::translate(moved.laid);
    let cut_line = hausdorff(&(laid * cut_line(old)), &cut_line(new)).0;
    let cut_line = if cut_line > SAME { cut_line } else { 0.0 };
    let shift = [moved.laid.x, moved.laid.y];
    let differing = |within: f64| {
        let mut all = marks(&old.notches, &new.notches, (1, shift), within);
        all.extend(marks(&old.marks, &new.marks, (0, shift), within));
        all
    };
    let words = (&old.number, &old.title, &old.note, &old.cut)
        != (&new.number, &new.title, &new.note, &new.cut);
    let change = PieceChange {
        extent: [extent(old), extent(new)],
        area: [old.area, new.area],
        edges: edges(old, new),
        cut_line,
        marks: differing(2.0 * SAME),
        marks_seen: !differing(SEEN).is_empty(),
        turned: turned(old, new),
        words,
        recut: old.cut != new.cut,
        before: alone(size, old, Kind::Changed).before,
        moved: Some(moved).filter(|moved| moved.mm > SAME),
        ..alone(size, new, Kind::Changed)
    };
    let same = !change.is_drawn_anew() && !words && change.edges.is_empty();
    (!same).then_some(change)
}

/// Least turn of a grain line that is told, degrees: less than is seen on a piece of a hand's length.
const LEAST_TURN: f64 = 0.1;

/// By how many degrees the grain line turned, clockwise, from over −90 to 90: it has no head.
fn turned(old: &PieceRecord, new: &PieceRecord) -> Option<f64> {
    let angle = |piece: &PieceRecord| {
        let grain = piece.marks.iter().find(|mark| mark.mark == GRAIN)?;
        match *grain.at.as_slice() {
            // y is down, so that the angle grows clockwise
            [x0, y0, x1, y1] => Some((y1 - y0).atan2(x1 - x0).to_degrees()),
            _ => None,
        }
    };
    let by = angle(new)? - angle(old)?;
    let by = 90.0 - (90.0 - by).rem_euclid(180.0);
    (by.abs() >= LEAST_TURN).then_some((by * 100.0).round() / 100.0)
}

fn edges(old: &PieceRecord, new: &PieceRecord) -> Vec<EdgeChange> {
    let of = |piece: &PieceRecord, name: &str| {
        let edge = piece.edges.iter().find(|edge| edge.edge == name)?;
        Some([edge.length, edge.allowance])
    };
    let gone = old
        .edges
        .iter()
        .filter(|edge| of(new, &edge.edge).is_none());
    let all = new.edges.iter().chain(gone);
    let change = |name: &str| {
        let (old, new) = (of(old, name), of(new, name));
        let same = match (old, new) {
            (Some(a), Some(b)) => a.iter().zip(b).all(|(a, b)| (a - b).abs() <= SAME),
            _ => false,
        };
        let edge = name.to_string();
        (!same).then_some(EdgeChange { edge, old, new })
    };
    all.filter_map(|edge| change(&edge.edge)).collect()
}

/// Marks that differ by their words, or by more than `within` in a coordinate once the old ones are
/// moved by `shift`. Before the coordinates stand so many `lengths`. What only moved with the line it
/// stands on has not changed: its length along the edge says so.
fn marks(
    old: &[MarkRecord],
    new: &[MarkRecord],
    (lengths, shift): (usize, [f64; 2]),
    within: f64,
) -> Vec<String> {
    // a round mark ends with its diameter, which is no coordinate
    let by = |mark: &MarkRecord, at: usize| match at.checked_sub(lengths) {
        Some(place) if mark.at.len().saturating_sub(lengths) != 3 || place < 2 => shift[place % 2],
        _ => 0.0,
    };
    let same = |a: &MarkRecord, b: &MarkRecord| {
        let mut pairs = a.at.iter().zip(&b.at).enumerate();
        let near = |(at, (x, y)): (usize, (&f64, &f64))| (x + by(a, at) - y).abs() <= within;
        a.mark == b.mark && a.at.len() == b.at.len() && pairs.all(near)
    };
    let mut differing: Vec<String> = Vec::new();
    let mut left: Vec<&MarkRecord> = old.iter().collect();
    for mark in new {
        match left.iter().position(|other| same(other, mark)) {
            Some(at) => {
                left.remove(at);
            }
            None => differing.push(mark.mark.clone()),
        }
    }
    let gone = left.iter().map(|mark| mark.mark.clone());
    let gone: Vec<String> = gone.filter(|mark| !differing.contains(mark)).collect();
    differing.extend(gone);
    differing
}

/// The seams that differ in the sizes that both have.
pub(super) fn seams(old: &Content, new: &Content) -> Vec<SeamChange> {
    let mut changes = Vec::new();
    for size in &new.sizes {
        let Some(before) = old.sizes.iter().find(|other| other.size == size.size) else {
            continue;
        };
        let of = |list: &[SeamRecord], name: &str| list.iter().find(|s| s.seam == name).cloned();
        let gone = before
            .seams
            .iter()
            .filter(|seam| of(&size.seams, &seam.seam).is_none());
        for seam in size.seams.iter().chain(gone) {
            let (a, b) = (of(&before.seams, &seam.seam), of(&size.seams, &seam.seam));
            let same = match (&a, &b) {
                (Some(a), Some(b)) => {
                    let mut pairs = a.lengths.iter().zip(b.lengths);
                    a.joins == b.joins && pairs.all(|(x, y)| (x - y).abs() <= SAME)
                }
                _ => false,
            };
            if !same {
                changes.push(SeamChange {
                    size_title: size.title.clone(),
                    seam: seam.seam.clone(),
                    old: a.map(|seam| seam.lengths),
                    new: b.map(|seam| seam.lengths),
                });
            }
        }
    }
    changes
}
