//! What is packed and what comes of it. Lengths mm, turns degrees, y down.

use super::ring;
use kurbo::{Point, Vec2};

/// A piece of cloth that is to be cut, as often as `count` says.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The cut line, mm, without the first point repeated; it must not cross itself.
    pub ring: Vec<Point>,
    /// How many copies.
    pub count: usize,
    /// In which turns it may lie.
    pub turns: Turns,
    /// Whether it may also lie face down, that is mirrored.
    pub face_down: bool,
    /// The edge (from this point of the ring to the next one) that must lie on the fold of the
    /// cloth, y = 0. The piece then only slides along the fold and `turns` does not count.
    pub fold: Option<usize>,
}

/// The turns in which an item may lie.
#[derive(Clone, Debug, PartialEq)]
pub enum Turns {
    /// Only these, degrees, positive from the x axis towards the y axis.
    Only(Vec<f64>),
    /// Every turn: evenly spread ones are tried.
    Any,
}

impl Item {
    /// One copy of `ring`, as it is.
    pub fn new(ring: Vec<Point>) -> Self {
        Self {
            ring,
            count: 1,
            turns: Turns::Only(vec![0.0]),
            face_down: false,
            fold: None,
        }
    }
}

/// One copy in its place: the ring is mirrored (x changes its sign) if `mirrored`, then turned about
/// the origin, then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which of the items.
    pub item: usize,
    /// Which of its copies, from 0.
    pub copy: usize,
    /// The turn in degrees, positive from the x axis towards the y axis.
    pub turn_deg: f64,
    /// Whether the piece lies face down.
    pub mirrored: bool,
    /// The move after turning, mm.
    pub by: Vec2,
}

impl Placed {
    /// The item's ring where this copy lies.
    pub fn ring(&self, items: &[Item]) -> Vec<Point> {
        ring::moved(
            &ring::turned(&items[self.item].ring, self.turn_deg, self.mirrored),
            self.by,
        )
    }
}

/// A lay that can be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// All copies, in the order of the items.
    pub placed: Vec<Placed>,
    /// What is used of the cloth's length, mm.
    pub length: f64,
    /// The pieces' area by the area of the cloth up to `length`, 0…1.
    pub density: f64,
}

/// An item that cannot be packed.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal {
    /// Which of the items.
    pub item: usize,
    /// Why.
    pub why: Reason,
}

/// Why an item cannot be packed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    /// In none of its turns it fits: the least height it needs, with the spacing to both edges, and
    /// the height there is, mm.
    TooLarge {
        /// The least height over all turns, mm.
        needs: f64,
        /// The height of the cloth or of the highest sheet, mm.
        has: f64,
    },
    /// The ring has no area, crosses itself, or holds numbers that are none.
    NoRing,
    /// No turn is allowed.
    NoTurn,
    /// The edge of the fold is not on the ring, or the piece lies on both sides of it.
    NoFold,
    /// The given sheets are too few: this copy and perhaps others found no place.
    NoRoom,
}

/// One refusal for each of the items that is named, in order.
pub(super) fn no_room(items: impl Iterator<Item = usize>) -> Vec<Refusal> {
    let items: std::collections::BTreeSet<usize> = items.collect();
    items
        .into_iter()
        .map(|item| Refusal {
            item,
            why: Reason::NoRoom,
        })
        .collect()
}
