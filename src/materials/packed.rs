//! The pieces of a lay as they are handed to the packing.

use super::lays::{Lay, LayPiece};
use crate::packing::{Item, Refusal, Turns};
use kurbo::{Affine, Point};

/// What is packed, in two ways: pieces that may be turned as they like first by right angles only,
/// which suits straight sides, then in all their turns. The second is empty if it is the first.
pub(super) fn items(lay: &Lay, turn: Affine) -> [Vec<Item>; 2] {
    let all = |keep: &dyn Fn(&f64) -> bool| -> Vec<Item> {
        let pieces = lay.pieces.iter();
        pieces.map(|piece| item(piece, turn, keep)).collect()
    };
    let right = |turn: &f64| turn % 90.0 == 0.0;
    let by_right_angles = all(&right);
    let free = lay.pieces.iter().any(|p| !p.turns.iter().all(right));
    let in_all_turns = if free { all(&|_| true) } else { Vec::new() };
    [by_right_angles, in_all_turns]
}

/// Packs both sets of items and keeps the layout that is less by `size`; where it must be `quick`, the
/// second only if the first finds no room.
pub(super) fn better<T>(
    items: &[Vec<Item>; 2],
    quick: bool,
    pack: impl Fn(&[Item]) -> Result<T, Vec<Refusal>>,
    size: impl Fn(&T) -> (usize, f64),
) -> Result<T, Vec<Refusal>> {
    let [first, second] = items;
    let first = pack(first);
    if second.is_empty() || quick && first.is_ok() {
        return first;
    }
    match (first, pack(second)) {
        (Ok(a), Ok(b)) => {
            let (x, y) = (size(&a), size(&b));
            let less = y.0 < x.0 || y.0 == x.0 && y.1 < x.1 - 1e-6;
            Ok(if less { b } else { a })
        }
        (Ok(only), Err(_)) | (Err(_), Ok(only)) => Ok(only),
        (Err(_), Err(refusals)) => Err(refusals),
    }
}

fn item(piece: &LayPiece, turn: Affine, keep: &dyn Fn(&f64) -> bool) -> Item {
    let ring: Vec<Point> = piece.ring().into_iter().map(|p| turn * p).collect();
    Item {
        fold: piece.on_fold.then(|| lowest_side(&ring)),
        ring,
        count: piece.count as usize,
        turns: Turns::Only(piece.turns.iter().copied().filter(keep).collect()),
        face_down: piece.either_face,
    }
}

/// The longest side of the ring that lies along y = 0.
fn lowest_side(ring: &[Point]) -> usize {
    let side = |i: usize| (ring[i], ring[(i + 1) % ring.len()]);
    let length = |i: &usize| {
        let (a, b) = side(*i);
        let on_fold = a.y.abs() < 1e-3 && b.y.abs() < 1e-3;
        if on_fold { a.distance(b) } else { 0.0 }
    };
    (0..ring.len())
        .max_by(|a, b| length(a).total_cmp(&length(b)))
        .unwrap_or(0)
}
