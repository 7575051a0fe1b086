//! The foot as a body: a smooth surface over the traced outline that has every height and girth the
//! designer measured. Millimetres; x from the heel to the toe, y > 0 inner side, z up from the sole.
//!
//! [`FootForm::new`] solves the surface from the measures: sections at ball and instep from their
//! girths and heights, then the heel's fullness, the place of the bend and the height at which the
//! form closes from heel wrap, long-heel girth and, if given, ankle girth.

mod feather_edge;
mod measures;
mod net;
pub mod section;
mod sections;
mod solve;
mod surface;

#[cfg(test)]
pub(crate) mod fixture;
#[cfg(test)]
mod tests;

pub use feather_edge::{FeatherEdge, FootSide};
pub use measures::FootMeasures;
pub use net::Net;
pub use surface::{Form, SectionLine};

use super::Foot;
use crate::diagnostic::Diagnostics;
use crate::geometry::pchip::Pchip;
use sections::Sections;

/// Where a foot is measured, as shares of its length from the heel.
pub mod station {
    /// Instep height and girth.
    pub const INSTEP: f64 = 0.50;
    /// Ball height and girth.
    pub const BALL: f64 = super::super::BALL;
    /// The front end of the heel wrap.
    pub const WRAP_END: f64 = 0.35;
    /// Height of the heel wrap above the table.
    pub const WRAP_HEIGHT: f64 = 0.22;
    /// Behind it, section lines fan round the heel.
    pub const HEEL_FAN: f64 = 0.40;
    /// Before it, section lines fan round the toe.
    pub const TOE_FAN: f64 = 0.74;
}

/// The exponent of sections at ball and toe unless a ball height says otherwise: slightly fuller
/// than an ellipse.
const FULL: f64 = 2.3;

/// A foot's body.
#[derive(Debug, Clone, PartialEq)]
pub struct FootForm {
    /// Its surface.
    pub form: Form,
    /// The measures it was made from.
    pub measures: FootMeasures,
    /// Length of the foot, mm.
    pub length: f64,
    /// What was found.
    pub solved: Solved,
}

/// The unknowns of a foot's body, and the tapes that the finished body gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Solved {
    /// Height at the ball, mm.
    pub ball_height: f64,
    /// Exponent of the section at the ball.
    pub ball_exponent: f64,
    /// Exponent of the section at the instep.
    pub instep_exponent: f64,
    /// Exponent of the sections round the heel.
    pub heel_exponent: f64,
    /// x of the bend in front of the ankle, mm.
    pub bend: f64,
    /// Height at which the form closes above the heel, as a multiple of the bend height.
    pub top: f64,
    /// Tapes of the finished form, mm.
    pub tapes: Tapes,
}

/// Tapes that depend on the whole hind part of a form, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tapes {
    /// Level round the back of the heel.
    pub heel_wrap: f64,
    /// From the corner of the heel over the bend.
    pub long_heel: f64,
    /// Level at the bend height.
    pub ankle: f64,
}

/// The free numbers of the hind part.
#[derive(Debug, Clone, Copy, PartialEq)]
struct HindPart {
    heel_exponent: f64,
    bend: f64,
    top: f64,
}

impl FootForm {
    /// The body of `foot`. Each measure that does not go with the others is told with the range in
    /// which it must lie; `None` if one of them is beyond it.
    ///
    /// The body gives every girth back within 0.05 mm unless a warning `measure-disagrees` is told.
    pub fn new(foot: &Foot, diagnostics: &mut Diagnostics) -> Option<Self> {
        let measures = FootMeasures::read(foot, diagnostics)?;
        let edge = FeatherEdge::new(&foot.inner_side(), &foot.outer_side())?;
        let sections = Sections::new(foot, edge, measures, diagnostics)?;
        let (hind, tapes) = solve::hind_part(&sections, foot, diagnostics)?;
        let form = sections.form(hind)?;
        Some(Self {
            form,
            length: sections.length,
            solved: Solved {
                ball_height: sections.ball.0,
                ball_exponent: sections.ball.1,
                instep_exponent: sections.instep_exponent,
                heel_exponent: hind.heel_exponent,
                bend: hind.bend,
                top: hind.top,
                tapes,
            },
            measures: sections.measures,
        })
    }

    /// Where the section line at the very toe, and at the very heel, has its foot point: x, mm.
    #[must_use]
    pub fn fan_feet(&self) -> [f64; 2] {
        let form = &self.form;
        [
            form.foot_of(form.edge.back()),
            form.foot_of(form.edge.front()),
        ]
    }
}

/// A curve through `pairs`; the pairs of a sound foot always rise in x.
fn curve(pairs: &[(f64, f64)]) -> Option<Pchip> {
    Pchip::new(pairs)
}
