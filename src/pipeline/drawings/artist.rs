//! Draws covers, shoes and flat figures, each by itself.

use super::super::Computed;
use crate::booklet::{EMPTY_DRAWING, FigureRequest};
use crate::design::FootSide;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::flat::{self, FlatFigure, FlatRequest};
use crate::figure::shoe::{OpenContour, ShoeView};
use crate::figure::{Figure, FinishedShoes, ShoesInTheMaking};
use serde_json::{Value, json};

/// A shoe that is drawn.
pub(super) struct DrawnShoe {
    pub(super) svg: Vec<u8>,
    pub(super) alt: String,
    /// What the template is told of it, as JSON: `alt`, and `width` and `height` in mm.
    pub(super) words: Vec<u8>,
    /// Why it could not be drawn.
    pub(super) said: Option<Diagnostic>,
}

impl From<Figure> for DrawnShoe {
    fn from(figure: Figure) -> Self {
        let Figure {
            svg,
            alt,
            width,
            height,
            ..
        } = figure;
        let words = json!({"alt": alt, "width": width, "height": height});
        Self {
            svg,
            alt,
            words: words.to_string().into_bytes(),
            said: None,
        }
    }
}

impl DrawnShoe {
    /// Takes the place of a drawing that could not be made.
    fn left_out(alt: String, said: Diagnostic) -> Self {
        let words = json!({"alt": alt, "width": 0, "height": 0});
        Self {
            svg: EMPTY_DRAWING.to_vec(),
            alt,
            words: words.to_string().into_bytes(),
            said: Some(said),
        }
    }
}

/// One flat drawing of the text.
pub(super) struct Drawn {
    pub(super) svg: Vec<u8>,
    /// What the template is told of it.
    pub(super) told: Option<Value>,
    pub(super) said: Diagnostics,
}

/// What is drawn from.
pub(super) struct Artist<'a> {
    computed: &'a Computed,
    finished: FinishedShoes<'a>,
    making: ShoesInTheMaking<'a>,
}

impl<'a> Artist<'a> {
    pub(super) fn new(computed: &'a Computed) -> Self {
        let sizes = || computed.sizes.iter().zip(&computed.drafts);
        Self {
            computed,
            finished: FinishedShoes::new(&computed.design, sizes()),
            making: ShoesInTheMaking::new(&computed.design, sizes()),
        }
    }

    /// Whether the shoe is drawn on the cover.
    pub(super) fn draws_the_cover(&self) -> bool {
        let design = &self.computed.design;
        let drawn = self.finished.drawn_in(None).is_some();
        drawn && design.shoe.is_some() && design.cover.is_none()
    }

    pub(super) fn cover(&self) -> DrawnShoe {
        let design = &self.computed.design;
        let place = design.shoe.as_ref().map(|shoe| &shoe.place);
        let drawn = self.finished.cover(&design.words);
        let drawn = drawn.unwrap_or(Err(OpenContour { ends: 0 }));
        drawn.map_or_else(
            |open| {
                let said = left_out(open, Diagnostic::warning, place, "cover");
                DrawnShoe::left_out(String::new(), said)
            },
            DrawnShoe::from,
        )
    }

    /// Whether a drawing of the shoe can be made for a request.
    pub(super) fn draws_a_shoe(&self, request: &FigureRequest) -> bool {
        let asked = request.shoe.is_some() || request.making.is_some();
        let key = self.finished.drawn_in(request.size.as_deref());
        asked && self.computed.design.shoe.is_some() && key.is_some()
    }

    /// The finished shoe, or one in the making.
    pub(super) fn shoe(&self, request: &FigureRequest) -> DrawnShoe {
        let design = &self.computed.design;
        let size = request.size.as_deref();
        let drawn = match (request.shoe, request.making) {
            (Some(view), _) => self.finished.requested(size, view, &design.words),
            (None, step) => step.and_then(|step| self.making.requested(size, step, &design.words)),
        };
        let drawn = drawn.unwrap_or(Err(OpenContour { ends: 0 }));
        drawn.map_or_else(
            |open| {
                let said = left_out(open, Diagnostic::error, Some(&request.place), "text");
                DrawnShoe::left_out(request.plain_alt(design), said)
            },
            DrawnShoe::from,
        )
    }

    /// What is said after the caption of a shoe.
    pub(super) fn said_of(&self, request: &FigureRequest) -> Vec<String> {
        // a pair shows both feet
        let pair = request.shoe == Some(ShoeView::Pair);
        let one = self.one_foot(request.size.as_deref());
        one.filter(|_| !pair).into_iter().collect()
    }

    /// For which foot a shoe is drawn, in words, if its size is for one alone.
    fn one_foot(&self, size: Option<&str>) -> Option<String> {
        let design = &self.computed.design;
        let key = self.finished.drawn_in(size)?;
        let drawn = design.sizes.iter().find(|size| size.key == key)?;
        drawn.only?;
        self.size_drawn(&drawn.title)
    }

    /// In which size a figure is drawn, which its scale is of; `None` if there is but one.
    fn size_drawn(&self, title: &str) -> Option<String> {
        let design = &self.computed.design;
        // the last word may be right or left, the one that matters
        let title = title.replace(' ', "\u{a0}");
        let said = || design.words.say("figures.one foot", &[("title", &title)]);
        (design.sizes.len() > 1).then(said)
    }

    /// A step drawn flat, in the size it names or in the last; letters and numbers in it `larger` than usual by
    /// this factor.
    pub(super) fn flat(&self, request: &FigureRequest, asked: &FlatRequest, larger: f64) -> Drawn {
        let mut said = Diagnostics::default();
        let size = request.size.as_deref();
        // the shoe in the making is a right one too unless it cannot be
        let usual = |key: &str| {
            let mut sizes = self.computed.design.sizes.iter();
            sizes.any(|size| size.key == key && size.only != Some(FootSide::Left))
        };
        let wanted = |key: &str| size.map_or_else(|| usual(key), |size| size == key);
        let mut sizes = self.computed.sizes.iter().zip(&self.computed.drafts).rev();
        let drawn = sizes
            .find(|(sized, _)| wanted(&sized.size))
            .and_then(|(sized, draft)| {
                let (design, from) = (&self.computed.design, (sized, &draft.values));
                let drawn = flat::draw(asked, design, from, (request.wide, larger), &mut said)?;
                Some((drawn, sized))
            });
        // what keeps it from being drawn is told; the text keeps its place
        let Some((drawn, sized)) = drawn else {
            let (svg, told) = (EMPTY_DRAWING.to_vec(), None);
            return Drawn { svg, told, said };
        };
        let FlatFigure {
            figure,
            mut after,
            tints,
            numbers,
        } = drawn;
        after.extend(self.size_drawn(&sized.title));
        let told = json!({
            "alt": figure.alt,
            "after": after,
            "tints": tints,
            "numbers": numbers,
            "percent": (figure.scale * 100.0).round(),
        });
        Drawn {
            svg: figure.svg,
            told: Some(told),
            said,
        }
    }
}

/// What is said of a drawing whose contour does not close: an error where the text needs it.
fn left_out(
    open: OpenContour,
    level: fn(&'static str, Option<&Place>, String) -> Diagnostic,
    place: Option<&Place>,
    what: &str,
) -> Diagnostic {
    let message = format!(
        "The drawing of the shoe for the {what} is left out: its contour is open at {} ends",
        open.ends
    );
    level("drawing-open", place, message)
        .remedy("take another view or size, or put a picture there")
}
