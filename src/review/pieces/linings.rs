//! Linings against what they line.

use super::{One, Said, shape};
use crate::design::{PieceSpec, ShapeSpec};
use crate::diagnostic::Level;
use crate::piece::Piece;

/// Pieces whose extents agree within this share line each other, unless a lining says which it lines.
const ALIKE: f64 = 0.25;

/// A lining may be larger by this, mm, and this share of the length, before it creases: the width of
/// a cutting line, and what a thread gives (common practice: a lining is never larger).
const LARGER: f64 = 0.5;
const SHARE: f64 = 0.005;

/// A lining lies inside: no larger than the piece it lines. What the draft of a shoe makes is right
/// already.
pub(super) fn smaller(one: &One, said: &mut Said) {
    for (lining, spec) in one.pieces() {
        if !is_lining(one, lining, spec) {
            continue;
        }
        let size = [
            shape::extent(lining).width(),
            shape::extent(lining).height(),
        ];
        for (piece, other) in one.pieces() {
            let lined = !is_lining(one, piece, other) && lines(spec, piece, size);
            if !lined || matches!(other.shape, ShapeSpec::Shoe { .. }) {
                continue;
            }
            let outer = [shape::extent(piece).width(), shape::extent(piece).height()];
            let over = |i: usize| size[i] - outer[i] - SHARE * outer[i];
            let axis = if over(0) >= over(1) { 0 } else { 1 };
            if over(axis) <= LARGER {
                continue;
            }
            let message = format!(
                "{} is {} than {}, which it lines, by {:.1} mm{}",
                lining.title,
                ["wider", "longer"][axis],
                piece.title,
                size[axis] - outer[axis],
                one.inside()
            );
            let remedy = "Make it as large or a little smaller; it lies inside.";
            said.tell(
                Level::Error,
                "lining-not-smaller",
                &lining.key,
                (&spec.place, message, remedy),
            );
        }
    }
}

/// Whether a piece is cut for a lining alone: by its own words, or by those of all its cloths.
fn is_lining(one: &One, piece: &Piece, spec: &PieceSpec) -> bool {
    if matches!(spec.shape, ShapeSpec::Shoe { .. }) {
        return false;
    }
    let named = |words: &str| one.knows("known.lining", words);
    let cloth = |key: &str| {
        let mut cloths = one.design.own().cloth.iter();
        cloths.any(|cloth| cloth.key == key && (named(&cloth.key) || named(&cloth.name)))
    };
    let own = one
        .design
        .own()
        .pieces
        .iter()
        .find(|own| own.key == piece.key);
    own.is_some_and(|own| named(&own.title))
        || named(&piece.key)
        || (!piece.cuts.is_empty() && piece.cuts.iter().all(|cut| cloth(&cut.material)))
}

/// Whether a lining of this extent lines `piece`.
fn lines(lining: &PieceSpec, piece: &Piece, size: [f64; 2]) -> bool {
    if let ShapeSpec::Inset { of, .. } = &lining.shape {
        return *of == piece.key;
    }
    let outer = [shape::extent(piece).width(), shape::extent(piece).height()];
    (0..2).all(|i| (size[i] - outer[i]).abs() <= ALIKE * outer[i])
}
