//! A chart of a shoe's side walls: where a point of the surface lies when its section lines are laid
//! flat, used only to join points to triangles. Millimetres.

use super::topline::{Measured, place_of, share_below};
use crate::foot::form::{FootSide, Form};
use kurbo::Point;

/// Section lines that are measured on each side; between them lengths are taken as even.
const LINES: usize = 97;

/// Measured section lines of both sides.
pub(super) struct Chart<'a> {
    surface: &'a Form,
    lines: [Vec<Vec<f64>>; 2],
}

/// Which way the chart is laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Layout {
    /// From above, every section line straight: no tear at the toe.
    Plan,
    /// As a wall seen from outside at the back: no tear at the heel.
    Wall,
}

impl<'a> Chart<'a> {
    pub(super) fn new(surface: &'a Form) -> Self {
        let lines = FootSide::BOTH.map(|side| {
            let measured = Measured::new(surface, side);
            let whole = surface.edge.length(side);
            let line = |i: usize| measured.lengths(whole * i as f64 / (LINES - 1) as f64);
            (0..LINES).map(line).collect()
        });
        Self { surface, lines }
    }

    /// The two measured lines around `distance` on `side`, and how far it lies towards the second.
    fn around(&self, side: FootSide, distance: f64) -> (&[f64], &[f64], f64) {
        let lines = &self.lines[side as usize];
        let along = distance / self.surface.edge.length(side) * (LINES - 1) as f64;
        let along = along.clamp(0.0, (LINES - 1) as f64);
        let index = (along as usize).min(LINES - 2);
        (&lines[index], &lines[index + 1], along - index as f64)
    }

    /// The share of the section line at `distance` that lies below `place`.
    pub(super) fn share(&self, side: FootSide, distance: f64, place: f64) -> f64 {
        let (a, b, towards) = self.around(side, distance);
        let (below_a, below_b) = (share_below(a, place), share_below(b, place));
        below_a + towards * (below_b - below_a)
    }

    /// The place below which `share` of the section line at `distance` lies, all but exactly.
    pub(super) fn place(&self, side: FootSide, distance: f64, share: f64) -> f64 {
        let (a, b, towards) = self.around(side, distance);
        let (at_a, at_b) = (place_of(a, share), place_of(b, share));
        at_a + towards * (at_b - at_a)
    }

    /// Where a point of the surface lies in the chart.
    pub(super) fn at(&self, layout: Layout, side: FootSide, distance: f64, place: f64) -> Point {
        let share = self.share(side, distance, place);
        match layout {
            Layout::Plan => {
                let section = self.surface.section(side, distance);
                section.base + share * (section.foot - section.base)
            }
            Layout::Wall => {
                let (a, b, towards) = self.around(side, distance);
                let (whole_a, whole_b) = (a[a.len() - 1], b[b.len() - 1]);
                let from_heel = distance - self.surface.edge.length(side);
                let across = match side {
                    FootSide::Inner => from_heel,
                    FootSide::Outer => -from_heel,
                };
                Point::new(across, share * (whole_a + towards * (whole_b - whole_a)))
            }
        }
    }
}
