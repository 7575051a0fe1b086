//! One line of search: a lay, what came of it so far, and its own random numbers. mm, y down.

use super::effort::{Effort, Purse};
use super::lay::Lay;
use super::place_search::Care;
use super::random::Random;
use super::separate::{Patience, separate};
use super::task::{Found, Place};
use kurbo::Vec2;

/// Workers that search side by side, each with random numbers of its own. The count is fixed, so
/// that the layout does not depend on the machine; two is what the smallest machines have cores for.
pub(super) const WORKERS: usize = 2;

const CARE: Care = Care {
    wide: 50,
    close: 25,
    descents: 3,
};
const EXPLORE: Patience = Patience {
    rounds: 100,
    strikes: 2,
    care: CARE,
};
const COMPRESS: Patience = Patience {
    rounds: 100,
    strikes: 5,
    care: CARE,
};

/// The least and the most that exploration takes off the length at a time. It takes off more while
/// the pieces come apart at once, which is what happens at first.
const STEPS: (f64, f64) = (0.001, 0.016);

/// Rounds of separation within which the pieces have come apart at once, and after which they have
/// done so with an effort.
const AT_ONCE: (usize, usize) = (4, 40);

/// How far down the list of failed lays a new attempt begins: the deviation, as part of the list.
const POOL_BIAS: f64 = 0.25;

/// Pieces that make up this part of all pieces' hulls, from the largest on, are large.
const LARGE: f64 = 0.75;

/// What compression takes off, at its beginning and at its end, as part of the length.
const HAIRS: (f64, f64) = (0.0005, 0.00001);

/// One line of search.
pub(super) struct Worker<'a> {
    lay: Lay<'a>,
    random: Random,
    pub(super) best: Found,
    /// Lays of the present length that could not be pulled apart, best first.
    pool: Vec<(f32, Vec<Place>)>,
    /// Whether the lay is under way to a shorter length than the best one.
    under_way: bool,
    step: f64,
}

impl<'a> Worker<'a> {
    /// From a lay of so many mm in the last bay.
    pub(super) fn new(lay: Lay<'a>, length: f64, random: Random) -> Self {
        let best = Found {
            places: lay.places.clone(),
            length,
        };
        Self {
            lay,
            random,
            best,
            pool: Vec::new(),
            under_way: false,
            step: STEPS.1,
        }
    }

    pub(super) fn into_best(self) -> Found {
        self.best
    }

    /// Goes on from `best`, if that is shorter than what was found here.
    pub(super) fn adopt(&mut self, best: &Found) {
        if best.length < self.best.length {
            self.best = best.clone();
            self.under_way = false;
        }
    }

    /// Pulls the pieces apart on the cloth as it is; whether that was possible.
    pub(super) fn fit(&mut self, effort: &Effort, share: f64) -> bool {
        let purse = Purse::new(effort, share, WORKERS, self.lay.judged);
        while !purse.empty(self.lay.judged) {
            if self.attempt(&purse) {
                self.keep();
                return true;
            }
        }
        false
    }

    /// Shortens the cloth whenever all pieces could be pulled apart; where they could not, starts
    /// again from one of the failed lays with two large pieces swapped (Gardeyn et al. 2025,
    /// exploration phase).
    pub(super) fn explore(&mut self, effort: &Effort, share: f64) {
        let purse = Purse::new(effort, share, WORKERS, self.lay.judged);
        if !self.under_way && !self.shrink() {
            return;
        }
        while !purse.empty(self.lay.judged) {
            if self.attempt(&purse) {
                self.keep();
                if !self.shrink() {
                    return;
                }
            }
        }
    }

    /// One separation; where it fails the lay is made ready for the next one.
    fn attempt(&mut self, purse: &Purse) -> bool {
        let (loss, rounds) = separate(&mut self.lay, EXPLORE, purse, &mut self.random);
        if loss == 0.0 {
            let (soon, late) = AT_ONCE;
            let factor = if rounds <= soon {
                2.0
            } else if rounds > late {
                0.25
            } else {
                1.0
            };
            self.step = (self.step * factor).clamp(STEPS.0, STEPS.1);
            return true;
        }
        if self.step > STEPS.0 && self.under_way {
            self.step = STEPS.0;
            self.under_way = self.shrink();
            return false;
        }
        let index = self.pool.partition_point(|(other, _)| *other <= loss);
        self.pool.insert(index, (loss, self.lay.places.clone()));
        let pick = self.random.normal(POOL_BIAS).abs() * self.pool.len() as f64;
        let pick = (pick as usize).min(self.pool.len() - 1);
        self.lay.reset(&self.pool[pick].1);
        self.disrupt();
        false
    }

    /// Takes the present lay as the best one.
    fn keep(&mut self) {
        self.best.places.clone_from(&self.lay.places);
        self.best.length = self.lay.end() - self.start();
    }

    fn start(&self) -> f64 {
        self.lay.bays[self.lay.bays.len() - 1].x0
    }

    /// Starts on a shorter cloth from the best lay, its pieces pushed in at the end. False where the
    /// cloth cannot be shorter.
    fn shrink(&mut self) -> bool {
        self.pool.clear();
        if self.best.length <= 0.0 {
            return false;
        }
        let length = self.best.length * (1.0 - self.step);
        let places = self.best.places.clone();
        self.under_way = self.squeeze(places, length, f64::INFINITY, 0.0);
        self.under_way
    }

    /// Lays out `places` on a last bay of `length`, with those right of `split` moved left `by`.
    fn squeeze(&mut self, mut places: Vec<Place>, length: f64, split: f64, by: f64) -> bool {
        let last = self.lay.bays.len() - 1;
        self.lay.bays[last].x1 = self.start() + length;
        for (piece, place) in places
            .iter_mut()
            .enumerate()
            .filter(|(_, place)| place.bay == last)
        {
            let middle = self.lay.task.shapes.all[place.shape].bounds.center().x + place.at.x;
            if middle > split {
                place.at.x -= by;
            }
            let choices = self.lay.task.choices_of(piece).iter();
            let shapes = std::iter::once(&place.shape).chain(choices);
            let bays = (0..=last).rev().map(|bay| Place { bay, ..*place });
            let mut fitting =
                bays.flat_map(|place| shapes.clone().map(move |&shape| Place { shape, ..place }));
            let Some(inside) = fitting.find_map(|place| self.lay.within(place)) else {
                return false;
            };
            *place = inside;
        }
        self.lay.reset(&places);
        true
    }

    /// Swaps two large pieces of different shape, so that the search leaves the place where it is
    /// stuck (Gardeyn et al. 2025, disruption).
    fn disrupt(&mut self) {
        let order = self.lay.task.by_size();
        let hull = |piece: usize| {
            self.lay.task.shapes.all[self.lay.places[piece].shape]
                .size
                .powi(2)
        };
        let total: f64 = order.iter().map(|&piece| hull(piece)).sum();
        let mut sum = 0.0;
        let large = order.iter().take_while(|&&piece| {
            sum += hull(piece);
            sum <= LARGE * total
        });
        let large = large.count().clamp(2.min(order.len()), order.len());
        for _ in 0..16 {
            let (a, b) = (
                order[self.random.below(large)],
                order[self.random.below(large)],
            );
            let item = |piece: usize| self.lay.task.pieces[piece].item;
            if item(a) != item(b) && self.swap(a, b) {
                return;
            }
        }
    }

    fn swap(&mut self, a: usize, b: usize) -> bool {
        let (pa, pb) = (self.lay.places[a], self.lay.places[b]);
        let centre = |place: &Place| self.lay.task.shapes.all[place.shape].bounds.center();
        let shift: Vec2 = centre(&pb) - centre(&pa);
        let to_b = self.lay.within(Place {
            bay: pb.bay,
            at: pb.at + shift,
            ..pa
        });
        let to_a = self.lay.within(Place {
            bay: pa.bay,
            at: pa.at - shift,
            ..pb
        });
        let (Some(to_b), Some(to_a)) = (to_b, to_a) else {
            return false;
        };
        self.lay.put(a, to_b);
        self.lay.put(b, to_a);
        true
    }

    /// Takes away ever smaller lengths at random places along the lay, and goes back to the best lay
    /// where the pieces cannot be pulled apart (Gardeyn et al. 2025, compression phase). `span` is
    /// where in the whole compression this stage begins and how much of it it is.
    pub(super) fn compress(&mut self, effort: &Effort, share: f64, span: (f64, f64)) {
        let purse = Purse::new(effort, share, WORKERS, self.lay.judged);
        while self.best.length > 0.0 && !purse.empty(self.lay.judged) {
            let done = span.0 + span.1 * purse.spent(self.lay.judged);
            let by = self.best.length * HAIRS.0 * (HAIRS.1 / HAIRS.0).powf(done);
            let split = self.start() + self.random.unit() * self.best.length;
            let places = self.best.places.clone();
            if !self.squeeze(places, self.best.length - by, split, by) {
                return;
            }
            if separate(&mut self.lay, COMPRESS, &purse, &mut self.random).0 == 0.0 {
                self.keep();
            }
        }
    }
}
