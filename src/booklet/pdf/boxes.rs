//! Page boxes: TrimBox within BleedBox within MediaBox, and never an ArtBox beside a TrimBox (ISO
//! 15930, PDF/X). Points, y up.

use super::file;
use lopdf::{Document, Object};

/// What of a box lies within another; `None` if nothing does, or one of them is no box.
fn cut(inner: &Object, outer: &Object) -> Option<Object> {
    let (inner, outer) = (inner.as_array().ok()?, outer.as_array().ok()?);
    let side = |list: &[Object], i: usize| list.get(i)?.as_float().ok();
    let low = |i: usize| Some(side(inner, i)?.max(side(outer, i)?));
    let high = |i: usize| Some(side(inner, i)?.min(side(outer, i)?));
    let sides = [low(0)?, low(1)?, high(2)?, high(3)?];
    let room = sides[0] < sides[2] && sides[1] < sides[3];
    room.then(|| Object::Array(sides.map(Object::Real).to_vec()))
}

/// Gives every page the boxes it lacks. A page that has none is printed as it is: all are the same.
///
/// # Errors
/// A sentence, if a page has no size or cannot be read.
pub fn give(document: &mut Document) -> Result<(), String> {
    for page in file::pages(document) {
        let media = file::inherited(document, page, b"MediaBox")
            .ok_or_else(|| "a page of the PDF has no size".to_string())?;
        let within = |key: &[u8], outer: &Object| {
            let own = file::inherited(document, page, key);
            own.and_then(|own| cut(&own, outer))
                .unwrap_or_else(|| outer.clone())
        };
        let shown = within(b"CropBox", &media);
        let bleed = within(b"BleedBox", &shown);
        let trim = within(b"TrimBox", &bleed);
        let dictionary = file::dictionary(document, page)?;
        dictionary.remove(b"ArtBox");
        let named: [(&str, Object); 3] =
            [("MediaBox", media), ("BleedBox", bleed), ("TrimBox", trim)];
        for (key, value) in named {
            dictionary.set(key, value);
        }
    }
    Ok(())
}
