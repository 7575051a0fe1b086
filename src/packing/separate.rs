//! Pulling overlapping pieces apart.

use super::effort::Purse;
use super::lay::Lay;
use super::place_search::{Care, improve};
use super::random::Random;
use super::task::Place;

/// How stubbornly a separation is tried.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patience {
    /// Rounds without progress before the best state so far is taken up again.
    pub(super) rounds: usize,
    /// How often that may lead nowhere.
    pub(super) strikes: usize,
    pub(super) care: Care,
}

/// A round counts as progress where it leaves less than this part of the best overlap so far.
const PROGRESS: f32 = 0.98;

/// Moves overlapping pieces, one by one, to places where they overlap less, with weights that grow on
/// overlaps that stay. Gives the least overlap that was reached, and the rounds it took, and leaves
/// the lay in that state; 0 means that nothing overlaps (Gardeyn et al. 2025, separation procedure).
pub(super) fn separate(
    lay: &mut Lay,
    patience: Patience,
    purse: &Purse,
    random: &mut Random,
) -> (f32, usize) {
    let mut total = 0;
    let mut best: (f32, Vec<Place>) = (lay.loss(), lay.places.clone());
    let mut strikes = 0;
    while best.0 > 0.0 && strikes < patience.strikes && !purse.empty(lay.judged) {
        let before = best.0;
        let mut idle = 0;
        while idle < patience.rounds && !purse.empty(lay.judged) {
            total += 1;
            move_all(lay, patience.care, random);
            let loss = lay.loss();
            idle = if loss < PROGRESS * best.0 {
                0
            } else {
                idle + 1
            };
            if loss < best.0 {
                best.0 = loss;
                best.1.clone_from(&lay.places);
            }
            if loss == 0.0 {
                return (0.0, total);
            }
            lay.reweigh();
        }
        strikes = if best.0 < PROGRESS * before {
            0
        } else {
            strikes + 1
        };
        lay.restore(&best.1);
    }
    (best.0, total)
}

fn move_all(lay: &mut Lay, care: Care, random: &mut Random) {
    let mut order: Vec<usize> = (0..lay.places.len()).filter(|&i| lay.overlaps(i)).collect();
    random.shuffle(&mut order);
    for piece in order {
        if lay.overlaps(piece) {
            improve(lay, piece, care, random);
        }
    }
}
