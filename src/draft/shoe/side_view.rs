//! The topline as it is drawn seen from the side: a curve from the throat down to the low point and
//! up again to the back, one for each side of the foot. Millimetres, x along the foot, z up.

use super::choices::ShoeCut;
use super::told::Told;
use crate::foot::form::{FootSide, Form};
use kurbo::{CubicBez, ParamCurve, Point};

/// Points on each half of the curve.
const POINTS: usize = 200;

/// One side's line, points with rising x.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SideView {
    points: Vec<Point>,
}

/// What the line is drawn on.
pub(super) struct Profile<'a> {
    pub(super) surface: &'a Form,
    pub(super) cut: &'a ShoeCut,
    /// Length of the foot, mm.
    pub(super) length: f64,
    /// x of the bend in front of the ankle, mm.
    pub(super) bend: f64,
}

impl Profile<'_> {
    /// Both sides' lines; every mistake in the cut is told.
    pub(super) fn side_views(&self, told: &mut Told<'_>) -> Option<[SideView; 2]> {
        if !self.throat_fits(told) {
            return None;
        }
        let views = FootSide::BOTH.map(|side| self.side_view(side, told));
        let [inner, outer] = views;
        Some([inner?, outer?])
    }

    fn throat_fits(&self, told: &mut Told<'_>) -> bool {
        let cut = self.cut;
        let low = self.bend + 0.02 * self.length;
        let front = self.surface.foot_of(self.surface.edge.front());
        let high = front - 0.02 * self.length;
        let mut fits = true;
        // Values that are no numbers do not fit either.
        if !(cut.throat > low && cut.throat < high) {
            let message =
                format!("The throat must lie between {low:.0} and {high:.0} mm from the heel.");
            told.refuse("shoe-throat", message, "Move the throat.");
            fits = false;
        }
        if !(cut.throat_angle > 1.0 && cut.throat_angle < 90.0) {
            let message = format!(
                "The throat angle of {:.0}° must lie between 1° and 90°.",
                cut.throat_angle
            );
            told.refuse("shoe-throat", message, "35° gives a round throat.");
            fits = false;
        }
        let back = self.surface.edge.back();
        if !(cut.low_point < cut.throat - 0.03 * self.length && cut.low_point > back + 1.0) {
            let message = format!(
                "The low point of the topline ({:.1} mm from the heel) must lie behind the throat \
                 and before the heel.",
                cut.low_point
            );
            told.refuse("shoe-topline", message, "Move the low point or the throat.");
            fits = false;
        }
        fits
    }

    fn side_view(&self, side: FootSide, told: &mut Told<'_>) -> Option<SideView> {
        let cut = self.cut;
        let throat = Point::new(cut.throat, self.surface.height(cut.throat));
        let height = cut.side_heights[side as usize];
        if height.is_nan() || height > 0.92 * throat.y {
            let message = format!(
                "The {} side of the topline ({height:.1} mm) must be lower than the throat ({:.1} \
                 mm).",
                side.words(),
                throat.y
            );
            told.refuse(
                "shoe-topline",
                message,
                "Lower the side or move the throat back.",
            );
            return None;
        }
        let low = Point::new(cut.low_point, height);
        let (sine, cosine) = cut.throat_angle.to_radians().sin_cos();
        let (run, fall) = (throat.x - low.x, throat.y - low.y);
        let reach = (0.75 * fall / sine).min(0.6 * run / cosine.max(1e-6));
        let front = CubicBez::new(
            throat,
            Point::new(throat.x - reach * cosine, throat.y - reach * sine),
            Point::new(low.x + 0.45 * run, low.y),
            low,
        );
        let back = self.surface.edge.back();
        let (run, top) = (low.x - back, cut.back_height);
        let hind = CubicBez::new(
            low,
            Point::new(low.x - 0.45 * run, low.y),
            Point::new(back + 0.35 * run, top),
            Point::new(back - 1.0, top),
        );
        let on = |curve: CubicBez, i: usize| curve.eval(i as f64 / POINTS as f64);
        let hind = (0..POINTS).rev().map(|i| on(hind, i + 1));
        let front = (0..=POINTS).rev().map(|i| on(front, i));
        let points: Vec<Point> = hind.chain(front).collect();
        if !points.windows(2).all(|w| w[0].x < w[1].x) {
            told.refuse(
                "shoe-topline",
                "The topline folds back near the throat.".into(),
                "Make the throat angle smaller or the sides lower.",
            );
            return None;
        }
        Some(SideView { points })
    }
}

impl SideView {
    /// The line's height at x, mm.
    pub(super) fn height(&self, x: f64) -> f64 {
        let index = self.points.partition_point(|p| p.x <= x);
        let index = index.clamp(1, self.points.len() - 1);
        let (a, b) = (self.points[index - 1], self.points[index]);
        let share = ((x - a.x) / (b.x - a.x)).clamp(0.0, 1.0);
        a.y + share * (b.y - a.y)
    }
}
