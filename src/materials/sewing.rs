//! What the seams are sewn through, and how often: from the pieces as they are cut.

use crate::design::{Cloth, ClothKind, Design};
use crate::piece::{Piece, WalkedSeam};

/// Thickness of a cloth of which neither thickness nor kind is told, mm (common practice, from
/// memory): cotton for dressmaking is thinner, felt thicker.
const UNKNOWN: f64 = 0.5;

/// So many like seams through layers of this thickness together, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sewings {
    /// How many.
    pub times: u32,
    /// Of all layers together, mm.
    pub thickness: f64,
}

/// Thickness of one layer, mm: as given, or as its kind usually is.
pub fn thickness(cloth: &Cloth) -> f64 {
    let usual = || ClothKind::named(cloth.kind_words()).map(|kind| kind.facts().thickness);
    cloth.thickness.or_else(usual).unwrap_or(UNKNOWN)
}

/// Whether it only backs another cloth and is never sewn by itself.
pub fn is_backing(cloth: &Cloth, design: &Design) -> bool {
    let own = design.own();
    let cloth = own
        .cloth
        .iter()
        .find(|own| own.key == cloth.key)
        .unwrap_or(cloth);
    let named = format!("{} {}", cloth.name, cloth.kind_words());
    own.words.knows("known.backing", &named)
}

/// Edges of a piece in one cloth.
struct Edges<'a> {
    cloth: &'a str,
    count: u32,
    thickness: f64,
}

/// The edge of `piece` as often as it is cut in each cloth. A piece on the fold has it on both halves;
/// a backing lies behind each.
fn edges<'a>(design: &'a Design, piece: &Piece) -> Vec<Edges<'a>> {
    let halves = if piece.fold.is_some() { 2 } else { 1 };
    let cut: Vec<(&Cloth, u32)> = piece
        .cuts
        .iter()
        .filter_map(|cut| {
            let cloth = design.cloth.iter().find(|c| c.key == cut.material)?;
            Some((cloth, cut.count))
        })
        .collect();
    let backed = cut.iter().filter(|(cloth, _)| is_backing(cloth, design));
    let backing: f64 = backed.map(|(cloth, _)| thickness(cloth)).sum();
    cut.iter()
        .filter(|(cloth, _)| !is_backing(cloth, design))
        .map(|(cloth, count)| Edges {
            cloth: &cloth.key,
            count: halves * count,
            thickness: thickness(cloth) + backing,
        })
        .collect()
}

/// How often `seam` is sewn for what the design makes: in each cloth that both pieces are cut from, as
/// often as both have the edge; where they share no cloth, across the two.
pub fn sewings(design: &Design, pieces: &[Piece], seam: &WalkedSeam) -> Vec<Sewings> {
    let find = |key: &str| pieces.iter().find(|piece| piece.key == key);
    let (Some(from), Some(to)) = (find(&seam.from.0), find(&seam.to.0)) else {
        return Vec::new();
    };
    let (own, other) = (edges(design, from), edges(design, to));
    let itself = seam.from == seam.to;
    let mut list = Vec::new();
    for one in &own {
        let Some(two) = other.iter().find(|edges| edges.cloth == one.cloth) else {
            continue;
        };
        let times = match itself {
            true => (one.count / 2).max(1),
            false => one.count.min(two.count),
        };
        list.push(Sewings {
            times,
            thickness: one.thickness + two.thickness,
        });
    }
    if list.is_empty() {
        let count = |edges: &[Edges<'_>]| edges.iter().map(|e| e.count).sum::<u32>();
        let thickest = |edges: &[Edges<'_>]| edges.iter().map(|e| e.thickness).fold(0.0, f64::max);
        list.push(Sewings {
            times: count(&own).min(count(&other)),
            thickness: thickest(&own) + thickest(&other),
        });
    }
    list
}
