//! How much fuller the toe piece is than the sole it is sewn to, and where. Millimetres.

use super::choices::ShoeChoices;
use super::patch::MeshedEdge;
use super::shoe_form::ShoeForm;
use crate::foot::form::FootSide;
use std::f64::consts::PI;

/// Where the ease notches lie, as a share of the foot's length from the heel (from judgement).
pub(super) const NOTCHES: f64 = 0.65;

/// The share of the zone over which the ease rises and falls.
const RAMPS: f64 = 0.8;

/// The easing of a toe piece, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Easing {
    /// Fullness at which the flat toe piece is least distorted.
    pub natural: f64,
    /// What the cloth takes up.
    pub cap: f64,
    /// What was used.
    pub used: f64,
    /// Length of sole between the ease notches.
    pub zone: f64,
}

/// Stations along the toe side of the sole, in mm from its inner side mark.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Zone {
    /// The ease notch on the inner side.
    pub(super) inner: f64,
    /// The centre toe.
    pub(super) toe: f64,
    /// The ease notch on the outer side.
    pub(super) outer: f64,
    /// The outer side mark.
    pub(super) end: f64,
}

impl Zone {
    pub(super) fn new(form: &ShoeForm, length: f64) -> Self {
        let mark = |side: FootSide| form.side_seams[side as usize].sole().distance;
        let [inner, outer] = ease_notches(form, length);
        let toe = mark(FootSide::Inner);
        Self {
            inner: toe - inner,
            toe,
            outer: toe + outer,
            end: toe + mark(FootSide::Outer),
        }
    }

    pub(super) fn length(&self) -> f64 {
        self.outer - self.inner
    }
}

/// Where the ease notches lie on the feather edge, inner and outer side, mm from the toe; for a foot
/// of this length.
pub fn ease_notches(form: &ShoeForm, length: f64) -> [f64; 2] {
    FootSide::BOTH.map(|side| {
        let mark = form.side_seams[side as usize].sole().distance;
        // A side mark before the ease notch is the notch.
        form.surface
            .edge
            .distance_at(side, NOTCHES * length)
            .min(mark)
    })
}

/// How the fullness lies between the ease notches: nothing at both, 1 round the middle. `share` is
/// how far from one to the other.
#[must_use]
pub fn fullness_share(share: f64) -> f64 {
    rounded_window(share, RAMPS)
}

/// The ease used, and the lengths of the toe piece's sole edge, step by step along the mesh.
///
/// `natural` are the lengths of those steps in the flat piece whose sole edge is free.
pub(super) fn eased_steps(
    sole: &MeshedEdge,
    natural: &[f64],
    zone: Zone,
    choices: &ShoeChoices,
) -> (Easing, Vec<f64>) {
    let fullness = natural.iter().sum::<f64>() - sole.length();
    let cap = choices.cloth.ease_limit * zone.length();
    let wanted = choices.fullness.unwrap_or(fullness.max(0.0).min(cap));
    let used = wanted + choices.corrections.fullness;
    let steps: Vec<f64> = sole.steps().collect();
    let middles = sole.along.windows(2).map(|w| 0.5 * (w[0] + w[1]));
    let weights: Vec<f64> = middles
        .map(|q| fullness_share((q - zone.inner) / zone.length()))
        .collect();
    let sum: f64 = weights.iter().zip(&steps).map(|(w, s)| w * s).sum();
    let share = if sum > 0.0 { used / sum } else { 0.0 };
    let eased = weights.iter().zip(&steps);
    let eased = eased.map(|(weight, step)| step * (1.0 + share * weight));
    let easing = Easing {
        natural: fullness,
        cap,
        used,
        zone: zone.length(),
    };
    (easing, eased.collect())
}

/// From nothing at the ends of a zone to 1, flat in the middle (the window of Tukey 1967). `share`
/// is how far along the zone, `ramps` the share of it over which the window rises and falls; its
/// mean is 1 - `ramps` / 2.
pub(super) fn rounded_window(share: f64, ramps: f64) -> f64 {
    if !(0.0..=1.0).contains(&share) {
        return 0.0;
    }
    let ramp = 0.5 * ramps;
    let from_end = share.min(1.0 - share);
    if from_end >= ramp {
        1.0
    } else {
        0.5 - 0.5 * (PI * from_end / ramp).cos()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_window_has_its_mean() {
        let count = 10_000;
        let sum: f64 = (0..count)
            .map(|i| rounded_window((f64::from(i) + 0.5) / f64::from(count), RAMPS))
            .sum();
        assert!((sum / f64::from(count) - 0.6).abs() < 1e-6);
        assert_eq!(rounded_window(-0.1, RAMPS), 0.0);
        assert_eq!(rounded_window(f64::NAN, RAMPS), 0.0);
    }
}
