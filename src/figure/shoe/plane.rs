//! Planes across the foot in which the lines of a strap lie. Millimetres, the foot's axes.

use crate::draft::shoe::ShoeForm;
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;

/// How much the strap's planes lean forward: mm along the foot for one up.
pub(super) const LEAN: f64 = 0.5;

/// Points of a line over the form, on each side.
const OVER: usize = 64;

/// A strap plane misses its point by no more than this share of the foot's length.
const MISS: f64 = 1e-4;

/// A plane across the foot that leans forward.
pub(super) struct Plane<'a> {
    pub(super) form: &'a ShoeForm,
    /// x at the height of the outer side.
    pub(super) at: f64,
    pub(super) height: f64,
    pub(super) length: f64,
}

impl Plane<'_> {
    /// Its line over the form from the outer to the inner feather edge, and the numbers of the points,
    /// not whole ones, at which it crosses the inner and the outer topline.
    pub(super) fn line(&self) -> Option<(Vec<Vec3>, [f64; 2])> {
        // Closer together at the feather edge, where straight walls have all their height.
        let place = |i: usize| (i as f64 / OVER as f64).powi(2);
        let mut points = Vec::with_capacity(2 * OVER + 1);
        let mut guess = self.at;
        let mut outer = None;
        let mut last_below = 0.0;
        for i in 0..=OVER {
            guess = self.base(FootSide::Outer, place(i), guess)?;
            let distance = self.form.surface.edge.distance_at(FootSide::Outer, guess);
            let below = self.form.topline_place(FootSide::Outer, distance) - place(i);
            if outer.is_none() && below < 0.0 && i > 0 {
                let share: f64 = last_below / (last_below - below);
                outer = Some((i - 1) as f64 + share.clamp(0.0, 1.0));
            }
            last_below = f64::max(below, 0.0);
            points.push(self.form.point(FootSide::Outer, distance, place(i)));
        }
        let mut topline = None;
        let mut last_above = 0.0;
        for i in (0..OVER).rev() {
            guess = self.base(FootSide::Inner, place(i), guess)?;
            let distance = self.form.surface.edge.distance_at(FootSide::Inner, guess);
            let above = place(i) - self.form.topline_place(FootSide::Inner, distance);
            if topline.is_none() && above < 0.0 {
                let share = last_above / (last_above - above);
                topline = Some((points.len() - 1) as f64 + share);
            }
            last_above = above.max(0.0);
            points.push(self.form.point(FootSide::Inner, distance, place(i)));
        }
        // A strap may cross the outer side wholly before its topline begins.
        Some((points, [topline?, outer.unwrap_or(OVER as f64)]))
    }

    /// x on the feather edge of the section line whose point at `place` lies in the plane, by the
    /// secant method.
    fn base(&self, side: FootSide, place: f64, guess: f64) -> Option<f64> {
        let edge = &self.form.surface.edge;
        let off = |x: f64| {
            let point = self.form.point(side, edge.distance_at(side, x), place);
            point.x - self.at - LEAN * (point.z - self.height)
        };
        let (mut last, mut here) = (guess - 0.01 * self.length, guess);
        let (mut off_last, mut off_here) = (off(last), off(here));
        for _ in 0..12 {
            if off_here.abs() < 0.1 * MISS * self.length || off_here == off_last {
                break;
            }
            let step = off_here * (here - last) / (off_here - off_last);
            let step = step.clamp(-0.1 * self.length, 0.1 * self.length);
            (last, off_last) = (here, off_here);
            here -= step;
            off_here = off(here);
        }
        (off_here.abs() < MISS * self.length).then_some(here)
    }

    /// How far along the line the outer side's height is reached.
    pub(super) fn length_at_height(&self, points: &[Vec3], along: &[f64]) -> Option<f64> {
        let after = points.iter().position(|p| p.z >= self.height)?.max(1);
        Some(length_between(points, along, after, self.height))
    }

    /// How far along the line it is as high as the inner side for the last time.
    pub(super) fn length_at_inner_height(&self, points: &[Vec3], along: &[f64]) -> Option<f64> {
        let height = self.form.cut.side_heights[FootSide::Inner as usize];
        let before = points.iter().rposition(|p| p.z >= height)?;
        let after = (before + 1).min(points.len() - 1);
        Some(length_between(points, along, after, height))
    }
}

/// How far along a line it is `height` high, between the point number `after` and the one before: at that
/// one, where both are equally high.
fn length_between(points: &[Vec3], along: &[f64], after: usize, height: f64) -> f64 {
    let (a, b) = (points[after - 1].z, points[after].z);
    let share = match b == a {
        true => 0.0,
        false => ((height - a) / (b - a)).clamp(0.0, 1.0),
    };
    along[after - 1] + share * (along[after] - along[after - 1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_height_is_found_along_a_line_that_begins_level() {
        let points = [0.0, 1.0, 2.0].map(|x| Vec3::new(x, 0.0, if x < 2.0 { 5.0 } else { 7.0 }));
        let along = [0.0, 1.0, 3.5];
        assert_eq!(length_between(&points, &along, 1, 5.0), 0.0);
        assert_eq!(length_between(&points, &along, 1, 4.0), 0.0);
        assert_eq!(length_between(&points, &along, 2, 6.0), 2.25);
    }
}
