//! Drawings of the steps and of the finished shoe, made once for all papers.

use super::Computed;
use crate::booklet::{EMPTY_DRAWING, FigureRequest, Prose};
use crate::design::FootSide;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::flat::{self, FlatFigure, FlatRequest};
use crate::figure::shoe::{OpenContour, ShoeView};
use crate::figure::{Figure, FinishedShoes, ShoesInTheMaking};
use rayon::prelude::*;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// Where the drawing of the cover stands among the booklet's files.
const COVER: &str = "figures/cover.svg";

/// The drawings.
#[derive(Debug, Default)]
pub(super) struct Drawings {
    /// What the template is told of the cover's drawing.
    pub(super) cover: Option<Value>,
    /// Where the foot is measured: data for the template, and the drawings it names.
    pub(super) measuring: (Value, BTreeMap<String, Vec<u8>>),
    /// The drawings by path.
    pub(super) files: BTreeMap<String, Vec<u8>>,
    /// What the template is told of each drawing in the text, by its number.
    pub(super) told: Map<String, Value>,
}

/// Draws the cover, the measuring guide and what the text asks for, on all processors. A drawing of
/// the shoe whose contour does not close is left out, and that is said.
pub(super) fn drawings(
    computed: &Computed,
    prose: &Prose,
    diagnostics: &mut Diagnostics,
) -> Drawings {
    let keys = computed.design.sizes.iter().map(|size| size.key.as_str());
    let sizes = || keys.clone().zip(&computed.drafts);
    let artist = Artist {
        computed,
        finished: FinishedShoes::new(sizes()),
        making: ShoesInTheMaking::new(sizes()),
    };
    let (measuring, (cover, drawn)) = rayon::join(
        || super::fitting::measuring(computed),
        || {
            let requests = prose.figures.par_iter().with_max_len(1);
            rayon::join(
                || artist.cover(),
                || requests.map(|request| artist.draw(request)).collect(),
            )
        },
    );
    let drawn: Vec<Drawn> = drawn;
    let mut drawings = Drawings {
        measuring,
        ..Drawings::default()
    };
    if let Some(Ok(figure)) = &cover {
        drawings.cover = Some(json!({
            "svg": format!("/{COVER}"),
            "alt": figure.alt,
            "width": figure.width,
            "height": figure.height,
        }));
    }
    // What is said comes in one order, whoever was ready first: flat drawings, cover, shoes.
    let (mut flat, mut shoes) = (Diagnostics::default(), Diagnostics::default());
    for (request, drawn) in prose.figures.iter().zip(drawn) {
        let said = if request.flat.is_some() {
            &mut flat
        } else {
            &mut shoes
        };
        said.append(drawn.said);
        if let Some(told) = drawn.told {
            drawings.told.insert(request.number.to_string(), told);
        }
        if let Some(svg) = drawn.svg {
            drawings.files.insert(request.path(), svg);
        }
    }
    diagnostics.append(flat);
    match cover {
        Some(Ok(figure)) => {
            drawings.files.insert(COVER.to_string(), figure.svg);
        }
        Some(Err(said)) => diagnostics.push(said),
        None => {}
    }
    diagnostics.append(shoes);
    drawings
}

/// One drawing of the text.
#[derive(Debug, Default)]
struct Drawn {
    svg: Option<Vec<u8>>,
    /// What the template is told of it.
    told: Option<Value>,
    said: Diagnostics,
}

/// What is drawn from.
struct Artist<'a> {
    computed: &'a Computed,
    finished: FinishedShoes<'a>,
    making: ShoesInTheMaking<'a>,
}

impl Artist<'_> {
    fn cover(&self) -> Option<Result<Figure, Diagnostic>> {
        let design = &self.computed.design;
        let place = &design.shoe.as_ref()?.place;
        let drawn = self.finished.cover(&design.words)?;
        Some(told(drawn, place, "cover"))
    }

    fn draw(&self, request: &FigureRequest) -> Drawn {
        match &request.flat {
            Some(asked) => self.flat(request, asked),
            None => self.shoe(request),
        }
    }

    /// The finished shoe, or one in the making.
    fn shoe(&self, request: &FigureRequest) -> Drawn {
        let mut all = Drawn::default();
        let design = &self.computed.design;
        let size = request.size.as_deref();
        let drawn = match (request.shoe, request.making) {
            _ if design.shoe.is_none() => None,
            (Some(view), _) => self.finished.requested(size, view, &design.words),
            (None, Some(step)) => self.making.requested(size, step, &design.words),
            (None, None) => None,
        };
        match drawn.map(|drawn| told(drawn, &request.place, "text")) {
            Some(Ok(figure)) => {
                // a pair shows both feet
                let pair = request.shoe == Some(ShoeView::Pair);
                let after = self.one_foot(size).filter(|_| !pair);
                let after: Vec<String> = after.into_iter().collect();
                all.told = Some(json!({"alt": figure.alt, "after": after}));
                all.svg = Some(figure.svg);
            }
            Some(Err(said)) => all.said.push(said),
            None => {}
        }
        all
    }

    /// For which foot a shoe is drawn, in words, if its size is for one alone.
    fn one_foot(&self, size: Option<&str>) -> Option<String> {
        let design = &self.computed.design;
        let key = self.finished.drawn_in(size)?;
        let drawn = design.sizes.iter().find(|size| size.key == key)?;
        drawn.only?;
        let title: &str = &drawn.title;
        Some(design.words.say("figures.one foot", &[("title", &title)]))
    }

    /// A step drawn flat, in the size it names or in the last.
    fn flat(&self, request: &FigureRequest, asked: &FlatRequest) -> Drawn {
        let mut all = Drawn::default();
        let size = request.size.as_deref();
        // the shoe in the making is a right one too unless it cannot be
        let usual = |key: &str| {
            let mut sizes = self.computed.design.sizes.iter();
            sizes.any(|size| size.key == key && size.only != Some(FootSide::Left))
        };
        let wanted = |key: &str| size.map_or_else(|| usual(key), |size| size == key);
        let sizes = self.computed.sizes.iter().zip(&self.computed.drafts);
        let Some((sized, draft)) = sizes.rev().find(|(sized, _)| wanted(&sized.size)) else {
            return all;
        };
        let (design, from) = (&self.computed.design, (sized, &draft.values));
        let Some(drawn) = flat::draw(asked, design, from, request.wide, &mut all.said) else {
            // told already; the text keeps its place
            all.svg = Some(EMPTY_DRAWING.to_vec());
            return all;
        };
        let FlatFigure {
            figure,
            after,
            tints,
        } = drawn;
        all.told = Some(json!({
            "alt": figure.alt,
            "after": after,
            "tints": tints,
            "percent": (figure.scale * 100.0).round(),
        }));
        all.svg = Some(figure.svg);
        all
    }
}

fn told(
    drawn: Result<Figure, OpenContour>,
    place: &Place,
    what: &str,
) -> Result<Figure, Diagnostic> {
    drawn.map_err(|open| {
        let message = format!(
            "The drawing of the shoe for the {what} is left out: its contour is open at {} \
             ends",
            open.ends
        );
        Diagnostic::warning("drawing-open", Some(place), message)
            .remedy("take another view or size, or put a picture there")
    })
}
