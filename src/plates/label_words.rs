//! What a piece's label says, before it is set.

use super::nested::Nest;
use super::size_lines::Dashes;
use super::words;
use crate::design::LengthStyle;
use crate::language::phrase;

/// What a label says.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelWords {
    /// The piece's number.
    pub number: String,
    /// Its title.
    pub title: String,
    cuts: Vec<String>,
    /// The size, or each of several with the dashes of its lines.
    sizes: Vec<(String, Option<Dashes>)>,
    allowance: String,
    /// Further words: the piece's note, and words of marks that found no room.
    pub notes: Vec<String>,
    edition: String,
}

/// One of the words below a label's title.
#[derive(Debug, Clone, Copy)]
pub struct RestLine<'a> {
    /// The words.
    pub text: &'a str,
    /// Whether they are set in grey.
    pub soft: bool,
    /// Dashes of which a sample stands before them.
    pub dashes: Option<Dashes>,
}

/// What labels need to know besides the piece.
#[derive(Debug, Clone, Copy)]
pub struct LabelJob<'a> {
    /// Title of the design.
    pub design: &'a str,
    /// Edition of the design.
    pub edition: &'a str,
    /// How lengths are printed.
    pub lengths: LengthStyle,
    /// Key and printed name of every cloth.
    pub cloth: &'a [(String, String)],
}

impl LabelWords {
    /// The words of the label of the piece in `nest`.
    pub fn of(nest: &Nest<'_>, job: &LabelJob<'_>) -> Self {
        let piece = nest.piece();
        let across = nest.across();
        let sizes = match nest.only_title() {
            Some(title) => vec![(nest.words.size(title), None)],
            None => {
                let members = nest.members.iter().enumerate();
                members
                    .map(|(i, m)| (m.title.to_string(), Some(Dashes::new(i, across))))
                    .collect()
            }
        };
        let name = |key: &str| {
            let found = job.cloth.iter().find(|c| c.0 == key);
            found.map_or(key.to_string(), |c| c.1.clone())
        };
        let cuts = piece.cuts.iter();
        Self {
            number: piece.number.to_string(),
            title: piece.title.clone(),
            cuts: cuts
                .map(|c| words::cut(c, &name(&c.material), piece.fold.is_some(), &nest.words))
                .collect(),
            sizes,
            allowance: words::allowance(nest, job.lengths),
            notes: piece
                .note
                .iter()
                .map(|note| phrase::capital(note))
                .collect(),
            edition: nest.words.say(
                "plates.edition",
                &[("design", &job.design), ("edition", &job.edition)],
            ),
        }
    }

    /// All but number and title, in order.
    pub fn rest(&self, with_edition: bool) -> Vec<RestLine<'_>> {
        let plain = |text| RestLine {
            text,
            soft: false,
            dashes: None,
        };
        let mut rest: Vec<RestLine<'_>> = self.cuts.iter().map(|c| plain(c)).collect();
        rest.extend(self.sizes.iter().map(|(text, dashes)| RestLine {
            dashes: *dashes,
            ..plain(text)
        }));
        rest.push(plain(&self.allowance));
        rest.extend(self.notes.iter().map(|n| plain(n)));
        if with_edition {
            rest.push(RestLine {
                soft: true,
                ..plain(&self.edition)
            });
        }
        rest
    }
}
