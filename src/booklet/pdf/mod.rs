//! Finishing a set PDF on the level of its objects: what the typesetter cannot say. Viewers are asked
//! not to scale, pages get their boxes and labels, sizes and pieces their bookmarks, and what the
//! templates put on layers becomes optional content. Tags, text and lines are not touched.
//!
//! Lengths are mm from the upper left corner of a page, y down.

mod bookmarks;
mod boxes;
pub mod content;
pub mod file;
mod labels;
mod layers;
#[cfg(test)]
mod tests;

pub use bookmarks::Bookmark;

use lopdf::{Dictionary, Document, Object};

/// How a printer is asked to use the sides of its sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// One side only: plates.
    One,
    /// Both, flipped on the short edge: booklets to be stapled.
    ShortEdge,
}

/// What a finished file says of itself besides its pages.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Finish {
    /// A label for each page, e.g. `12` or `Plate 3`; none keeps plain numbers.
    pub labels: Vec<String>,
    /// Bookmarks after those of the headings.
    pub bookmarks: Vec<Bookmark>,
    /// Names of the layers whose marks the templates set, by id.
    pub layers: Vec<String>,
    /// What all layers together are called.
    pub all_layers: String,
    /// How the sheets are printed, if it matters.
    pub sides: Option<Sides>,
}

/// The finished file. The same bytes come from the same input.
///
/// # Errors
/// A sentence, if the file cannot be read, or a layer mark stands where none may: a fault of a
/// template.
pub fn finish(pdf: &[u8], finish: &Finish) -> Result<Vec<u8>, String> {
    let mut document = file::load(pdf)?;
    layers::lay(&mut document, &finish.layers, &finish.all_layers)?;
    boxes::give(&mut document)?;
    labels::give(&mut document, &finish.labels)?;
    bookmarks::add(&mut document, &finish.bookmarks)?;
    ask_viewers(&mut document, finish.sides)?;
    file::save(&mut document)
}

/// No scaling (ISO 32000-1, table 150); it only presets the dialogue of a viewer, so that the test
/// squares are needed all the same.
fn ask_viewers(document: &mut Document, sides: Option<Sides>) -> Result<(), String> {
    let catalogue = file::catalogue(document)?;
    let mut wishes = match catalogue.get(b"ViewerPreferences") {
        Ok(Object::Dictionary(wishes)) => wishes.clone(),
        _ => Dictionary::new(),
    };
    wishes.set("PrintScaling", Object::Name(b"None".to_vec()));
    wishes.set("DisplayDocTitle", Object::Boolean(true));
    let duplex: Option<&[u8]> = sides.map(|sides| match sides {
        Sides::One => &b"Simplex"[..],
        Sides::ShortEdge => &b"DuplexFlipShortEdge"[..],
    });
    if let Some(duplex) = duplex {
        wishes.set("Duplex", Object::Name(duplex.to_vec()));
    }
    file::catalogue(document)?.set("ViewerPreferences", Object::Dictionary(wishes));
    Ok(())
}
