//! A word that a run should leave off: something newer came, or nobody waits for it any more.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Says whether a run should leave off; all its copies say the same. The stages look at it between their
/// works, so that a run ends soon and not at once, and without a result.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Bids the run leave off.
    pub fn order(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it should.
    pub fn is_ordered(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
