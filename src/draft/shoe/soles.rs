//! The sole and the layers upon it. Millimetres, on the page.

use super::choices::ShoeChoices;
use super::told::Told;
use crate::foot::form::station;
use crate::foot::{EaseFault, Foot, SoleRing};
use crate::geometry::Outline;
use kurbo::{ParamCurve, Point};
use std::f64::consts::TAU;

/// A stiffener narrower than this, mm, holds nothing (from judgement).
const NARROW: f64 = 4.0;

/// Between the allowance and the stiffener, mm.
const GAP: f64 = 0.5;

/// The sole's outlines, all with a `toe edge` and a `heel edge`.
#[derive(Debug, Clone, PartialEq)]
pub struct Soles {
    /// The sole's seam line.
    pub sole: Outline,
    /// The lining's sole, which lies inside the upper: half of both thicknesses further in.
    pub lining_sole: Outline,
    /// How far in that is, mm.
    pub lining_inset: f64,
    /// The stiffener, inside the trimmed allowance that is turned in; none if there is no room.
    pub stiffener: Option<Outline>,
    /// How far in that is, mm.
    pub stiffener_inset: f64,
}

impl Soles {
    /// The same with the lining's sole parted where the lining's upper is, if it has one.
    pub(super) fn with_lining(mut self, sole: Option<&Outline>) -> Self {
        if let Some(sole) = sole {
            self.lining_sole = sole.clone();
        }
        self
    }
}

/// The sole's seam line, `inset` mm inside that of the upper: the traced foot with its ease, the
/// corrections of toe and heel made. An ease that leaves no outline is told.
pub(super) fn sole_ring(
    foot: &Foot,
    choices: &ShoeChoices,
    inset: f64,
    told: &mut Told<'_>,
) -> Option<SoleRing> {
    let ease = choices.corrected_ease();
    let ring = match foot.sole_ring(ease - inset) {
        Ok(ring) => ring,
        Err(EaseFault::MarkOutside { .. } | EaseFault::Outline(_)) => {
            told.refuse(
                "shoe-ease",
                format!("The tracing moved by an ease of {ease:.1} mm is no outline."),
                "Give an ease of 1/8 in, or trace the foot with rounder hollows.",
            );
            return None;
        }
    };
    let more = &choices.corrections;
    if more.heel_narrower == 0.0 && more.toe_length == 0.0 {
        return Some(ring);
    }
    let length = foot.length;
    let toe = station::TOE_FAN * length;
    let front = ring.inner_side().segments().next().map(|s| s.start().x)?;
    ring.bent(|p| {
        let behind = smooth((station::INSTEP * length - p.x) / (0.3 * length));
        let width = p.y.abs();
        let narrower = more.heel_narrower * behind * (width / (0.1 * length)).min(1.0);
        let longer = more.toe_length * smooth((p.x - toe) / (front - toe));
        Point::new(p.x + longer, p.y - p.y.signum() * narrower.min(width))
    })
}

/// From 0 to 1 without a corner.
fn smooth(share: f64) -> f64 {
    let k = share.clamp(0.0, 1.0);
    k * k * (3.0 - 2.0 * k)
}

/// The soles inside a seam line that is parted at the side marks, inner and outer; what has no room
/// is told.
pub(super) fn soles(
    ring: &SoleRing,
    side_marks: [f64; 2],
    choices: &ShoeChoices,
    told: &mut Told<'_>,
) -> Option<Soles> {
    let [inner, outer] = side_marks;
    let sole = match ring.on_page(inner, outer) {
        Ok(sole) => sole,
        Err(_) => {
            let message = format!(
                "The side marks, {inner:.1} and {outer:.1} mm from the heel, do not part the sole."
            );
            told.refuse("shoe-side-seam", message, "Move the side marks.");
            return None;
        }
    };
    let lining_inset = 0.5 * (choices.cloth.thickness + choices.lining_thickness);
    let stiffener_inset = choices.trim + choices.sole_thickness + GAP;
    let nothing_left =
        |by: f64| format!("An inset of {by:.1} mm leaves nothing, or two parts, of the sole.");
    let remedy = "Trim the allowance closer or take thinner layers.";
    let Ok(lining_sole) = sole.inset(lining_inset) else {
        told.refuse("inset-too-large", nothing_left(lining_inset), remedy);
        return None;
    };
    let stiffener = sole.inset(stiffener_inset).ok();
    match &stiffener {
        None => told.warn("shoe-stiffener", nothing_left(stiffener_inset), remedy),
        Some(stiffener) if is_narrow(&sole, stiffener, stiffener_inset) => told.warn(
            "shoe-stiffener",
            format!("The stiffener is less than {NARROW:.0} mm wide somewhere."),
            "Leave it out, or trim the allowance closer.",
        ),
        Some(_) => {}
    }
    Some(Soles {
        sole,
        lining_sole,
        lining_inset,
        stiffener,
        stiffener_inset,
    })
}

/// Whether a stiffener is narrower somewhere than [`NARROW`]. Moved inward, a line without corners
/// shortens by a full turn times the distance; where more is lost, a part was too narrow.
fn is_narrow(sole: &Outline, stiffener: &Outline, inset: f64) -> bool {
    let by = 0.5 * NARROW;
    let Ok(within) = stiffener.inset(by) else {
        return true;
    };
    within.perimeter() < sole.perimeter() - TAU * (inset + by) - NARROW
}
