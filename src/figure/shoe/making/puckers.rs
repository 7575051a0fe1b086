//! The fullness of a toe that is drawn up on its threads: how high its edge ripples, and the small folds
//! that run from there up the toe. Millimetres, the foot's axes.

use super::brim::WAVE;
use super::{Shoe, part};
use crate::figure::drawing::{Curve, LineKind};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;

/// Shares of the foot's length: how high the edge ripples, so that it is seen beside a step, and how far
/// the longest fold runs up the toe.
pub(super) const RIPPLES: f64 = 0.017;
const LONGEST: f64 = 0.1;

/// Where less of the fullness lies there is no fold, as a share of the most; every second fold is this
/// much shorter.
const LEAST: f64 = 0.12;
const SHORTER: f64 = 0.6;

/// A fold begins this share of its length above the seam, and has so many points.
const ABOVE: f64 = 0.08;
const POINTS: usize = 12;

/// The folds, one up from each valley of the ripple.
pub(super) fn puckers(shoe: &Shoe) -> Vec<Curve> {
    let wave = WAVE * shoe.extent.length;
    let [outer, inner] = shoe.seam.ease.map(|place| place / wave);
    let valleys = (outer.floor() as i64)..=(inner.ceil() as i64);
    let folds = valleys.filter_map(|number| {
        let place = (number as f64 + 0.5) * wave;
        let full = shoe.seam.fullness(place);
        let share = if number.rem_euclid(2) == 0 {
            1.0
        } else {
            SHORTER
        };
        let reach = LONGEST * shoe.extent.length * share * (0.5 + 0.5 * full);
        (full > LEAST).then(|| fold(shoe, place, reach))
    });
    folds.collect()
}

/// A fold from the seam at `place` up the toe, so long.
fn fold(shoe: &Shoe, place: f64, reach: f64) -> Curve {
    let side = match place < 0.0 {
        true => FootSide::Outer,
        false => FootSide::Inner,
    };
    let on = |share: f64| shoe.form.point(side, place.abs(), share);
    let foot = on(0.0);
    // the highest place not farther off: the toe rises from its edge all the way
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        match on(middle).distance(foot) < reach {
            true => low = middle,
            false => high = middle,
        }
    }
    let at = |i: usize| low * (ABOVE + (1.0 - ABOVE) * i as f64 / (POINTS - 1) as f64);
    let (points, normals): (Vec<Vec3>, Vec<Vec3>) = (0..POINTS)
        .map(|i| {
            let normal = shoe.extent.normal(shoe.form, side, place.abs(), at(i));
            (on(at(i)), normal)
        })
        .unzip();
    Curve::new(points, normals, LineKind::Detail).tagged(part::PUCKERS)
}
