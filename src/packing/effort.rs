//! How long a search may go on.

use std::time::{Duration, Instant};

/// How much work is put into a packing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effort {
    /// What ends the search.
    pub budget: Budget,
    /// Another seed gives another layout, the same seed the same one.
    pub seed: u64,
}

/// What ends a search.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Budget {
    /// So many places judged, over all workers. One seed then gives one layout, on any machine and
    /// on any number of threads. A million takes about half a second.
    Places(u64),
    /// So much time. What is found depends on the machine: for measurements only.
    Time(Duration),
}

impl Default for Effort {
    /// Enough for some twenty pieces in a fraction of a second.
    fn default() -> Self {
        Self {
            budget: Budget::Places(200_000),
            seed: 1,
        }
    }
}

impl Effort {
    /// How many shapes are worth their while: what two shapes are to each other is found once for
    /// each pair that comes up, at the cost of some twenty places judged.
    pub(super) fn shapes(&self) -> usize {
        let places = match self.budget {
            Budget::Places(count) => count as f64,
            Budget::Time(time) => 2e6 * time.as_secs_f64(),
        };
        (places / 10.0).sqrt().min(MOST_SHAPES) as usize
    }
}

/// More shapes than this are not kept for turns that are free, whatever the effort: their pairs
/// would fill the memory.
const MOST_SHAPES: f64 = 250.0;

/// One worker's part of the budget.
#[derive(Clone, Copy, Debug)]
pub(super) struct Purse {
    from: u64,
    places: u64,
    start: Instant,
    time: Option<Duration>,
}

impl Purse {
    /// The part `share` (0…1) of the budget, for one of `workers`, from now on, with `judged` places
    /// judged already.
    pub(super) fn new(effort: &Effort, share: f64, workers: usize, judged: u64) -> Self {
        let start = Instant::now();
        match effort.budget {
            Budget::Places(count) => {
                let places = (count as f64 * share / workers as f64) as u64;
                Self {
                    from: judged,
                    places,
                    start,
                    time: None,
                }
            }
            Budget::Time(time) => Self {
                from: judged,
                places: u64::MAX,
                start,
                time: Some(time.mul_f64(share)),
            },
        }
    }

    /// How much is spent, 1 or more when all of it.
    pub(super) fn spent(&self, judged: u64) -> f64 {
        match self.time {
            Some(time) => self.start.elapsed().as_secs_f64() / time.as_secs_f64().max(1e-9),
            None => (judged - self.from) as f64 / self.places.max(1) as f64,
        }
    }

    pub(super) fn empty(&self, judged: u64) -> bool {
        self.spent(judged) >= 1.0
    }
}
