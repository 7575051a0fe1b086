//! The finished shoe as the booklet shows it: on the cover, and where the text asks for it.
//! Millimetres on paper.

use super::Figure;
use super::drawing::Room;
use super::shoe::making::{self, Step, Work};
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
    let donning = shoe.form.as_ref().map(|shoe| shoe.donning);
    ShoeLook {
        cloth: choices.cloth.thickness,
        sole: choices.sole_thickness,
        strap: shoe.look.strap.map(|width| StrapLook {
            width: width / length,
            button: shoe.look.button,
            // Sewn at both sides, it ends on an elastic of which a little shows.
            elastic: donning
                .filter(|_| choices.donning.closure == Closure::ElasticStrap)
                .map(|donning| donning.strap.elastic / length),
            ..StrapLook::default()
        }),
        back_elastic: choices.donning.closure == Closure::BackElastic,
        topstitch: shoe.look.topstitch,
    }
}

/// The shoes of a booklet's sizes in the making.
pub struct ShoesInTheMaking<'a> {
    shoes: Vec<(&'a str, &'a DraftedShoe)>,
}

impl<'a> ShoesInTheMaking<'a> {
    /// Those of all sizes that have a shoe drafted on the form; sizes by key, in order.
    #[must_use]
    pub fn new(sizes: impl IntoIterator<Item = (&'a str, &'a Draft)>) -> Self {
        let shoe = |(key, draft): (&'a str, &'a Draft)| {
            let shoe = draft.shoe.as_ref()?;
            shoe.form.is_some().then_some((key, shoe))
        };
        Self {
            shoes: sizes.into_iter().filter_map(shoe).collect(),
        }
    }

    /// The state that a `figure` block asks for: in the size `size`, or in the middle one.
    #[must_use]
    pub fn requested(
        &self,
        size: Option<&str>,
        step: Step,
        words: &Words,
    ) -> Option<Result<Figure, OpenContour>> {
        let (_, shoe) = match size {
            Some(size) => self.shoes.iter().find(|(key, _)| *key == size),
            None => self.shoes.get(self.shoes.len() / 2),
        }?;
        let form = &shoe.form.as_ref()?.form;
        let manner = Manner {
            room: room(FIGURE),
            ..Manner::wide(FIGURE[0])
        };
        Some(making::figure(
            form,
            &look(shoe),
            &work(shoe),
            step,
            (manner, words),
        ))
    }
}

fn work(shoe: &DraftedShoe) -> Work {
    let choices = &shoe.choices;
    let closure = choices.donning.closure;
    let form = shoe.form.as_ref();
    let donning = form.map(|shoe| shoe.donning);
    let soles = form.map(|shoe| &shoe.soles);
    let stiffener = soles.filter(|soles| soles.stiffener.is_some());
    let strap = donning.filter(|_| closure == Closure::ElasticStrap);
    let tie = donning.filter(|_| closure == Closure::Tie);
    Work {
        allowance: choices.allowance,
        trim: choices.trim,
        stiffener: stiffener.map(|soles| soles.stiffener_inset),
        lined: form.is_some_and(|shoe| shoe.lining.is_some()),
        lining_sole: soles.map_or(0.0, |soles| soles.lining_inset),
        strap: strap.map(|d| [d.strap.cloth, d.strap.elastic]),
        slit: tie.map(|d| d.tie.slit),
        ribbon: tie.and(shoe.look.strap),
    }
}
