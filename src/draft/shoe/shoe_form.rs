//! A shoe in space: its surface, topline and side seams. What drawings are made from, and what the
//! flat pieces are taken from. Millimetres, the foot's axes: x to the toe, y to the inner side, z up.

use super::body::{Body, BodySections, Builder};
use super::choices::ShoeCut;
use super::side_view::Profile;
use super::told::Told;
use super::topline::{self, FormPoint, SideSeam};
use crate::foot::SoleRing;
use crate::foot::form::{FootSide, Form};
use crate::geometry::space::Vec3;

/// A shoe in space.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoeForm {
    /// The surface; its feather edge is the sole's seam line.
    pub surface: Form,
    /// The sole's seam line as curves.
    pub sole: SoleRing,
    /// Topline of the inner and the outer side, each from the throat to the back of the heel.
    pub toplines: [Vec<FormPoint>; 2],
    /// Side seams, inner and outer.
    pub side_seams: [SideSeam; 2],
    /// Exponents of its sections.
    pub sections: BodySections,
    /// Where the cut runs, corrections included.
    pub cut: ShoeCut,
    /// Room between the foot and the middle of the cloth that it was made with, mm.
    pub clearance: f64,
}

impl ShoeForm {
    /// The form over a foot's body. Everything that is in its way is told.
    pub(super) fn new(builder: &Builder<'_>, told: &mut Told<'_>) -> Option<Self> {
        let Body {
            surface,
            ring,
            sections,
        } = builder.build(told)?;
        let cut = builder.choices.corrected_cut();
        let length = builder.body.length;
        let profile = Profile {
            surface: &surface,
            cut: &cut,
            length,
            bend: builder.body.solved.bend,
        };
        let views = profile.side_views(told)?;
        let mut toplines = Vec::new();
        let mut side_seams = Vec::new();
        for side in FootSide::BOTH {
            let view = &views[side as usize];
            let Some(line) = checked_topline(&surface, side, view, &cut, length, told) else {
                continue;
            };
            side_seams.extend(topline::side_seam(&surface, side, &line, &cut, told));
            toplines.push(line);
        }
        Some(Self {
            toplines: toplines.try_into().ok()?,
            side_seams: side_seams.try_into().ok()?,
            surface,
            sole: ring,
            sections,
            cut,
            clearance: builder.clearance(),
        })
    }

    /// The point of the surface on the section line that begins at `distance` mm from the toe along
    /// `side`; `place` goes from 0 at the feather edge to 1 on the ridge. Cloth lies there up to
    /// [`ShoeForm::topline_place`].
    #[must_use]
    pub fn point(&self, side: FootSide, distance: f64, place: f64) -> Vec3 {
        self.surface.point(side, distance, place)
    }

    /// Where the section line at `distance` mm from the toe along `side` ends at the topline: a place from 0
    /// to 1, and 1, the ridge, before the throat.
    #[must_use]
    pub fn topline_place(&self, side: FootSide, distance: f64) -> f64 {
        topline::place_on(&self.toplines[side as usize], distance)
    }

    /// Where the throat lies on the toe piece's topline, as a share of its length from the outer
    /// side seam.
    #[must_use]
    pub fn throat_share(&self) -> f64 {
        let [inner, outer] = FootSide::BOTH.map(|side| {
            let end = self.side_seams[side as usize].top().distance;
            let ahead = self.toplines[side as usize].windows(2);
            let before = ahead.take_while(|pair| pair[0].distance < end);
            before
                .map(|pair| {
                    let step = (pair[1].distance - pair[0].distance).max(1e-12);
                    let share = ((end - pair[0].distance) / step).min(1.0);
                    share * pair[0].point.distance(pair[1].point)
                })
                .sum::<f64>()
        });
        outer / (inner + outer).max(1e-12)
    }

    /// Where the topline crosses the ridge.
    #[must_use]
    pub fn throat(&self) -> Vec3 {
        self.toplines[0][0].point
    }
}

fn checked_topline(
    surface: &Form,
    side: FootSide,
    view: &super::side_view::SideView,
    cut: &ShoeCut,
    length: f64,
    told: &mut Told<'_>,
) -> Option<Vec<FormPoint>> {
    let line = match topline::topline(surface, side, view, cut.throat) {
        Ok(line) => line,
        Err(x) => {
            let message = format!(
                "The topline leaves the form on the {} side at x = {x:.0} mm.",
                side.words()
            );
            told.refuse("shoe-topline", message, "Lower the topline there.");
            return None;
        }
    };
    let lowest = line.iter().map(|p| p.point.z).fold(f64::INFINITY, f64::min);
    if lowest < 0.05 * length {
        let message = format!(
            "The topline comes down to the sole on the {} side: only {lowest:.1} mm are left.",
            side.words()
        );
        told.refuse("shoe-topline", message, "Raise the side height.");
        return None;
    }
    Some(line)
}
