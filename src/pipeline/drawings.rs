//! Drawings of the steps and of the finished shoe, made once for all papers, and those of the shoe beside
//! the typesetting.

use super::Computed;
use crate::booklet::{EMPTY_DRAWING, FigureRequest, Later, Prose};
use crate::design::FootSide;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::flat::{self, FlatFigure, FlatRequest};
use crate::figure::shoe::{OpenContour, ShoeView};
use crate::figure::{Figure, FinishedShoes, ShoesInTheMaking};
use rayon::prelude::*;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Where the drawing of the cover stands among the booklet's files.
const COVER: &str = "figures/cover.svg";

/// The drawings. Those of the shoe take the longest, so they are made beside the typesetting, or when the
/// typesetter asks for them, whichever comes first.
pub(super) struct Drawings<'a> {
    /// What the template is told of the cover's drawing.
    pub(super) cover: Option<Value>,
    /// Where the foot is measured: data for the template, and the drawings it names.
    pub(super) measuring: (Value, BTreeMap<String, Vec<u8>>),
    /// The other drawings that are made, by path.
    pub(super) files: BTreeMap<String, Vec<u8>>,
    /// What the template is told of each drawing in the text, by its number: of a shoe's the file that
    /// holds the words for it.
    pub(super) told: Map<String, Value>,
    artist: Artist<'a>,
    /// Cover first, then in the order of the text.
    shoes: Vec<Shoe>,
}

/// A drawing of the shoe, which may be still to make.
struct Shoe {
    /// What the text asks for; else it is the cover.
    request: Option<FigureRequest>,
    path: String,
    /// Path of what the template is told of it.
    words_path: String,
    drawn: OnceLock<DrawnShoe>,
}

struct DrawnShoe {
    svg: Vec<u8>,
    alt: String,
    /// What the template is told of it, as JSON: `alt`, and `width` and `height` in mm.
    words: Vec<u8>,
    /// Why it could not be drawn.
    said: Option<Diagnostic>,
}

/// Draws the measuring guide and the flat drawings of the text, on all processors; those of the shoe are
/// left to [`Drawings::beside`].
pub(super) fn drawings<'a>(
    computed: &'a Computed,
    prose: &Prose,
    diagnostics: &mut Diagnostics,
) -> Drawings<'a> {
    let sizes = || computed.sizes.iter().zip(&computed.drafts);
    let artist = Artist {
        computed,
        finished: FinishedShoes::new(&computed.design, sizes()),
        making: ShoesInTheMaking::new(&computed.design, sizes()),
    };
    let asked = prose.figures.iter();
    let flat: Vec<_> = asked
        .filter_map(|request| Some((request, request.flat.as_ref()?)))
        .collect();
    let (measuring, drawn) = rayon::join(
        || super::fitting::measuring(computed),
        || -> Vec<Drawn> {
            let flat = flat.par_iter().with_max_len(1);
            flat.map(|(request, asked)| artist.flat(request, asked))
                .collect()
        },
    );
    let mut drawings = Drawings {
        cover: None,
        measuring,
        files: BTreeMap::new(),
        told: Map::new(),
        shoes: Vec::new(),
        artist,
    };
    for ((request, _), drawn) in flat.into_iter().zip(drawn) {
        diagnostics.append(drawn.said);
        if let Some(told) = drawn.told {
            drawings.told.insert(request.number.to_string(), told);
        }
        drawings.files.insert(request.path(), drawn.svg);
    }
    drawings.await_shoes(prose);
    drawings
}

impl Drawings<'_> {
    /// Makes room for the shoes of cover and text.
    fn await_shoes(&mut self, prose: &Prose) {
        let design = &self.artist.computed.design;
        let drawn = self.artist.finished.drawn_in(None).is_some();
        if drawn && design.shoe.is_some() && design.cover.is_none() {
            let shoe = Shoe::awaited(None, COVER.to_string());
            self.cover = Some(json!({"svg": format!("/{COVER}"), "words": shoe.told_at()}));
            self.shoes.push(shoe);
        }
        let of_shoes = |request: &&FigureRequest| self.artist.draws_a_shoe(request);
        for request in prose.figures.iter().filter(of_shoes) {
            let shoe = Shoe::awaited(Some(request), request.path());
            let after = self.artist.said_of(request);
            let tints = request.making.map_or(&[][..], |step| step.state.tints());
            let told = json!({"words": shoe.told_at(), "after": after, "tints": tints});
            self.told.insert(request.number.to_string(), told);
            self.shoes.push(shoe);
        }
    }

    /// What `work` gives; the shoes that it may ask for are drawn meanwhile by the other processors, in
    /// the order of the text. Their threads are none of the pool's, in which `work` may wait for a
    /// drawing.
    pub(super) fn beside<T>(&self, work: impl FnOnce() -> T) -> T {
        let next = AtomicUsize::new(0);
        let helpers = rayon::current_num_threads() - 1;
        let draw = || {
            while let Some(shoe) = self.shoes.get(next.fetch_add(1, Ordering::Relaxed)) {
                self.drawn(shoe);
            }
        };
        thread::scope(|scope| {
            for _ in 0..helpers.min(self.shoes.len()) {
                scope.spawn(draw);
            }
            work()
        })
    }

    fn drawn<'s>(&self, shoe: &'s Shoe) -> &'s DrawnShoe {
        shoe.drawn.get_or_init(|| match &shoe.request {
            Some(request) => self.artist.shoe(request),
            None => self.artist.cover(),
        })
    }

    /// Says which shoes could not be drawn.
    pub(super) fn tell(&self, diagnostics: &mut Diagnostics) {
        for shoe in &self.shoes {
            self.drawn(shoe)
                .said
                .iter()
                .for_each(|said| diagnostics.push(said.clone()));
        }
    }

    /// The description of the shoe on the cover, if one is drawn.
    pub(super) fn cover_alt(&self) -> Option<&str> {
        let cover = self.shoes.iter().find(|shoe| shoe.request.is_none())?;
        let drawn = self.drawn(cover);
        drawn.said.is_none().then_some(drawn.alt.as_str())
    }

    /// The description of the drawing in the text with this number.
    pub(super) fn alt(&self, number: usize) -> Option<&str> {
        let asked = |shoe: &&Shoe| shoe.request.as_ref().is_some_and(|r| r.number == number);
        match self.shoes.iter().find(asked) {
            Some(shoe) => Some(&self.drawn(shoe).alt),
            None => self.told.get(&number.to_string())?["alt"].as_str(),
        }
    }
}

impl Later for Drawings<'_> {
    fn file(&self, path: &str) -> Option<&[u8]> {
        let awaited = |shoe: &&Shoe| shoe.path == path || shoe.words_path == path;
        let shoe = self.shoes.iter().find(awaited)?;
        let drawn = self.drawn(shoe);
        Some(if shoe.path == path {
            &drawn.svg
        } else {
            &drawn.words
        })
    }

    fn paths(&self) -> Vec<String> {
        let both = |shoe: &Shoe| [shoe.path.clone(), shoe.words_path.clone()];
        self.shoes.iter().flat_map(both).collect()
    }
}

impl Shoe {
    fn awaited(request: Option<&FigureRequest>, path: String) -> Self {
        Self {
            request: request.cloned(),
            words_path: path.replace(".svg", ".json"),
            path,
            drawn: OnceLock::new(),
        }
    }

    /// The words' path as the template names it.
    fn told_at(&self) -> String {
        format!("/{}", self.words_path)
    }
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
struct Drawn {
    svg: Vec<u8>,
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
    fn cover(&self) -> DrawnShoe {
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
    fn draws_a_shoe(&self, request: &FigureRequest) -> bool {
        let asked = request.shoe.is_some() || request.making.is_some();
        let key = self.finished.drawn_in(request.size.as_deref());
        asked && self.computed.design.shoe.is_some() && key.is_some()
    }

    /// The finished shoe, or one in the making.
    fn shoe(&self, request: &FigureRequest) -> DrawnShoe {
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
    fn said_of(&self, request: &FigureRequest) -> Vec<String> {
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
        let title: &str = &drawn.title;
        Some(design.words.say("figures.one foot", &[("title", &title)]))
    }

    /// A step drawn flat, in the size it names or in the last.
    fn flat(&self, request: &FigureRequest, asked: &FlatRequest) -> Drawn {
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
                flat::draw(asked, design, from, request.wide, &mut said)
            });
        // what keeps it from being drawn is told; the text keeps its place
        let Some(drawn) = drawn else {
            let (svg, told) = (EMPTY_DRAWING.to_vec(), None);
            return Drawn { svg, told, said };
        };
        let FlatFigure {
            figure,
            after,
            tints,
        } = drawn;
        let told = json!({
            "alt": figure.alt,
            "after": after,
            "tints": tints,
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
