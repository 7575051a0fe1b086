//! What a shoe looks like besides its form: cloth, strap, ribbons.

use crate::design;
use crate::figure::drawing::Face;

/// A strap over the instep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrapLook {
    /// Where it crosses the outer side, as a share of the foot's length from the heel.
    pub at: f64,
    /// Its width, as a share of the foot's length.
    pub width: f64,
    /// Whether a button sits on its outer end.
    pub button: bool,
    /// How much elastic shows between it and the outer topline, as a share of the foot's length; its
    /// end is round and lies outside if there is none.
    pub elastic: Option<f64>,
    /// How wide that elastic is, as a share of the strap's width.
    pub elastic_width: f64,
    /// How it is sewn.
    pub sewn: Sewn,
}

/// How a strap is sewn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sewn {
    /// Of two layers: along both edges.
    Layers,
    /// Folded along its middle: along its open edge and across its outer end.
    Folded {
        /// The side to which its open edge lies.
        open: Way,
    },
}

/// A way along the foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// To the toe.
    Toe,
    /// To the heel.
    Heel,
}

/// Ribbons tied over the foot, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TieLook {
    /// Width of the ribbons.
    pub width: f64,
    /// What each has for its half of the bow.
    pub free: f64,
    /// How far the throat is slit.
    pub slit: f64,
}

/// What a shoe looks like besides its form.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShoeLook {
    /// Thickness of the upper's cloth, mm.
    pub cloth: f64,
    /// Thickness of the sole, mm; soles are drawn no thinner than can be seen.
    pub sole: f64,
    /// Its strap, if any.
    pub strap: Option<StrapLook>,
    /// Ribbons that are tied, if any.
    pub tie: Option<TieLook>,
    /// Whether the back is gathered on an elastic.
    pub back_elastic: bool,
    /// Whether stitching shows round the topline.
    pub topstitch: bool,
    /// Whether a lining is seen inside; the wrong side of the cloth unless it is.
    pub lined: bool,
    /// The only foot it is for; of others the left shoe is shown finished, the right one in the making.
    pub only: Option<design::FootSide>,
}

impl ShoeLook {
    /// What the upper shows outside and inside, right side out.
    pub(super) fn faces(&self) -> [Face; 2] {
        let inside = if self.lined {
            Face::Lining
        } else {
            Face::Wrong
        };
        [Face::Right, inside]
    }
}

impl Default for StrapLook {
    fn default() -> Self {
        Self {
            at: 0.455,
            width: 0.10,
            button: true,
            elastic: None,
            elastic_width: 0.6,
            sewn: Sewn::Layers,
        }
    }
}
