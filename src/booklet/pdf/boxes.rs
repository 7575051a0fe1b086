//! Page boxes: TrimBox within BleedBox within MediaBox, and never an ArtBox beside a TrimBox (ISO
//! 15930, PDF/X).

use super::file;
use lopdf::{Document, Object};

/// Gives every page the boxes it lacks. A page that has none is printed as it is: all are the same.
pub fn give(document: &mut Document) -> Result<(), String> {
    for page in file::pages(document) {
        let media = file::inherited(document, page, b"MediaBox")
            .ok_or_else(|| "a page of the PDF has no size".to_string())?;
        let trim = file::inherited(document, page, b"TrimBox").unwrap_or_else(|| media.clone());
        let bleed = file::inherited(document, page, b"BleedBox").unwrap_or_else(|| trim.clone());
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
