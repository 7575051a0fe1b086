//! Sewing thread and stitches as a design describes them. Lengths in mm.

use super::cloth::Price;
use super::formula::Formula;
use crate::diagnostic::Place;

/// A stitch by which a seam is sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stitch {
    /// Up and down at even distances, by hand.
    Running,
    /// A stitch forward on the wrong side, half of it back on the right side, by hand.
    Backstitch,
    /// Over the edge, by hand.
    Whipstitch,
    /// Inside a fold, with small bites of the cloth below, by hand.
    Slip,
    /// The straight stitch of a sewing machine.
    Lockstitch,
    /// The zigzag of a sewing machine.
    Zigzag,
    /// Two-thread chain stitch of a machine.
    Chain,
    /// Three-thread overedge stitch of a machine.
    Overedge,
}

impl Stitch {
    /// Each stitch with its words.
    pub const WORDS: [(&'static str, Self); 8] = [
        ("running stitch", Self::Running),
        ("backstitch", Self::Backstitch),
        ("whipstitch", Self::Whipstitch),
        ("slip stitch", Self::Slip),
        ("lockstitch", Self::Lockstitch),
        ("zigzag", Self::Zigzag),
        ("chain stitch", Self::Chain),
        ("overedge", Self::Overedge),
    ];

    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        let known = Self::WORDS.iter().find(|(_, stitch)| *stitch == self);
        known.map_or("", |(words, _)| words)
    }

    /// Its number in ISO 4915 and ASTM D6193 (that of the running stitch from memory); none where the
    /// standards part one hand stitch into several.
    #[must_use]
    pub fn number(self) -> Option<u16> {
        match self {
            Self::Running => Some(209),
            Self::Lockstitch => Some(301),
            Self::Zigzag => Some(304),
            Self::Chain => Some(401),
            Self::Overedge => Some(504),
            Self::Backstitch | Self::Whipstitch | Self::Slip => None,
        }
    }

    /// Whether a machine makes it.
    #[must_use]
    pub fn by_machine(self) -> bool {
        matches!(
            self,
            Self::Lockstitch | Self::Zigzag | Self::Chain | Self::Overedge
        )
    }

    /// Usual width of a zigzag or an overedge, or depth of a whipstitch from the edge, mm (common
    /// practice, from memory); the others have none.
    #[must_use]
    pub fn usual_width(self) -> f64 {
        match self {
            Self::Whipstitch => 2.0,
            Self::Zigzag => 3.0,
            Self::Overedge => 4.0,
            _ => 0.0,
        }
    }
}

/// Usual length of a stitch, mm: small work takes 1.5 to 2 mm (common practice).
pub const STITCH_LENGTH: f64 = 2.0;

/// What is added to the thread that lies in the seams: textile handbooks add 10 to 15 %, and what runs
/// out is worse than what is left over.
const RESERVE: f64 = 0.15;

/// Thread that is lost where a seam begins and ends, mm: what is held, knotted and cut off (common
/// practice, from memory). On seams as short as those of a doll's shoe it is more than the reserve.
const ENDS: f64 = 150.0;

/// Thread on a usual spool, mm (common practice).
const SPOOL: f64 = 100_000.0;

/// The sewing thread of a design.
#[derive(Debug, Clone, PartialEq)]
pub struct ThreadSpec {
    /// As printed.
    pub name: String,
    /// Stitch of seams that name none.
    pub stitch: Stitch,
    /// Length of a stitch; [`STITCH_LENGTH`] unless given.
    pub stitch_length: Option<Formula>,
    /// Width of a stitch that has one; [`Stitch::usual_width`] unless given.
    pub stitch_width: Option<Formula>,
    /// Share that is added.
    pub reserve: f64,
    /// Thread lost at the ends of each seam, mm.
    pub ends: f64,
    /// Thread on a spool, mm.
    pub spool: f64,
    /// What is sewn besides the seams, in order.
    pub also: Vec<SewnLine>,
    /// What it costs.
    pub price: Option<Price>,
    /// Words for the materials list.
    pub note: Option<String>,
    /// Where it is declared.
    pub place: Place,
}

impl ThreadSpec {
    /// Sewing thread for backstitches, as nothing else is said of it.
    pub fn usual(place: Place) -> Self {
        Self {
            name: "sewing thread".to_string(),
            stitch: Stitch::Backstitch,
            stitch_length: None,
            stitch_width: None,
            reserve: RESERVE,
            ends: ENDS,
            spool: SPOOL,
            also: Vec::new(),
            price: None,
            note: None,
            place,
        }
    }
}

/// A line that is sewn and is no seam, or thread for something that is no line.
#[derive(Debug, Clone, PartialEq)]
pub struct SewnLine {
    /// Its name, e.g. `topline`.
    pub name: String,
    /// How long.
    pub what: Sewn,
    /// Its stitch; that of the thread unless given.
    pub stitch: Option<Stitch>,
    /// Cloths it goes through; the upper's, or else the first cloth, unless given.
    pub through: Vec<String>,
    /// How often for what the design `makes`.
    pub count: u32,
}

/// How the thread of a [`SewnLine`] is told.
#[derive(Debug, Clone, PartialEq)]
pub enum Sewn {
    /// Length of the line that is sewn.
    Line(Formula),
    /// Length of the thread itself.
    Thread(Formula),
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stitches_have_the_numbers_of_the_standards() {
        // ISO 4915, ASTM D6193: 301 lockstitch, 304 zigzag, 401 two-thread chain, 504 three-thread
        // overedge; 209 running stitch from memory.
        let numbers: Vec<Option<u16>> = Stitch::WORDS.iter().map(|(_, s)| s.number()).collect();
        let machine = [Some(301), Some(304), Some(401), Some(504)];
        assert_eq!(numbers[..4], [Some(209), None, None, None]);
        assert_eq!(numbers[4..], machine);
        for (words, stitch) in Stitch::WORDS {
            assert_eq!(stitch.words(), words);
            // class 200 of the standards is hand sewing
            let by_hand = stitch.number().is_none_or(|n| (200..300).contains(&n));
            assert_eq!(by_hand, !stitch.by_machine());
        }
    }
}
