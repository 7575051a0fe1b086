//! Drawings of the steps and of the finished shoe, made once for all papers.

use super::Computed;
use crate::booklet::{EMPTY_DRAWING, Prose};
use crate::design::FootSide;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::figure::shoe::OpenContour;
use crate::figure::{Figure, FinishedShoes, ShoesInTheMaking, flat};
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

/// Draws the cover, and the finished shoes that the text asks for. A drawing whose contour does not
/// close is left out of the cover, and is an error where the text asks for it.
pub(super) fn drawings(
    computed: &Computed,
    prose: &Prose,
    diagnostics: &mut Diagnostics,
) -> Drawings {
    let mut drawings = Drawings {
        measuring: super::fitting::measuring(computed),
        ..Drawings::default()
    };
    draw_flat(computed, prose, &mut drawings, diagnostics);
    let Some(shoe) = &computed.design.shoe else {
        return drawings;
    };
    let words = &computed.design.words;
    let keys = computed.design.sizes.iter().map(|size| size.key.as_str());
    let shoes = FinishedShoes::new(keys.clone().zip(&computed.drafts));
    let cover = shoes
        .cover(words)
        .map(|drawn| told(drawn, &shoe.place, "cover"));
    match cover {
        Some(Ok(figure)) => {
            drawings.cover = Some(json!({
                "svg": format!("/{COVER}"),
                "alt": figure.alt,
                "width": figure.width,
                "height": figure.height,
            }));
            drawings.files.insert(COVER.to_string(), figure.svg);
        }
        Some(Err(said)) => diagnostics.push(said),
        None => {}
    }
    let making = ShoesInTheMaking::new(keys.zip(&computed.drafts));
    for request in &prose.figures {
        let size = request.size.as_deref();
        let drawn = match (request.shoe, request.making) {
            (Some(view), _) => shoes.requested(size, view, words),
            (None, Some(step)) => making.requested(size, step, words),
            (None, None) => continue,
        };
        match drawn.map(|drawn| told(drawn, &request.place, "text")) {
            Some(Ok(figure)) => {
                let alt = json!({"alt": figure.alt});
                drawings.told.insert(request.number.to_string(), alt);
                drawings.files.insert(request.path(), figure.svg);
            }
            Some(Err(said)) => diagnostics.push(said),
            None => {}
        }
    }
    drawings
}

/// Draws the steps that the text asks for flat, in the size it names or in the last.
fn draw_flat(
    computed: &Computed,
    prose: &Prose,
    drawings: &mut Drawings,
    diagnostics: &mut Diagnostics,
) {
    for request in &prose.figures {
        let Some(asked) = &request.flat else {
            continue;
        };
        let size = request.size.as_deref();
        let sizes = computed.sizes.iter().zip(&computed.drafts);
        // the shoe in the making is a right one too
        let usual = |key: &str| {
            let mut sizes = computed.design.sizes.iter();
            sizes.any(|size| size.key == key && size.only != Some(FootSide::Left))
        };
        let wanted = |key: &str| size.map_or_else(|| usual(key), |size| size == key);
        let Some((sized, draft)) = sizes.rev().find(|(sized, _)| wanted(&sized.size)) else {
            continue;
        };
        let from = (sized, &draft.values);
        let Some(drawn) = flat::draw(asked, &computed.design, from, request.wide, diagnostics)
        else {
            // told already; the text keeps its place
            let blank = EMPTY_DRAWING.to_vec();
            drawings.files.insert(request.path(), blank);
            continue;
        };
        let flat::FlatFigure { figure, after } = drawn;
        let words = json!({
            "alt": figure.alt,
            "after": after,
            "percent": (figure.scale * 100.0).round(),
        });
        drawings.told.insert(request.number.to_string(), words);
        drawings.files.insert(request.path(), figure.svg);
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
