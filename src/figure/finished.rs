//! The finished shoe as the booklet shows it: on the cover, and where the text asks for it.
//! Millimetres on paper.

use super::Figure;
use super::drawing::Room;
use super::shoe::making::{ShoeInTheMaking, Step, Work};
use super::shoe::{
    Manner, OpenContour, Sewn, ShoeLook, ShoePictures, ShoeView, StrapLook, TieLook,
};
use super::strap_piece;
use crate::design::Design;
use crate::draft::shoe::{Closure, ShoeForm};
use crate::draft::{Draft, DraftedShoe};
use crate::foot::form::FootSide;
use crate::language::Words;
use crate::piece::SizedPieces;
use std::sync::OnceLock;

/// Room on the cover, mm.
const COVER: [f64; 2] = [150.0, 92.0];

/// Room of a figure in the text, mm: the drawing's field beside a step.
const FIGURE: [f64; 2] = [62.0, 52.0];

/// An elastic is drawn no wider than this share of its strap's width.
const WIDEST_ELASTIC: f64 = 0.9;

/// The views by the words of a `figure` block.
pub const SHOE_VIEWS: [(&str, ShoeView); 5] = [
    ("three-quarter", ShoeView::ThreeQuarter),
    ("side", ShoeView::Side),
    ("top", ShoeView::Top),
    ("back", ShoeView::Back),
    ("pair", ShoeView::Pair),
];

/// The finished shoes of a booklet's sizes; each scene is made once, when it is first asked for.
pub struct FinishedShoes<'a> {
    shoes: Vec<Kept<'a, ShoePictures>>,
}

impl<'a> FinishedShoes<'a> {
    /// Those of all sizes that have a shoe drafted on the form; sizes in order.
    #[must_use]
    pub fn new(
        design: &Design,
        sizes: impl IntoIterator<Item = (&'a SizedPieces, &'a Draft)>,
    ) -> Self {
        Self {
            shoes: Kept::of_all(design, sizes),
        }
    }

    /// The key of the size in which a block that asks for `size` is drawn.
    #[must_use]
    pub fn drawn_in(&self, size: Option<&str>) -> Option<&'a str> {
        Kept::wanted(&self.shoes, size).map(|shoe| shoe.key)
    }

    /// The drawing of the cover, of the middle one of the sizes; `None` without a shoe.
    #[must_use]
    pub fn cover(&self, words: &Words) -> Option<Result<Figure, OpenContour>> {
        let shoe = Kept::wanted(&self.shoes, None)?.made(pictures);
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
        let shoe = Kept::wanted(&self.shoes, size)?.made(pictures);
        let manner = Manner {
            room: room(FIGURE),
            ..Manner::wide(FIGURE[0])
        };
        Some(shoe.figure(view, manner, words))
    }
}

fn room([width, height]: [f64; 2]) -> Room {
    Room {
        width,
        height: Some(height),
    }
}

/// What a design says of a strap besides its draft.
#[derive(Clone, Copy)]
struct Strap {
    /// How it is sewn.
    sewn: Sewn,
    /// Width of the elastic that is bought for it, mm.
    elastic: Option<f64>,
}

impl Strap {
    fn of(design: &Design, sized: &SizedPieces, shoe: &DraftedShoe) -> Self {
        Self {
            sewn: strap_piece::sewn(design, sized, shoe.look.only),
            elastic: strap_piece::elastic(&design.trims).and_then(|trim| trim.width),
        }
    }
}

fn look(shoe: &DraftedShoe, strap: Strap) -> ShoeLook {
    let choices = &shoe.choices;
    let length = shoe.form.as_ref().map_or(1.0, |shoe| shoe.foot.length);
    let donning = shoe.form.as_ref().map(|shoe| shoe.donning);
    let form = shoe.form.as_ref().map(|shoe| &shoe.form);
    let tied = choices.donning.closure == Closure::Tie;
    let at_seams = choices.donning.closure == Closure::ElasticStrap;
    let usual = StrapLook::default();
    let tie = donning.filter(|_| tied).map(|donning| donning.tie);
    ShoeLook {
        cloth: choices.cloth.thickness,
        sole: choices.sole_thickness,
        strap: shoe.look.strap.filter(|_| !tied).map(|width| StrapLook {
            width: width / length,
            button: shoe.look.button,
            // Sewn at both side seams, it ends on an elastic of which a little shows.
            elastic: donning
                .filter(|_| at_seams)
                .map(|donning| donning.strap.elastic / length),
            at: form.filter(|_| at_seams).map_or(usual.at, |form| {
                form.side_seams[FootSide::Outer as usize].top().point.x / length
            }),
            elastic_width: strap.elastic.map_or(usual.elastic_width, |elastic| {
                (elastic / width).min(WIDEST_ELASTIC)
            }),
            sewn: strap.sewn,
        }),
        tie: shoe.look.strap.zip(tie).map(|(width, tie)| TieLook {
            width,
            free: tie.ribbon - 0.5 * tie.over,
            slit: tie.slit,
        }),
        back_elastic: choices.donning.closure == Closure::BackElastic,
        topstitch: shoe.look.topstitch,
        only: shoe.look.only,
        lined: shoe.form.as_ref().is_some_and(|shoe| shoe.lining.is_some()),
    }
}

/// The shoes of a booklet's sizes in the making; what the states of one have in common is made once,
/// when it is first asked for.
pub struct ShoesInTheMaking<'a> {
    shoes: Vec<Kept<'a, ShoeInTheMaking<'a>>>,
}

impl<'a> ShoesInTheMaking<'a> {
    /// Those of all sizes that have a shoe drafted on the form; sizes in order.
    #[must_use]
    pub fn new(
        design: &Design,
        sizes: impl IntoIterator<Item = (&'a SizedPieces, &'a Draft)>,
    ) -> Self {
        Self {
            shoes: Kept::of_all(design, sizes),
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
        let shoe = Kept::wanted(&self.shoes, size)?.made(in_the_making);
        let manner = Manner {
            room: room(FIGURE),
            ..Manner::wide(FIGURE[0])
        };
        Some(shoe.figure(step, manner, words))
    }
}

/// The shoe of one size with what is drawn from it.
struct Kept<'a, T> {
    key: &'a str,
    shoe: &'a DraftedShoe,
    form: &'a ShoeForm,
    strap: Strap,
    made: OnceLock<T>,
}

impl<'a, T> Kept<'a, T> {
    fn of_all(
        design: &Design,
        sizes: impl IntoIterator<Item = (&'a SizedPieces, &'a Draft)>,
    ) -> Vec<Self> {
        let kept = |(sized, draft): (&'a SizedPieces, &'a Draft)| {
            let shoe = draft.shoe.as_ref()?;
            Some(Self {
                key: &sized.size,
                shoe,
                form: &shoe.form.as_ref()?.form,
                strap: Strap::of(design, sized, shoe),
                made: OnceLock::new(),
            })
        };
        sizes.into_iter().filter_map(kept).collect()
    }

    /// The shoe in the size `size`, or the middle one.
    fn wanted<'s>(shoes: &'s [Self], size: Option<&str>) -> Option<&'s Self> {
        match size {
            Some(size) => shoes.iter().find(|shoe| shoe.key == size),
            None => shoes.get(shoes.len() / 2),
        }
    }

    fn made(&self, make: fn(&'a ShoeForm, &DraftedShoe, Strap) -> T) -> &T {
        let make = || make(self.form, self.shoe, self.strap);
        self.made.get_or_init(make)
    }
}

fn pictures(form: &ShoeForm, shoe: &DraftedShoe, strap: Strap) -> ShoePictures {
    ShoePictures::new(form, &look(shoe, strap))
}

fn in_the_making<'a>(form: &'a ShoeForm, shoe: &DraftedShoe, strap: Strap) -> ShoeInTheMaking<'a> {
    ShoeInTheMaking::new(form, look(shoe, strap), work(shoe))
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
        lining_sole: soles.map_or(0.0, |soles| soles.lining_inset),
        strap: strap.map(|d| [d.strap.cloth, d.strap.elastic]),
        slit: tie.map(|d| d.tie.slit),
        ribbon: tie.and(shoe.look.strap),
    }
}
