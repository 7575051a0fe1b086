//! What is promised to the buyer: that it stands there, that it is true, and that it is safe.

mod ages;
mod head;
mod listing;
mod promises;

use super::Check;

/// All that is looked at, in this order.
pub(super) const CHECKS: &[Check] = &[
    head::each_is_there,
    head::contact,
    head::editions,
    ages::safe,
    promises::about,
    promises::makes,
    listing::agrees,
];
