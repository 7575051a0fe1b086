//! The search for a lay that fits, and for the shortest one: exploration, which shortens the cloth
//! again and again and pulls the pieces apart, then compression, which takes away the last hairs.

use super::effort::Effort;
use super::lay::Lay;
use super::place_search::anywhere;
use super::random::Random;
use super::task::{Found, Place, Task};
use super::worker::{WORKERS, Worker};
use kurbo::Rect;
use rayon::prelude::*;

/// The exploration's part of the budget.
const EXPLORING: f64 = 0.8;

/// In how many stages exploration and compression are done. After each the workers that are behind
/// go on from the best lay. More stages waste less on the ones behind, but they also make all
/// workers search in one neighbourhood.
const STAGES: (usize, usize) = (4, 4);

/// Shortens the last of the `bays` as far as the budget goes. `start` can be cut; what is given back
/// can be cut as well and is never longer.
pub(super) fn shorten(task: &Task, bays: &[Rect], start: Found, effort: &Effort) -> Found {
    let worker = |index| {
        let lay = Lay::new(task, bays.to_vec(), start.places.clone());
        Worker::new(lay, start.length, random(effort, index))
    };
    let mut workers: Vec<Worker> = (0..WORKERS).map(worker).collect();
    let (exploring, compressing) = STAGES;
    for _ in 0..exploring {
        let share = EXPLORING / exploring as f64;
        workers
            .par_iter_mut()
            .for_each(|worker| worker.explore(effort, share));
        share_best(&mut workers);
    }
    for stage in 0..compressing {
        let share = (1.0 - EXPLORING) / compressing as f64;
        let span = (stage as f64 / compressing as f64, 1.0 / compressing as f64);
        workers
            .par_iter_mut()
            .for_each(|worker| worker.compress(effort, share, span));
        share_best(&mut workers);
    }
    workers.swap_remove(0).into_best()
}

/// A lay in the `bays` as they are, from pieces strewn about, within `share` of the budget.
pub(super) fn fit(task: &Task, bays: &[Rect], effort: &Effort, share: f64) -> Option<Found> {
    let worker = |index| {
        let mut random = random(effort, index);
        let lay = strewn(task, bays, &mut random)?;
        let length = bays[bays.len() - 1].width();
        Some(Worker::new(lay, length, random))
    };
    let mut workers = (0..WORKERS).map(worker).collect::<Option<Vec<Worker>>>()?;
    let done: Vec<bool> = workers
        .par_iter_mut()
        .map(|worker| worker.fit(effort, share))
        .collect();
    let first = done.iter().position(|&done| done)?;
    Some(workers.swap_remove(first).into_best())
}

fn random(effort: &Effort, index: usize) -> Random {
    Random::new(
        effort
            .seed
            .wrapping_mul(0x1_0000)
            .wrapping_add(index as u64),
    )
}

/// Every piece somewhere, in a shape and a bay that fit each other.
fn strewn<'a>(task: &'a Task, bays: &[Rect], random: &mut Random) -> Option<Lay<'a>> {
    let places = (0..task.pieces.len()).map(|piece| {
        let choices = task.choices_of(piece);
        let mut pairs: Vec<(usize, usize)> = (0..bays.len())
            .flat_map(|bay| choices.iter().map(move |&shape| (shape, bay)))
            .collect();
        random.shuffle(&mut pairs);
        let mut places = pairs
            .into_iter()
            .filter_map(|(shape, bay)| anywhere(task, bays, shape, bay, random));
        places.next()
    });
    let places = places.collect::<Option<Vec<Place>>>()?;
    Some(Lay::new(task, bays.to_vec(), places))
}

/// Hands the shortest lay to all workers.
fn share_best(workers: &mut [Worker]) {
    let lays = workers.iter().map(|worker| &worker.best);
    let Some(best) = lays.min_by(|a, b| a.length.total_cmp(&b.length)).cloned() else {
        return;
    };
    for worker in workers {
        worker.adopt(&best);
    }
}
