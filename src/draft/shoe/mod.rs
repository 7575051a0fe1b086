//! A shoe drafted over a foot: a toe piece and a heel piece that meet at both sides, their topline
//! round at the throat, and the sole. Pure computing: a foot and choices in, pieces out.
//!
//! The data go: the foot's body, a body round it with ease, topline and side seams on that body,
//! two patches flattened with their edges held, curves with true lengths.

mod body;
mod chart;
mod choices;
mod clearing;
mod donning;
mod drafted;
mod easing;
mod edges;
mod fitting;
mod flat;
mod notch;
mod notches;
mod patch;
mod shoe_form;
mod side_view;
mod soles;
mod spreading;
mod steps;
mod strips;
mod told;
mod topline;
mod upper;
mod warnings;

#[cfg(test)]
mod tests;

pub use body::BodySections;
pub use choices::{Closure, Corrections, DonningChoices, EASE, ShoeChoices, ShoeCut, UpperCloth};
pub use donning::{BackFit, Donning, Hold, StrapFit, TieFit};
pub use drafted::{FlatMesh, LiningPieces, Quality, Shoe, draft_shoe, draft_shoe_in_steps};
pub use easing::{Easing, ease_notches, fullness_share};
pub use notch::{NotchedPiece, ShoeNotch};
pub use notches::WalkStep;
pub use patch::UpperPiece;
pub use shoe_form::ShoeForm;
pub use soles::Soles;
pub use spreading::Casing;
pub use steps::DraftStep;
pub use strips::{FlatShoe, StripSide, Strips, draft_from_strips};
pub use topline::{FormPoint, SideSeam};

use crate::diagnostic::Diagnostics;
use crate::foot::Foot;
use crate::foot::form::FootForm;
use body::Builder;
use told::Told;

/// The shoe's form over `foot`, without its pieces: what drawings need. Everything in its way is
/// told.
pub fn shoe_form(
    foot: &Foot,
    choices: &ShoeChoices,
    diagnostics: &mut Diagnostics,
) -> Option<ShoeForm> {
    let body = FootForm::new(foot, diagnostics)?;
    let builder = Builder {
        foot,
        body: &body,
        choices,
        inset: 0.0,
    };
    ShoeForm::new(&builder, &mut Told::new(&foot.place, diagnostics))
}
