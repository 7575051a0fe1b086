//! With what work layouts are searched, and where they are kept.

use super::stand_in::StandIns;
use crate::folder::shelf::Shelf;
use crate::packing::{self, Budget, Effort, Item};

/// Places that are tried in a search, usually: more makes a layout of a few pieces hardly better.
const PLACES: u64 = 40_000;

/// The same where only an amount is asked for.
const QUICK_PLACES: u64 = 8_000;

/// The same where a layout is only looked at until a better one is there.
const ROUGH_PLACES: u64 = 1_000;

/// How hard, and where layouts are kept.
pub struct Means<'a> {
    /// How many times the usual work is put into each layout.
    pub effort: u32,
    /// Whether only an amount is asked for and no layout is drawn: less is tried then.
    pub quick: bool,
    /// Whether layouts are only looked at for a moment: as little is tried as makes one.
    pub rough: bool,
    /// Where finished layouts are kept from one run to the next.
    pub shelf: &'a dyn Shelf,
    /// What stands in for layouts that are only looked at.
    pub last: Option<&'a StandIns>,
}

impl Means<'_> {
    /// Lets a layout stand in later.
    pub(super) fn remember(&self, lay: &str, items: &[Item], layouts: &[packing::Layout]) {
        if let Some(last) = self.last {
            last.put(lay, items, layouts);
        }
    }

    /// The budget of a search: one seed, so that the same pieces give the same layout.
    pub(super) fn search(&self) -> Effort {
        let places = match (self.rough, self.quick) {
            (true, _) => ROUGH_PLACES,
            (_, true) => QUICK_PLACES,
            _ => PLACES,
        };
        Effort {
            budget: Budget::Places(places * u64::from(self.effort)),
            seed: 1,
        }
    }
}
