//! Step 8: pieces drawn small, as SVG with words for those who do not see them: side by side
//! ([`pieces`]), one by one for the key ([`key()`]), as the steps of the work ([`flat`]); and the
//! finished shoe, drawn from its form ([`mod@shoe`], [`drawing`]). Millimetres
//! on paper; nothing here is at true scale, and every figure says its scale.
//!
//! Figures carry no type: piece numbers are drawn as outlines, so that no font is needed to see
//! them.

pub mod drawing;
mod finished;
pub mod flat;
mod group;
mod key;
mod layout;
mod listing;
pub mod measuring;
pub mod shoe;
mod small;
mod strain;
mod strap_piece;
mod tint;

pub use finished::{FinishedShoes, SHOE_VIEWS, ShoesInTheMaking};
pub use group::{Look, Under, pieces};
pub use key::key;
pub use layout::{
    LAYOUT_CLOTH, LayoutRoom, LayoutWords, layout, layout_scale, layout_size, says_what_is_left,
};
pub use listing::{Listing, listing};
pub use measuring::{MeasuringGuide, measuring_guide};
pub use strain::strain_picture;
pub use strap_piece::LENGTH as STRAP_LENGTH;
pub use tint::{Tint, swatch};

use crate::language::Words;

/// The longest description, characters: what a screen reader says in one breath or two.
const LONGEST: usize = 250;

/// A finished figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// The drawing, one unit a millimetre.
    pub svg: Vec<u8>,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// In words.
    pub alt: String,
    /// Paper millimetres for one millimetre of the piece.
    pub scale: f64,
}

impl Figure {
    /// `43 %`: the scale as the caption says it.
    pub fn scale_words(&self, words: &Words) -> String {
        scale_words(self.scale, words)
    }
}

fn scale_words(scale: f64, words: &Words) -> String {
    let share = format!("{:.0}", scale * 100.0);
    words.say("figures.scale", &[("share", &share)])
}

#[cfg(test)]
mod tests;
