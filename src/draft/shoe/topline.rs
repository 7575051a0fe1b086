//! Topline and side seams on the body of a shoe. Millimetres, the foot's axes.

use super::choices::ShoeCut;
use super::side_view::SideView;
use super::told::Told;
use crate::foot::form::{FootSide, Form};
use crate::geometry::root::root;
use crate::geometry::space::Vec3;

/// Points of one side's topline, and of a side seam.
const TOPLINE_POINTS: usize = 241;
const SEAM_POINTS: usize = 41;

/// The share of a topline's points that crowd at the throat.
const CROWDED: f64 = 0.15;

/// Steps in which a section line is searched for the topline.
const STEPS: usize = 20;

/// A point of a shoe's surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FormPoint {
    /// Where its section line begins: mm from the toe along the feather edge of its side.
    pub distance: f64,
    /// Where it lies on the section line, from 0 at the feather edge to 1 on the ridge.
    pub place: f64,
    /// Where it lies in space.
    pub point: Vec3,
}

/// The seam between toe piece and heel piece on one side, from the sole to the topline.
#[derive(Debug, Clone, PartialEq)]
pub struct SideSeam {
    /// Its points.
    pub points: Vec<FormPoint>,
}

impl SideSeam {
    /// Its end on the sole.
    #[must_use]
    pub fn sole(&self) -> FormPoint {
        self.points[0]
    }

    /// Its end at the topline.
    #[must_use]
    pub fn top(&self) -> FormPoint {
        self.points[self.points.len() - 1]
    }
}

/// One side's topline, from the throat to the back of the heel.
pub(super) fn topline(
    surface: &Form,
    side: FootSide,
    view: &SideView,
    throat: f64,
) -> Result<Vec<FormPoint>, f64> {
    let start = surface.edge.distance_at(side, surface.base_of(throat));
    let whole = surface.edge.length(side) - start;
    let mut points: Vec<FormPoint> = Vec::with_capacity(TOPLINE_POINTS);
    for number in 0..TOPLINE_POINTS {
        // Closer together near the throat, where the height falls as a square root does.
        let share = number as f64 / (TOPLINE_POINTS - 1) as f64;
        let distance = start + whole * share * share * (1.0 + CROWDED) / (share + CROWDED);
        let section = surface.section(side, distance);
        let above = |place: f64| {
            let point = section.point(place);
            point.z - view.height(point.x)
        };
        let place = if number == 0 {
            Some(1.0)
        } else {
            crossed(above)
        };
        match place {
            Some(place) => points.push(FormPoint {
                distance,
                place,
                point: section.point(place),
            }),
            // Right beside the throat the line may run a hair above the ridge.
            None if number < 5 => points.push(FormPoint {
                distance,
                place: 1.0,
                point: section.point(1.0),
            }),
            None => return Err(section.base.x),
        }
    }
    Ok(points)
}

/// Where a section line first comes up through the topline.
fn crossed(above: impl Fn(f64) -> f64) -> Option<f64> {
    // Close together near the ridge, which the line just misses beside the throat.
    let place = |step: usize| {
        let share = step as f64 / STEPS as f64;
        1.0 - (1.0 - share) * (1.0 - share)
    };
    let mut before = above(0.0);
    for step in 1..=STEPS {
        let here = above(place(step));
        if before < 0.0 && here >= 0.0 {
            return root(&above, place(step - 1), place(step), 1e-9);
        }
        before = here;
    }
    None
}

/// The section lines of one side measured: how long they are, and where a share of that length lies.
pub(super) struct Measured<'a> {
    surface: &'a Form,
    side: FootSide,
}

/// Steps in which a section line is measured.
const MEASURE_STEPS: usize = 64;

impl<'a> Measured<'a> {
    pub(super) fn new(surface: &'a Form, side: FootSide) -> Self {
        Self { surface, side }
    }

    /// Lengths of the section line at `distance` from its foot to each of evenly spread places.
    pub(super) fn lengths(&self, distance: f64) -> Vec<f64> {
        let section = self.surface.section(self.side, distance);
        let mut lengths = vec![0.0; MEASURE_STEPS + 1];
        let mut last = section.point(0.0);
        for step in 1..=MEASURE_STEPS {
            let point = section.point(step as f64 / MEASURE_STEPS as f64);
            lengths[step] = lengths[step - 1] + last.distance(point);
            last = point;
        }
        lengths
    }
}

/// The share of a measured line's whole length that lies below `place`.
pub(super) fn share_below(lengths: &[f64], place: f64) -> f64 {
    let last = lengths.len() - 1;
    let along = place.clamp(0.0, 1.0) * last as f64;
    let index = (along as usize).min(last - 1);
    let within = lengths[index] + (along - index as f64) * (lengths[index + 1] - lengths[index]);
    within / lengths[last]
}

/// The place below which a `share` of a measured line's whole length lies.
pub(super) fn place_of(lengths: &[f64], share: f64) -> f64 {
    let last = lengths.len() - 1;
    let wanted = share.clamp(0.0, 1.0) * lengths[last];
    let above = lengths.partition_point(|l| *l <= wanted);
    let index = above.clamp(1, last) - 1;
    let span = lengths[index + 1] - lengths[index];
    (index as f64 + ((wanted - lengths[index]) / span).clamp(0.0, 1.0)) / last as f64
}

/// The side seam: up the section line at the side mark, leaning towards the toe by the cut's lean.
/// `None`, told, if it would run into the throat.
pub(super) fn side_seam(
    surface: &Form,
    side: FootSide,
    topline: &[FormPoint],
    cut: &ShoeCut,
    told: &mut Told<'_>,
) -> Option<SideSeam> {
    let mark = cut.side_marks[side as usize];
    let base = surface.edge.distance_at(side, mark);
    let top = surface.edge.distance_at(side, mark + cut.seam_lean);
    let throat = topline.first()?.distance;
    let back = surface.edge.length(side);
    let room = 0.03 * back;
    // Marks that are no numbers do not fit either.
    let fits = [base, top]
        .iter()
        .all(|d| *d > throat + room && *d < back - room);
    if !fits {
        let message = format!(
            "The {} side seam, {mark:.1} mm from the heel, must lie behind the throat and before \
             the heel.",
            side.words()
        );
        told.refuse("shoe-side-seam", message, "Move the side mark.");
        return None;
    }
    let highest = place_on(topline, top);
    let measured = Measured::new(surface, side);
    let whole = share_below(&measured.lengths(top), highest);
    let points = (0..SEAM_POINTS).map(|number| {
        let share = number as f64 / (SEAM_POINTS - 1) as f64;
        let distance = base + (top - base) * share;
        let place = if number + 1 == SEAM_POINTS {
            highest
        } else {
            place_of(&measured.lengths(distance), whole * share)
        };
        FormPoint {
            distance,
            place,
            point: surface.point(side, distance, place),
        }
    });
    Some(SideSeam {
        points: points.collect(),
    })
}

/// Where the section line at `distance` meets the topline.
pub(super) fn place_on(topline: &[FormPoint], distance: f64) -> f64 {
    let last = topline.len() - 1;
    let index = topline.partition_point(|p| p.distance <= distance);
    let index = index.clamp(1, last);
    let (a, b) = (&topline[index - 1], &topline[index]);
    let share = (distance - a.distance) / (b.distance - a.distance);
    a.place + share.clamp(0.0, 1.0) * (b.place - a.place)
}
