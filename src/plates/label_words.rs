//! What a piece's label says, before it is set.

use super::words::{self, TIED};
use crate::design::LengthStyle;
use crate::piece::Piece;

/// What a label says.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelWords {
    /// The piece's number.
    pub number: String,
    /// Its title.
    pub title: String,
    cuts: Vec<String>,
    size: String,
    allowance: String,
    /// Further words: the piece's note, and words of marks that found no room.
    pub notes: Vec<String>,
    edition: String,
}

/// What labels need to know besides the piece.
#[derive(Debug, Clone, Copy)]
pub struct LabelJob<'a> {
    /// Title of the design.
    pub design: &'a str,
    /// Edition of the design.
    pub edition: &'a str,
    /// Title of the size.
    pub size: &'a str,
    /// How lengths are printed.
    pub lengths: LengthStyle,
    /// Key and printed name of every cloth.
    pub cloth: &'a [(String, String)],
}

impl LabelWords {
    /// The words of `piece`'s label.
    pub fn of(piece: &Piece, job: &LabelJob<'_>) -> Self {
        let name = |key: &str| {
            let found = job.cloth.iter().find(|c| c.0 == key);
            found.map_or(key.to_string(), |c| c.1.clone())
        };
        let cuts = piece.cuts.iter();
        Self {
            number: piece.number.to_string(),
            title: piece.title.clone(),
            cuts: cuts
                .map(|c| words::cut(c, &name(&c.material), piece.fold.is_some()))
                .collect(),
            size: words::size(job.size),
            allowance: words::allowance(piece, job.lengths),
            notes: piece.note.iter().cloned().collect(),
            edition: format!("{}, edition{TIED}{}", job.design, job.edition),
        }
    }

    /// All but number and title, in order, and whether it is set in grey.
    pub fn rest(&self, with_edition: bool) -> Vec<(&str, bool)> {
        let mut rest: Vec<(&str, bool)> = self.cuts.iter().map(|c| (c.as_str(), false)).collect();
        rest.push((&self.size, false));
        rest.push((&self.allowance, false));
        rest.extend(self.notes.iter().map(|n| (n.as_str(), false)));
        if with_edition {
            rest.push((&self.edition, true));
        }
        rest
    }
}
