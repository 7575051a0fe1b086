//! The seam between upper and sole, walked from the heel over the outer side, the toe and the inner
//! side back to the heel: places are mm from the toe, less than 0 on the outer side. Millimetres, the
//! foot's axes.

use crate::draft::shoe::{ShoeForm, ease_notches, fullness_share};
use crate::foot::form::{FeatherEdge, FootSide};
use crate::geometry::space::Vec3;

/// Step of the differences that give a direction, as a share of the whole.
const STEP: f64 = 0.003;

/// Where the ease lies between side mark and toe: what stands on it is taken from the form.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seam<'a> {
    edge: &'a FeatherEdge,
    /// Side marks, outer (less than 0) and inner.
    pub(super) sides: [f64; 2],
    /// Ease notches, outer (less than 0) and inner.
    pub(super) ease: [f64; 2],
}

/// How a place on the seam is marked on the pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mark {
    /// A notch with a line across the seam line: centre toe, centre heel.
    Centre,
    /// One notch.
    Single,
    /// Two notches side by side: the inner side.
    Double,
}

impl<'a> Seam<'a> {
    pub(super) fn new(form: &'a ShoeForm, length: f64) -> Self {
        let mark = |side: FootSide| form.side_seams[side as usize].sole().distance;
        let [inner, outer] = ease_notches(form, length);
        Self {
            edge: &form.surface.edge,
            sides: [-mark(FootSide::Outer), mark(FootSide::Inner)],
            ease: [-outer, inner],
        }
    }

    /// From the heel over the outer side to the heel again.
    pub(super) fn ends(&self) -> [f64; 2] {
        [
            -self.edge.length(FootSide::Outer),
            self.edge.length(FootSide::Inner),
        ]
    }

    pub(super) fn whole(&self) -> f64 {
        self.edge.perimeter()
    }

    /// The point on the sole; places beyond the heel go on round it.
    pub(super) fn at(&self, place: f64) -> Vec3 {
        let [start, end] = self.ends();
        let place = if place > end {
            place - self.whole()
        } else if place < start {
            place + self.whole()
        } else {
            place
        };
        let side = if place < 0.0 {
            FootSide::Outer
        } else {
            FootSide::Inner
        };
        let point = self.edge.at(side, place.abs());
        Vec3::new(point.x, point.y, 0.0)
    }

    /// Unit direction along the seam, from the outer to the inner side.
    pub(super) fn along(&self, place: f64) -> Vec3 {
        let step = STEP * self.whole();
        (self.at(place + step) - self.at(place - step)).unit()
    }

    /// Unit direction out of the sole.
    pub(super) fn outward(&self, place: f64) -> Vec3 {
        let along = self.along(place);
        Vec3::new(along.y, -along.x, 0.0)
    }

    /// `count` + 1 places at equal distances between two.
    pub(super) fn places([from, to]: [f64; 2], count: usize) -> Vec<f64> {
        let place = |i: usize| from + (to - from) * i as f64 / count as f64;
        (0..=count).map(place).collect()
    }

    /// The seam moved outward by `by`, closed, its last point the first, from the heel.
    pub(super) fn ring(&self, by: f64, count: usize) -> Vec<(Vec3, Vec3)> {
        let place = |place: f64| {
            let outward = self.outward(place);
            (self.at(place) + outward * by, outward)
        };
        let places = Self::places(self.ends(), count);
        places.into_iter().map(place).collect()
    }

    /// All marks of the sole, with their places.
    pub(super) fn marks(&self) -> [(f64, Mark); 8] {
        let [outer, inner] = self.ease;
        [
            (self.ends()[1], Mark::Centre),
            (self.sides[0], Mark::Single),
            (outer, Mark::Single),
            (0.5 * outer, Mark::Single),
            (0.0, Mark::Centre),
            (0.5 * inner, Mark::Single),
            (inner, Mark::Single),
            (self.sides[1], Mark::Double),
        ]
    }

    /// Where pins are set: at every mark, and half way where two are far apart (common practice).
    pub(super) fn pins(&self) -> Vec<f64> {
        let marks = self.marks().map(|(place, _)| place);
        let mut places = marks.to_vec();
        let [start, end] = self.ends();
        places.push(0.5 * (start + self.sides[0]));
        places.push(0.5 * (end + self.sides[1]));
        places.push(0.5 * (self.sides[0] + self.ease[0]));
        places.push(0.5 * (self.sides[1] + self.ease[1]));
        places.sort_by(f64::total_cmp);
        places
    }

    /// How much of the fullness lies at a place: 0 outside the ease notches, 1 in the middle.
    pub(super) fn fullness(&self, place: f64) -> f64 {
        let [outer, inner] = self.ease;
        fullness_share((place - outer) / (inner - outer))
    }
}
