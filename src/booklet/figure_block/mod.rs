//! The fenced block ```` ```figure ````: what to draw, in YAML. Names of pieces, seams and sizes are
//! checked here against the design; edges, notches and marks when the figure is drawn. What is wrong
//! is told at its own line of the block.

mod fields;
mod flat;
mod making;
mod spots;
mod strips;
#[cfg(test)]
mod tests;

use crate::design::{Chapter, Design, FootSide, ShapeSpec, ShoePart, yaml};
use crate::diagnostic::{Diagnostics, Place, SourceText};
use crate::figure::SHOE_VIEWS;
use crate::figure::flat::FlatRequest;
use crate::figure::shoe::ShoeView;
use crate::figure::shoe::making::Step;
use fields::{Reader, Section, moved};
use std::sync::Arc;

/// A drawing that a chapter asks for. Whoever calls the booklet draws it.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureRequest {
    /// Number of the drawing from 1: its file is `figures/NUMBER.svg`.
    pub number: usize,
    /// The name by which the text may refer to it.
    pub name: Option<String>,
    /// Keys of the pieces whose numbers stand in the drawing, in order.
    pub pieces: Vec<String>,
    /// From where the finished shoe is seen.
    pub shoe: Option<ShoeView>,
    /// The state of a shoe in the making.
    pub making: Option<Step>,
    /// What is drawn flat.
    pub flat: Option<FlatRequest>,
    /// Whether it takes the width of the text instead of the field beside a step.
    pub wide: bool,
    /// Key of the size; the first unless given.
    pub size: Option<String>,
    /// Words under it.
    pub caption: Option<String>,
    /// What it shows, for those who cannot see it, in the designer's words.
    pub alt: Option<String>,
    /// Where it stands.
    pub place: Place,
}

/// Names that the figure and picture blocks of a chapter give themselves.
pub fn figure_names(chapter: &Chapter) -> Vec<String> {
    let mut names = Vec::new();
    let mut inside = false;
    for line in chapter.source.text.lines().map(str::trim) {
        if let Some(info) = line.strip_prefix("```") {
            inside = matches!(info.split_whitespace().next(), Some("figure" | "picture"));
        } else if let (true, Some(name)) = (inside, line.strip_prefix("name:")) {
            names.push(name.trim().trim_matches(['\'', '"']).to_string());
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

impl FigureRequest {
    /// Path of the drawing among the booklet's files.
    pub fn path(&self) -> String {
        format!("figures/{}.svg", self.number)
    }

    /// Whether it shows a row of stitching being sewn along the topline of a shoe's upper.
    pub fn sews_the_topline(&self, design: &Design) -> bool {
        let upper = |shape: &ShapeSpec| {
            let part = |part: ShoePart| matches!(part, ShoePart::Toe | ShoePart::Heel);
            matches!(shape, ShapeSpec::Shoe { part: of, .. } if part(*of))
        };
        let drawn = |key: &str| self.pieces.iter().any(|piece| piece == key);
        let mut pieces = design.pieces.iter();
        let rows = self.flat.iter().flat_map(|flat| &flat.stitching);
        let mut edges = rows.flat_map(|row| &row.edges);
        edges.any(|edge| edge.text == "topline")
            && pieces.any(|piece| drawn(&piece.key) && upper(&piece.shape))
    }

    /// What it shows, as far as that is known before it is drawn.
    pub fn plain_alt(&self, design: &Design) -> String {
        let asked = self.size.as_ref();
        let mut sizes = design.sizes.iter();
        let only = asked.and_then(|key| sizes.find(|size| size.key == *key)?.only);
        match (&self.alt, self.shoe, self.making) {
            (Some(alt), _, _) => alt.clone(),
            (None, Some(view), _) => finished(view, only, design),
            (None, None, Some(step)) => step.words(only, &design.words),
            (None, None, None) => drawn_flat(&self.pieces, design),
        }
    }
}

const KEYS: &[&str] = &[
    "name",
    "pieces",
    "laid",
    "on",
    "seam",
    "stitch",
    "fold",
    "hem",
    "stitching",
    "opening",
    "turn through",
    "trim",
    "gather",
    "strip",
    "letters",
    "detail",
    "shoe",
    "making",
    "from",
    "wide",
    "size",
    "caption",
    "alt",
];

const EXAMPLE: &str = "Write ‘pieces: [toe, heel]’.";

/// Reads a block, the text between its fences. `None` if there is nothing to draw. `at` gives the
/// place in the designer's file of a line and column of the block, both from 1; `place` is that of
/// the block itself.
pub fn read(
    text: &str,
    number: usize,
    design: &Design,
    (place, at): (&Place, &dyn Fn(usize, usize) -> Place),
    diagnostics: &mut Diagnostics,
) -> Option<FigureRequest> {
    let mut reader = Reader {
        design,
        said: diagnostics,
        failed: false,
    };
    let node = tree(text, at, &mut reader)?;
    if node.is_null() || text.trim().is_empty() {
        reader.wrong(place, "A figure block holds no keys", EXAMPLE);
        return None;
    }
    let section = Section::of(&node, "A figure block", KEYS, &mut reader)?;
    let name = section.text("name", &mut reader).map(|named| named.text);
    let size = size(&section, &mut reader);
    let shoe = shoe(&section, &mut reader);
    let making = making::read(&section, &mut reader);
    let of_the_shoe = section.get("shoe").is_some() || section.get("making").is_some();
    let flat = flat::read(&section, of_the_shoe, place, &mut reader);
    let wide = section.yes("wide", &mut reader);
    let words = |key: &str, reader: &mut Reader| {
        let found = section.text(key, reader).map(|named| named.text);
        found.filter(|words| !words.trim().is_empty())
    };
    let (caption, alt) = (words("caption", &mut reader), words("alt", &mut reader));
    if reader.failed || (shoe.is_none() && making.is_none() && flat.is_none()) {
        return None;
    }
    let pieces = flat
        .as_ref()
        .map_or(Vec::new(), |asked| flat::pieces(asked, design));
    Some(FigureRequest {
        number,
        name,
        pieces,
        shoe,
        making,
        flat,
        wide,
        size,
        caption,
        alt,
        place: place.clone(),
    })
}

/// The block as a tree, its places in the designer's file.
fn tree(
    text: &str,
    at: &dyn Fn(usize, usize) -> Place,
    reader: &mut Reader,
) -> Option<crate::design::node::Node> {
    let source = Arc::new(SourceText {
        path: String::new(),
        text: text.to_string(),
    });
    let mut said = Diagnostics::default();
    let node = yaml::tree(&source, text, 0, &mut said);
    for mut told in said.sorted().into_iter().cloned() {
        told.place = told.place.map(|p| at(p.line, p.column));
        reader.said.push(told);
        reader.failed = true;
    }
    Some(moved(node?, at))
}

/// The key of a size; where left and right take patterns of their own, that of the first.
fn size(section: &Section, reader: &mut Reader) -> Option<String> {
    let named = section.text("size", reader)?;
    let sizes = &reader.design.sizes;
    let found = sizes.iter().find(|size| size.key == named.text);
    let found = found.or_else(|| sizes.iter().find(|size| size.declared == named.text));
    if let Some(size) = found {
        return Some(size.key.clone());
    }
    let keys: Vec<&str> = sizes.iter().map(|size| size.key.as_str()).collect();
    reader.unknown("a size", &named, keys);
    None
}

/// The view of the finished shoe that is asked for; what is wrong is said.
fn shoe(section: &Section, reader: &mut Reader) -> Option<ShoeView> {
    let named = section.text("shoe", reader)?;
    if reader.design.shoe.is_none() {
        let message = "A figure asks for the finished shoe, but the design has no ‘shoe:’";
        reader.wrong(&named.place, message, "Name pieces: ‘pieces: [toe, heel]’.");
        return None;
    }
    let found = SHOE_VIEWS.iter().find(|(words, _)| *words == named.text);
    if found.is_none() {
        let known = SHOE_VIEWS.map(|(words, _)| words).join(", ");
        let message = format!(
            "A figure asks for the shoe from ‘{}’, which is no view",
            named.text
        );
        reader.wrong(&named.place, message, format!("It knows {known}."));
    }
    found.map(|(_, view)| *view)
}

/// What a drawing of the finished shoe shows.
fn finished(view: ShoeView, only: Option<FootSide>, design: &Design) -> String {
    let known = SHOE_VIEWS.iter().find(|(_, known)| *known == view);
    let key = format!("figures.finished {}", known.map_or("", |(name, _)| name));
    let side = only.unwrap_or(FootSide::Left).words();
    let foot = format!("figures.foot {side}");
    let foot = design.words.get(&foot);
    design.words.say(&key, &[("foot", &foot)])
}

fn drawn_flat(pieces: &[String], design: &Design) -> String {
    let title = |key: &String| {
        let piece = design.pieces.iter().find(|piece| piece.key == *key);
        piece.map_or_else(|| key.clone(), |piece| piece.title.clone())
    };
    let titles: Vec<String> = pieces.iter().map(title).collect();
    let words = &design.words;
    words.say("figures.flat", &[("pieces", &words.joined(&titles))])
}
