//! What changes if another kind of cloth is taken for the main one: only what differs, in sentences.

use super::needles::{needles_for, point};
use super::sewing::thickness;
use super::sewn_by::sewn_by;
use crate::design::{Cloth, ClothKind, Design, printed};
use crate::geometry::units::INCH;
use crate::language::{Places, phrase};
use crate::piece::{Piece, SizedPieces};
use serde::Serialize;

/// Shares of easing nearer to each other than this are alike: nobody eases more exactly.
const EASED: f64 = 0.005;

/// Where cloth frays, what is left of a trimmed allowance, mm: 1/8 in (common practice).
const TRIMMED: f64 = INCH / 8.0;

/// Other kinds of cloth with which the same changes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Substitute {
    /// The kinds, in words.
    pub cloth: Vec<String>,
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
    let named = |kind: ClothKind| design.words.named("cloth kinds", kind.words()).to_string();
    let mut others: Vec<Substitute> = Vec::new();
    for kind in ClothKind::ALL
        .into_iter()
        .filter(|kind| *kind != asked.kind)
    {
        let changes = changes(design, &asked, kind);
        match others.iter_mut().find(|other| other.changes == changes) {
            _ if changes.is_empty() => {}
            Some(other) => other.cloth.push(named(kind)),
            None => others.push(Substitute {
                cloth: vec![named(kind)],
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
    let easing = easing(design, asked, kind);
    let edges = edges(design, asked, kind);
    let needle = needle(design, asked, kind);
    easing.into_iter().chain(edges).chain(needle).collect()
}

/// If it takes up less fullness than the pieces have.
fn easing(design: &Design, asked: &Asked<'_>, kind: ClothKind) -> Option<String> {
    let limit = kind.facts().ease_limit;
    if asked.eased < EASED || asked.eased < limit + EASED {
        return None;
    }
    let key = match (asked.shoe, kind) {
        (true, ClothKind::Woven) => "materials.eased toe woven",
        (true, _) => "materials.eased toe",
        (false, ClothKind::Woven) => "materials.eased edge woven",
        (false, _) => "materials.eased edge",
    };
    let percent = |share: f64| format!("{:.0}", 100.0 * share);
    let (eased, limit) = (percent(asked.eased), percent(limit));
    Some(
        design
            .words
            .say(key, &[("eased", &eased), ("limit", &limit)]),
    )
}

/// What becomes of cut edges, and of those that the design leaves as they are cut.
fn edges(design: &Design, asked: &Asked<'_>, kind: ClothKind) -> Vec<String> {
    let words = &design.words;
    let mut said = Vec::new();
    let mut say = |key: &str| said.push(words.get(&format!("materials.{key}")).to_string());
    let of_edges = |key: [&'static str; 2]| if asked.shoe { key[0] } else { key[1] };
    match (asked.kind.facts().frays, kind.facts().frays) {
        (false, true) => {
            say("frays");
            if asked.raw_edge {
                say(of_edges(["bind topline", "bind edges"]));
            }
        }
        (true, false) => say("frays not"),
        _ => {}
    }
    match kind {
        ClothKind::Knit if asked.raw_edge => say(of_edges(["rolls topline", "rolls edges"])),
        ClothKind::Knit => say("stretches"),
        ClothKind::FauxLeather => say("holes stay"),
        _ => {}
    }
    let least = printed::both(TRIMMED, design.lengths);
    let filled = |text: &String| phrase::filled(text, &[("length", &least)]);
    said.iter().map(filled).collect()
}

/// Another needle, if it takes one.
fn needle(design: &Design, asked: &Asked<'_>, kind: ClothKind) -> Option<String> {
    let own = needles_for(thickness(asked.cloth));
    let other = needles_for(kind.facts().thickness);
    let point = point(Some(kind));
    let words = &design.words;
    let hand = other.hand_words(words);
    let both: Places<'_> = &[("hand", &hand), ("machine", &other.machine)];
    let sizes = match sewn_by(design) {
        Some(by) if !by.machine => words.say("materials.size by hand", both),
        Some(by) if !by.hand => words.say("materials.size by machine", both),
        _ => words.say("materials.sizes of needles", both),
    };
    let places: Places<'_> = &[("sizes", &sizes)];
    if point != self::point(Some(asked.kind))
        && let Some(point) = point
    {
        return Some(words.say(&format!("materials.needles {point}"), places));
    }
    (own != other).then(|| words.say("materials.needles other", places))
}
