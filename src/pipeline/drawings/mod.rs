//! Drawings of the steps and of the finished shoe, made once for all papers, and those of the shoe beside
//! the typesetting. Here they are waited for; [`artist`] draws them.

mod artist;

use super::{Computed, measuring};
use crate::booklet::{FigureRequest, Later, Prose};
use crate::design::Form;
use crate::diagnostic::Diagnostics;
use artist::{Artist, Drawn, DrawnShoe};
use rayon::prelude::*;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// Where the drawing of the cover stands among the booklet's files.
const COVER: &str = "figures/cover.svg";

/// By which factor letters in drawings are larger for large print: drawings are set 1.4 times as large there,
/// which makes 18 points of 7.5, the size of the text.
const LARGE_LETTERS: f64 = 18.0 / (7.5 * 1.4);

/// The same for half pages, where drawings are set smaller by as much.
const HALF_LETTERS: f64 = 1.0 / 0.74;

/// Drawings with larger letters than usual, for a form that sets them at another scale.
#[derive(Default)]
pub(super) struct Lettered {
    /// Those of the text, and what the template is told of them, by number.
    pub(super) flat: BTreeMap<usize, (Vec<u8>, Option<Value>)>,
    /// Those of the measuring guide, by path.
    pub(super) guide: BTreeMap<String, Vec<u8>>,
}

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
    /// With letters for large print, and for half pages; empty where nothing is set so.
    large: Lettered,
    half: Lettered,
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

/// Draws the measuring guide and the flat drawings of the text, on all processors; those of the shoe are
/// left to [`beside`]. For some `forms` the flat ones or the guide
/// with larger letters, too.
pub(super) fn drawings<'a>(
    computed: &'a Computed,
    prose: &Prose,
    forms: &[Form],
    diagnostics: &mut Diagnostics,
) -> Drawings<'a> {
    let artist = Artist::new(computed);
    let asked = prose.figures.iter();
    let flat: Vec<_> = asked
        .filter_map(|request| Some((request, request.flat.as_ref()?)))
        .collect();
    let (measuring, drawn) = rayon::join(
        || measuring::measuring(computed),
        || -> Vec<Drawn> {
            let flat = flat.par_iter().with_max_len(1);
            flat.map(|(request, asked)| artist.flat(request, asked, 1.0))
                .collect()
        },
    );
    let lettered = |wanted: bool, factor: f64| {
        if !wanted {
            return Lettered::default();
        }
        let flat = flat.par_iter().map(|(request, asked)| {
            let drawn = artist.flat(request, asked, factor);
            (request.number, (drawn.svg, drawn.told))
        });
        Lettered {
            flat: flat.collect(),
            guide: measuring::measuring_large(computed).1,
        }
    };
    let large = lettered(forms.contains(&Form::LargePrint), LARGE_LETTERS);
    let half = lettered(forms.iter().any(|form| form.has_half_pages()), HALF_LETTERS);
    let mut drawings = Drawings {
        cover: None,
        measuring,
        files: BTreeMap::new(),
        told: Map::new(),
        shoes: Vec::new(),
        large,
        half,
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

/// What `work` gives; the shoes of `all` that it may ask for are drawn meanwhile by the other processors, in
/// the order of the text, until it is done. Their threads are none of the pool's, in which `work` may wait for
/// a drawing.
pub(super) fn beside<T>(all: &[&Drawings<'_>], work: impl FnOnce() -> T) -> T {
    let each = all.iter();
    let shoes: Vec<_> = each
        .flat_map(|of| of.shoes.iter().map(move |shoe| (of, shoe)))
        .collect();
    let next = AtomicUsize::new(0);
    let draw = || {
        while let Some((of, shoe)) = shoes.get(next.fetch_add(1, Ordering::Relaxed)) {
            of.drawn(shoe);
        }
    };
    let helpers = rayon::current_num_threads() - 1;
    thread::scope(|scope| {
        for _ in 0..helpers.min(shoes.len()) {
            scope.spawn(draw);
        }
        let done = work();
        // who left off early waits for none but those that are begun
        next.store(shoes.len(), Ordering::Relaxed);
        done
    })
}

impl Drawings<'_> {
    /// Makes room for the shoes of cover and text.
    fn await_shoes(&mut self, prose: &Prose) {
        if self.artist.draws_the_cover() {
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

    /// Width and height of the drawing in the text with this number, mm.
    pub(super) fn shape(&self, number: usize) -> Option<[f64; 2]> {
        let asked = |shoe: &&Shoe| shoe.request.as_ref().is_some_and(|r| r.number == number);
        let svg = match self.shoes.iter().find(asked) {
            Some(shoe) => &self.drawn(shoe).svg,
            None => self.files.get(&format!("figures/{number}.svg"))?,
        };
        view_box(svg)
    }

    /// Those with larger letters, if a form has them.
    pub(super) fn lettered(&self, form: Form) -> Option<&Lettered> {
        match form {
            Form::LargePrint => Some(&self.large),
            Form::InkSaving => None,
            Form::Stapled | Form::PrintShop => Some(&self.half),
        }
    }
}

impl Lettered {
    /// Width and height of the drawing with this number, where it has larger letters, mm.
    pub(super) fn shape(&self, number: usize) -> Option<[f64; 2]> {
        self.flat.get(&number).and_then(|(svg, _)| view_box(svg))
    }
}

/// Width and height of a drawing, mm.
fn view_box(svg: &[u8]) -> Option<[f64; 2]> {
    let text = std::str::from_utf8(svg).ok()?;
    let (_, rest) = text.split_once("viewBox=\"")?;
    let (room, _) = rest.split_once('"')?;
    let mut sides = room.split_whitespace().skip(2).map(str::parse::<f64>);
    let (width, height) = (sides.next()?.ok()?, sides.next()?.ok()?);
    (width > 0.0 && height > 0.0).then_some([width, height])
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
