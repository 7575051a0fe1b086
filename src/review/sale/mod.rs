//! What is promised to the buyer: that it stands there, that it is true, and that it is safe.

mod ages;
mod claims;
mod closure;
mod head;
mod listing;
mod promises;
mod translated;

use super::Check;

/// What is looked at in every language.
pub(super) const IN_EACH: &[Check] = &[ages::safe, translated::head, translated::sizes];

/// What is looked at in the design's own language besides, in this order.
pub(super) const CHECKS: &[Check] = &[
    head::each_is_there,
    head::contact,
    head::steps,
    closure::is_bought,
    head::editions,
    promises::about,
    promises::makes,
    listing::agrees,
];
