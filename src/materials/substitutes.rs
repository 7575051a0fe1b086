//! What changes if another kind of cloth is taken for the main one: only what differs, in sentences.

use super::needles::{needles_for, point};
use super::sewing::thickness;
use crate::design::{Cloth, ClothKind, Design, printed};
use crate::piece::{Piece, SizedPieces};
use serde::Serialize;

/// Shares of easing nearer to each other than this are alike: nobody eases more exactly.
const EASED: f64 = 0.005;

/// Where cloth frays, what is left of a trimmed allowance, mm: 1/8 in (common practice).
const TRIMMED: f64 = 25.4 / 8.0;

/// Other kinds of cloth with which the same changes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Substitute {
    /// The kinds, in words.
    pub cloth: Vec<&'static str>,
    /// What changes, a sentence each.
    pub changes: Vec<String>,
}

/// What the notes speak of.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Substitutes {
    /// Name of the cloth that is replaced.
    pub instead_of: String,
    /// The other kinds with which something changes, like ones together.
    pub others: Vec<Substitute>,
}

/// What the pieces of the main cloth ask of it.
struct Asked<'a> {
    cloth: &'a Cloth,
    kind: ClothKind,
    /// Largest share by which an edge is eased in.
    eased: f64,
    /// Whether an edge is left as it is cut.
    raw_edge: bool,
    /// Whether a shoe is sewn from it.
    shoe: bool,
}

/// Notes for the upper's cloth, or else the first that is cut; `None` if its kind is not known.
pub fn substitutes(design: &Design, sizes: &[SizedPieces]) -> Option<Substitutes> {
    let asked = asked(design, sizes)?;
    let mut others: Vec<Substitute> = Vec::new();
    for kind in ClothKind::ALL
        .into_iter()
        .filter(|kind| *kind != asked.kind)
    {
        let changes = changes(design, &asked, kind);
        match others.iter_mut().find(|other| other.changes == changes) {
            _ if changes.is_empty() => {}
            Some(other) => other.cloth.push(kind.words()),
            None => others.push(Substitute {
                cloth: vec![kind.words()],
                changes,
            }),
        }
    }
    Some(Substitutes {
        instead_of: asked.cloth.name.clone(),
        others,
    })
}

fn asked<'a>(design: &'a Design, sizes: &[SizedPieces]) -> Option<Asked<'a>> {
    let cut = |key: &str| {
        let mut cuts = design.pieces.iter().flat_map(|piece| &piece.cuts);
        cuts.any(|cut| cut.cloth == key)
    };
    let upper = design.shoe.as_ref().map(|shoe| shoe.cloth.as_str());
    let mut cloths = design.cloth.iter();
    let cloth = match upper {
        Some(key) => cloths.find(|cloth| cloth.key == key)?,
        None => cloths.find(|cloth| cut(&cloth.key))?,
    };
    let of_cloth = |piece: &&Piece| piece.cuts.iter().any(|cut| cut.material == cloth.key);
    let eased = sizes.iter().flat_map(|sized| {
        let pieces = sized.pieces.iter().filter(of_cloth);
        let keys: Vec<&str> = pieces.map(|piece| piece.key.as_str()).collect();
        let seams = sized.seams.iter();
        seams
            .filter(move |seam| keys.contains(&seam.from.0.as_str()))
            .map(|seam| seam.easing_percent / 100.0)
    });
    let raw = |sized: &SizedPieces| {
        let mut pieces = sized.pieces.iter().filter(of_cloth);
        pieces.any(|piece| has_raw_edge(piece, sized))
    };
    Some(Asked {
        cloth,
        kind: ClothKind::named(cloth.kind_words())?,
        eased: eased.fold(0.0, f64::max),
        raw_edge: sizes.iter().any(raw),
        shoe: upper.is_some(),
    })
}

/// Whether an edge without allowance is neither sewn to another nor on the fold.
fn has_raw_edge(piece: &Piece, sized: &SizedPieces) -> bool {
    let edges = piece.outline.edges().iter().zip(&piece.allowances);
    edges.into_iter().any(|(edge, allowance)| {
        let end = (piece.key.clone(), edge.name.clone());
        let sewn = sized
            .seams
            .iter()
            .any(|seam| seam.from == end || seam.to == end);
        let folded = piece.fold.as_ref() == Some(&edge.name);
        *allowance < 1e-9 && !sewn && !folded
    })
}

fn changes(design: &Design, asked: &Asked<'_>, kind: ClothKind) -> Vec<String> {
    let easing = easing(asked, kind);
    let edges = edges(design, asked, kind);
    let needle = needle(asked, kind);
    easing.into_iter().chain(edges).chain(needle).collect()
}

/// If it takes up less fullness than the pieces have.
fn easing(asked: &Asked<'_>, kind: ClothKind) -> Option<String> {
    let limit = kind.facts().ease_limit;
    if asked.eased < EASED || asked.eased < limit + EASED {
        return None;
    }
    let edge = if asked.shoe { "toe" } else { "longer edge" };
    let way = match kind {
        ClothKind::Woven => "cut it on the bias, or small pleats will show",
        _ => "small pleats will show",
    };
    Some(format!(
        "The {edge} is eased in by {:.0} % and this cloth takes up about {:.0} %: {way}",
        100.0 * asked.eased,
        100.0 * limit
    ))
}

/// What becomes of cut edges, and of those that the design leaves as they are cut.
fn edges(design: &Design, asked: &Asked<'_>, kind: ClothKind) -> Vec<String> {
    let mut said = Vec::new();
    let raw = match asked.shoe {
        true => "the topline and other edges without allowance",
        false => "edges without allowance",
    };
    match (asked.kind.facts().frays, kind.facts().frays) {
        (false, true) => {
            let least = printed::both(TRIMMED, design.lengths);
            said.push(format!(
                "It frays: trim no allowance closer than {least}, and overcast what is left"
            ));
            if asked.raw_edge {
                said.push(format!("Bind or face {raw}"));
            }
        }
        (true, false) => said.push("It does not fray: seams need no finish".to_string()),
        _ => {}
    }
    match kind {
        ClothKind::Knit if asked.raw_edge => {
            said.push(format!("It rolls: bind {raw} with a strip that stretches"));
        }
        ClothKind::Knit => said.push("It stretches: sew with a little give".to_string()),
        ClothKind::FauxLeather => {
            said.push(
                "Holes stay: hold it with clips, not pins, and sew each seam once".to_string(),
            );
        }
        _ => {}
    }
    said
}

/// Another needle, if it takes one.
fn needle(asked: &Asked<'_>, kind: ClothKind) -> Option<String> {
    let own = needles_for(thickness(asked.cloth));
    let other = needles_for(kind.facts().thickness);
    let point = point(Some(kind));
    let by = format!("by hand {}, by machine {}", other.hand, other.machine);
    if point != self::point(Some(asked.kind))
        && let Some(point) = point
    {
        return Some(format!("Take {point} needles, {by}"));
    }
    (own != other).then(|| format!("Take other needles: {by}"))
}
