//! Step 3: a tracing and its measures become a [`Foot`]: a smooth outline laid on the foot's own
//! axes, with its length and widths.
//!
//! Axes: x from the centre heel (0) to the centre toe (the length), y greater than 0 on the inner
//! side, in mm. Every foot is kept as a right foot seen from above; a left one is mirrored. The
//! tracing's file counts y downwards, like everything else here: with the toe up, a right foot seen
//! from above has its inner side at the left. For points taken in axes with y upwards the ring is
//! the mirror image, and `inner side` says so.

mod ease;
pub mod form;
pub mod pair;
mod side;
mod tracing;

#[cfg(test)]
mod tests;

pub use ease::{EaseFault, SoleRing};

use crate::design::FootSpec;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::folder::DESIGN_FILE;
use kurbo::{BezPath, Point};
use side::Side;
use std::collections::BTreeMap;

/// Where along the foot the ball is measured, as a share of its length from the heel (common
/// practice for dolls: 0.70).
pub const BALL: f64 = 0.70;

/// Where along the foot the heel's width is measured, as a share of its length from the heel.
pub const HEEL: f64 = 0.22;

/// Lengths of feet, mm, outside which the tracing's unit is doubted: from the smallest dolls to a
/// large person.
const PLAUSIBLE: std::ops::RangeInclusive<f64> = 10.0..=350.0;

/// A foot's outline and measures.
#[derive(Debug, Clone, PartialEq)]
pub struct Foot {
    /// The outline: closed, from the toe by the inner side to the heel and back by the outer side.
    pub outline: BezPath,
    /// From the heel's hindmost point to the toe's foremost, along the axis, mm.
    pub length: f64,
    /// Width across the axis at [`BALL`], mm.
    pub ball_width: f64,
    /// Width across the axis at [`HEEL`], mm.
    pub heel_width: f64,
    /// The measures of the foot's file by name, mm.
    pub measures: BTreeMap<String, f64>,
    /// Where the tracing stands in the design.
    pub place: Place,
    /// Where the first of its measures stands, if its file has any.
    pub measures_place: Option<Place>,
    inner: Side,
    outer: Side,
}

impl Foot {
    /// The foot that `spec` describes: its points smoothed (a drawn path is taken as it is), turned
    /// to the axis from the heel mark to the toe mark or else to its longest chord with the wider
    /// half in front, and half the pencil line taken off. Mistakes go to `diagnostics`; `None` if
    /// no foot came of it.
    pub fn new(spec: &FootSpec, diagnostics: &mut Diagnostics) -> Option<Foot> {
        let ring = tracing::ring_on_axes(spec, diagnostics)?;
        let Some((inner, outer)) = side::parted(&ring) else {
            diagnostics.push(tracing::unusable(spec, "encloses nothing"));
            return None;
        };
        let length = inner.toe().x;
        let mut sound = true;
        for (words, side) in [("inner", &inner), ("outer", &outer)] {
            if let Some(point) = side.doubles_back(length) {
                sound = false;
                diagnostics.push(doubles_back(spec, words, point));
            }
        }
        if !sound {
            return None;
        }
        if !PLAUSIBLE.contains(&length) {
            diagnostics.push(implausible(spec, length));
        }
        let width = |share: f64| {
            let (inner, outer) = (inner.at(share * length)?, outer.at(share * length)?);
            Some(inner.point.y - outer.point.y)
        };
        let (Some(ball_width), Some(heel_width)) = (width(BALL), width(HEEL)) else {
            diagnostics.push(tracing::unusable(spec, "has no width at ball and heel"));
            return None;
        };
        Some(Foot {
            ball_width,
            heel_width,
            length,
            outline: side::ring(&inner, &outer),
            measures: spec.measures.clone(),
            place: spec.place.clone(),
            measures_place: spec.measures_place.clone(),
            inner,
            outer,
        })
    }

    /// Where a measure that is missing belongs, and what to write there: `lines`, such as
    /// `bend height: … mm`.
    pub fn where_to_add(&self, lines: &[String]) -> (&Place, String) {
        let list: Vec<String> = lines.iter().map(|line| format!("‘{line}’")).collect();
        let list = list.join(", ");
        let Some(place) = &self.measures_place else {
            let file = &self.place.source.path;
            let group = "two spaces in, each on its own line";
            let remedy = match file == DESIGN_FILE {
                true => {
                    format!("add ‘measures: {{…}}’ to this foot, with {list} between the braces")
                }
                false => format!(
                    "{file} has no ‘measures:’ yet: write ‘measures:’ at the left margin, and below it, {group}, {list}"
                ),
            };
            return (&self.place, remedy);
        };
        let file = &place.source.path;
        let line = place.source.text.lines().nth(place.line.saturating_sub(1));
        let first = line.and_then(|line| line.chars().nth(place.column.saturating_sub(1)));
        let remedy = match first {
            Some('{') => format!("add {list} between the braces of ‘measures:’ in {file}"),
            _ => format!("add {list} under ‘measures:’ in {file}, on a line like this one"),
        };
        (place, remedy)
    }

    /// The point of the outline's inner side at the distance `x` from the heel, mm; `None` beyond
    /// heel and toe.
    pub fn inner_at(&self, x: f64) -> Option<Point> {
        self.inner.at(x).map(|place| place.point)
    }

    /// The point of the outline's outer side at the distance `x` from the heel, mm; `None` beyond
    /// heel and toe.
    pub fn outer_at(&self, x: f64) -> Option<Point> {
        self.outer.at(x).map(|place| place.point)
    }

    /// The inner side, from the toe to the heel.
    pub fn inner_side(&self) -> BezPath {
        self.inner.path()
    }

    /// The outer side, from the toe to the heel.
    pub fn outer_side(&self) -> BezPath {
        self.outer.path()
    }
}

fn doubles_back(spec: &FootSpec, side: &str, point: Point) -> Diagnostic {
    let message = format!(
        "The tracing doubles back along the foot on its {side} side, {:.1} mm from the heel.",
        point.x
    );
    Diagnostic::error("tracing-doubles-back", Some(&spec.place), message).remedy(
        "Draw the line on past the hollow, so that it runs from toe to heel without turning back, \
         or check the heel and toe marks.",
    )
}

fn implausible(spec: &FootSpec, length: f64) -> Diagnostic {
    let message = format!("The traced foot is {length:.1} mm long; the unit may be wrong.");
    Diagnostic::warning("foot-length", Some(&spec.place), message)
        .remedy("Check ‘unit’ in the tracing: mm, cm or in.")
}
