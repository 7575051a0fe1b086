//! From where the parts of a shoe are seen on paper: soles from above, a lining from outside or, where each
//! foot has patterns of its own, from inside. It stands on their labels, for one such piece laid the wrong
//! way up is cut for the other foot.

use super::model::{Piece, SizedPieces};
use crate::design::{Design, ShapeSpec, ShoePart, Size};
use crate::language::phrase;

/// Adds the words to the notes of the pieces, unless the designer has said it.
pub(super) fn tell(sized: &mut SizedPieces, design: &Design, size: &Size) {
    for piece in &mut sized.pieces {
        let Some(key) = key(piece, design, size) else {
            continue;
        };
        let said = design.words.get(key).to_string();
        piece.note = Some(match piece.note.take() {
            None => phrase::capital(&said),
            Some(note) if note.to_lowercase().contains(&said.to_lowercase()) => note,
            Some(note) => format!("{note}; {said}"),
        });
    }
}

fn key(piece: &Piece, design: &Design, size: &Size) -> Option<&'static str> {
    let spec = design.pieces.iter().find(|spec| spec.key == piece.key)?;
    let ShapeSpec::Shoe { part, .. } = spec.shape else {
        return None;
    };
    match (part, size.only) {
        (ShoePart::Sole | ShoePart::LiningSole, _) => Some("plates.seen from above"),
        (ShoePart::ToeLining | ShoePart::HeelLining, None) => Some("plates.seen from outside"),
        (ShoePart::ToeLining | ShoePart::HeelLining, Some(_)) => Some("plates.seen from inside"),
        _ => None,
    }
}
