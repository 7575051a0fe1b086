//! The finished shoe as the booklet shows it: on the cover, and where the text asks for it.
//! Millimetres on paper.

use super::Figure;
use super::drawing::Room;
use super::shoe::{Manner, OpenContour, ShoeLook, ShoePictures, ShoeView, StrapLook};
use crate::draft::shoe::Closure;
use crate::draft::{Draft, DraftedShoe};
use crate::language::Words;

/// Room on the cover, mm.
const COVER: [f64; 2] = [150.0, 92.0];

/// Room of a figure in the text, mm: the drawing's field beside a step.
const FIGURE: [f64; 2] = [62.0, 52.0];

/// The views by the words of a `figure` block.
pub const SHOE_VIEWS: [(&str, ShoeView); 5] = [
    ("three-quarter", ShoeView::ThreeQuarter),
    ("side", ShoeView::Side),
    ("top", ShoeView::Top),
    ("back", ShoeView::Back),
    ("pair", ShoeView::Pair),
];

/// The finished shoes of a booklet's sizes; each scene is made once.
pub struct FinishedShoes {
    shoes: Vec<(String, ShoePictures)>,
}

impl FinishedShoes {
    /// Those of all sizes that have a shoe drafted on the form; sizes by key, in order.
    #[must_use]
    pub fn new<'a>(sizes: impl IntoIterator<Item = (&'a str, &'a Draft)>) -> Self {
        let pictures = |(key, draft): (&str, &Draft)| {
            let shoe = draft.shoe.as_ref()?;
            let form = &shoe.form.as_ref()?.form;
            Some((key.to_string(), ShoePictures::new(form, &look(shoe))))
        };
        Self {
            shoes: sizes.into_iter().filter_map(pictures).collect(),
        }
    }

    /// The drawing of the cover, of the middle one of the sizes; `None` without a shoe.
    #[must_use]
    pub fn cover(&self, words: &Words) -> Option<Result<Figure, OpenContour>> {
        let (_, shoe) = self.shoes.get(self.shoes.len() / 2)?;
        let manner = Manner {
            room: room(COVER),
            hatched: true,
            ..Manner::wide(COVER[0])
        };
        Some(shoe.figure(ShoeView::ThreeQuarter, manner, words))
    }

    /// The drawing that a `figure` block asks for: in the size `size`, or in the middle one.
    #[must_use]
    pub fn requested(
        &self,
        size: Option<&str>,
        view: ShoeView,
        words: &Words,
    ) -> Option<Result<Figure, OpenContour>> {
        let shoe = match size {
            Some(size) => self.shoes.iter().find(|(key, _)| key == size),
            None => self.shoes.get(self.shoes.len() / 2),
        };
        let manner = Manner {
            room: room(FIGURE),
            ..Manner::wide(FIGURE[0])
        };
        Some(shoe?.1.figure(view, manner, words))
    }
}

fn room([width, height]: [f64; 2]) -> Room {
    Room {
        width,
        height: Some(height),
    }
}

fn look(shoe: &DraftedShoe) -> ShoeLook {
    let choices = &shoe.choices;
    let length = shoe.form.as_ref().map_or(1.0, |shoe| shoe.foot.length);
    ShoeLook {
        cloth: choices.cloth.thickness,
        sole: choices.sole_thickness,
        strap: shoe.look.strap.map(|width| StrapLook {
            width: width / length,
            button: shoe.look.button,
            ..StrapLook::default()
        }),
        back_elastic: choices.donning.closure == Closure::BackElastic,
        topstitch: shoe.look.topstitch,
    }
}
