//! What is cut, and how it lies on the cloth.

use super::{One, Said, shape};
use crate::design::{Cloth, ClothKind, ShapeSpec};
use crate::diagnostic::Level;
use crate::piece::Piece;

/// Cloths of which a piece is cut, with how many and whether in mirrored pairs.
fn cloths<'a>(one: &One<'a>, piece: &'a Piece) -> Vec<(&'a Cloth, u32, bool)> {
    let cloth = |key: &str| one.design.cloth.iter().find(|cloth| cloth.key == key);
    let cuts = piece.cuts.iter();
    cuts.filter_map(|cut| Some((cloth(&cut.material)?, cut.count, cut.mirrored)))
        .collect()
}

/// Whether a cloth is made of threads, so that it hangs and stretches by its grain.
pub(super) fn is_of_threads(cloth: &Cloth) -> bool {
    let kind = cloth.kind.as_deref().and_then(ClothKind::named);
    matches!(kind, Some(ClothKind::Woven | ClothKind::Knit)) && cloth.has_grain
}

/// A piece of woven or knitted cloth has a grain line (common practice). An edge on the fold says the
/// same, and what is as long as it likes when turned does not need one.
pub(super) fn grain(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces() {
        if piece.grain.is_some() || piece.fold.is_some() {
            continue;
        }
        let cut = cloths(one, piece);
        let Some((cloth, ..)) = cut.iter().find(|(cloth, ..)| is_of_threads(cloth)) else {
            continue;
        };
        let message = format!(
            "{} is cut from {}, but has no grain line",
            piece.title, cloth.name
        );
        let remedy = "Give it ‘grain: lengthwise’, ‘crosswise’ or ‘bias’.";
        said.tell(
            Level::Warning,
            "grain-missing",
            &piece.key,
            (&spec.place, message, remedy),
        );
    }
}

/// Pieces of which one lies mirrored in the work are cut in pairs: those of a shoe, one for each foot,
/// and those sewn to themselves start to start.
pub(super) fn pairs(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces() {
        let of_shoe = matches!(
            spec.shape,
            ShapeSpec::Shoe { .. } | ShapeSpec::Tracing { .. }
        );
        let of_shoe = of_shoe && one.size.only.is_none();
        let itself = |seam: &&crate::design::SeamSpec| {
            let (join, to) = (&seam.join, &seam.to);
            let same = join.piece == to.piece && join.edge == to.edge && seam.same_way;
            same && join.piece == piece.key
        };
        let seam = one.design.seams.iter().find(itself);
        for (cloth, count, mirrored) in cloths(one, piece) {
            let needed = of_shoe || (seam.is_some() && !cloth.sides_alike);
            if mirrored || count < 2 || !needed || piece.fold.is_some() {
                continue;
            }
            if shape::is_symmetric(&piece.outline) {
                continue;
            }
            let message = match seam.filter(|_| !of_shoe) {
                Some(seam) => format!(
                    "{} is cut {count} times alike from {}, but in {} one of them lies mirrored",
                    piece.title, cloth.name, seam.name
                ),
                None => format!(
                    "{} is cut {count} times alike from {}: all for the same foot",
                    piece.title, cloth.name
                ),
            };
            let place = spec.cuts.iter().find(|cut| cut.cloth == cloth.key);
            let place = place.map_or(&spec.place, |cut| &cut.place);
            let pairs = count / 2;
            let remedy = format!("Write ‘{}: {pairs} {}’.", cloth.key, plural(pairs));
            let what = format!("{} {}", piece.key, cloth.key);
            said.tell(
                Level::Error,
                "pair-not-mirrored",
                &what,
                (place, message, &remedy),
            );
        }
    }
}

fn plural(pairs: u32) -> &'static str {
    if pairs == 1 { "pair" } else { "pairs" }
}

/// Two pieces that are each other's mirror image take one pattern.
pub(super) fn twins(one: &One, said: &mut Said) {
    let pieces: Vec<_> = one.pieces().collect();
    for (number, (piece, _)) in pieces.iter().enumerate() {
        if piece.fold.is_some() || shape::is_symmetric(&piece.outline) {
            continue;
        }
        for (other, spec) in &pieces[number + 1..] {
            let tolerance = shape::tolerance(&piece.outline);
            let alike = other.fold.is_none() && same_allowances(piece, other);
            if !alike || piece.key == other.key {
                continue;
            }
            let apart = shape::apart_mirrored(&piece.outline, &other.outline, tolerance);
            if apart.is_some_and(|apart| apart <= tolerance) {
                let message = format!("{} is the mirror image of {}", other.title, piece.title);
                let remedy = "One pattern, cut as a pair, would serve both and save paper.";
                let what = format!("{} {}", piece.key, other.key);
                said.tell(
                    Level::Note,
                    "pieces-mirror-twins",
                    &what,
                    (&spec.place, message, remedy),
                );
            }
        }
    }
}

fn same_allowances(a: &Piece, b: &Piece) -> bool {
    let sorted = |piece: &Piece| {
        let mut all = piece.allowances.clone();
        all.sort_by(f64::total_cmp);
        all
    };
    let (a, b) = (sorted(a), sorted(b));
    a.len() == b.len() && a.iter().zip(&b).all(|(a, b)| (a - b).abs() < 0.05)
}
