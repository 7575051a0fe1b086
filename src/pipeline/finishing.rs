//! What each finished PDF says of itself: labels of its pages, bookmarks of sizes and pieces, layers.

use crate::booklet::pdf::{self, Bookmark, Finish};
use crate::design::Design;
use crate::diagnostic::{Diagnostic, Diagnostics, Place};
use crate::language::Words;
use crate::piece::SizedPieces;
use crate::plates::{PlateSet, Sheet};

/// What a file of `pages` pages says of itself whose last pages are `plates` with the pieces of
/// `sizes`.
pub(super) fn finish_of(
    plates: &PlateSet,
    sizes: &[SizedPieces],
    pages: usize,
    words: &Words,
) -> Finish {
    let before = pages.saturating_sub(plates.page_count());
    Finish {
        labels: labels(plates, before, words),
        bookmarks: vec![pieces(plates, sizes, before, words)]
            .into_iter()
            .filter(|pieces| !pieces.inner.is_empty())
            .collect(),
        layers: plates.layers(),
        all_layers: words.get("booklet.all layers").to_string(),
        sides: (before == 0).then_some(pdf::Sides::One),
    }
}

/// `1` to the last page of text, then `Plate 1`, `Plate 2a`.
pub(super) fn labels(plates: &PlateSet, before: usize, words: &Words) -> Vec<String> {
    let text = (1..=before).map(|number| number.to_string());
    let plate = |sheet: &Sheet| {
        let letter = sheet.letter.as_deref().unwrap_or_default();
        words.say(
            "booklet.plate",
            &[("n", &format!("{}{letter}", sheet.plate))],
        )
    };
    text.chain(plates.sheets.iter().map(plate)).collect()
}

/// `Pieces`, under it the sizes if there are several, under each its pieces.
fn pieces(plates: &PlateSet, sizes: &[SizedPieces], before: usize, words: &Words) -> Bookmark {
    let of_size = |size: &SizedPieces| -> Vec<Bookmark> {
        let found = |piece: &crate::piece::Piece| {
            let title = format!("{} {}", piece.number, piece.title);
            let (page, at) = place(plates, &size.size, &piece.key)?;
            Some(Bookmark {
                title,
                page: before + page,
                at,
                inner: Vec::new(),
            })
        };
        size.pieces.iter().filter_map(found).collect()
    };
    let inner = match sizes {
        [one] => of_size(one),
        several => several
            .iter()
            .filter_map(|size| {
                let inner = of_size(size);
                let first = inner.iter().map(|b| b.page).min()?;
                Some(Bookmark {
                    title: size.title.clone(),
                    page: first,
                    at: [0.0, 0.0],
                    inner,
                })
            })
            .collect(),
    };
    Bookmark {
        title: words.get("booklet.bookmark").to_string(),
        page: inner.iter().map(|b| b.page).min().unwrap_or(before),
        at: [0.0, 0.0],
        inner,
    }
}

/// Page of the set, and upper left corner on it, of a piece's first drawing.
fn place(plates: &PlateSet, size: &str, piece: &str) -> Option<(usize, [f64; 2])> {
    let live = plates.paper.live().origin();
    plates.sheets.iter().enumerate().find_map(|(page, sheet)| {
        let mut pieces = sheet.pieces.iter();
        let placed = pieces.find(|p| p.piece == piece && p.sizes.iter().any(|s| s == size))?;
        let at = [live.x + placed.place.x0, live.y + placed.place.y0];
        Some((page, at.map(|side| side.max(0.0))))
    })
}

/// The finished bytes. `None` if a template set a layer wrongly: said at the design, since a design may
/// have templates of its own.
pub(super) fn finished(
    set: &[u8],
    finish: &Finish,
    design: &Design,
    diagnostics: &mut Diagnostics,
) -> Option<Vec<u8>> {
    match pdf::finish(set, finish) {
        Ok(bytes) => Some(bytes),
        Err(message) => {
            let place = head_of(design);
            let remedy = "Put the templates of this design aside; if it stays so, report it.";
            let message = format!("The PDF could not be finished: {message}.");
            let told = Diagnostic::error("internal-template", Some(&place), message);
            diagnostics.push(told.remedy(remedy));
            None
        }
    }
}

/// The first line of the design, for what is said of it as a whole.
pub(super) fn head_of(design: &Design) -> Place {
    Place {
        source: design.source.clone(),
        line: 1,
        column: 1,
    }
}
