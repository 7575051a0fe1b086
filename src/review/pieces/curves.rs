//! Curves that are sewn: whether a stitch can follow them, and whether their allowance lies flat.

use super::shape::{Bend, bends};
use super::{Made, One, Said};
use crate::design::{ClothKind, Design, PieceSpec, ShapeSpec, drawing};
use crate::diagnostic::{Level, Place};
use crate::piece::Piece;

/// A seam looks round while it turns by no more than this from one stitch to the next, degrees: 18
/// stitches to the whole circle (from judgement).
const PER_STITCH: f64 = 20.0;

/// Stitch length where the design names none, mm (common practice).
const STITCH: f64 = 2.0;

/// What turns by less than this, degrees, is sewn as a corner would be.
const TURN: f64 = 30.0;

/// A hollow is swallowed where its curve is tighter than the allowance is deep over this share of the
/// allowance (from judgement).
const SWALLOWED: f64 = 0.5;

/// The edge of cloth stretches or is pushed together by this share when it is turned (from memory of
/// practice: a tenth); beyond, it is clipped or notched.
const GIVES: f64 = 0.10;

/// Allowances up to this, mm, lie flat by themselves (common practice: 1/8 in).
const NARROW: f64 = 3.2;

/// Edges of a piece that are sewn, with their allowance.
fn sewn(piece: &Piece) -> impl Iterator<Item = (&crate::geometry::Edge, f64)> {
    let edges = piece.outline.edges().iter();
    let with = edges.zip(piece.allowances.iter().copied());
    with.filter(|(edge, deep)| *deep > 0.0 && piece.fold.as_deref() != Some(edge.name.as_str()))
}

fn is_drafted(spec: &PieceSpec) -> bool {
    matches!(
        spec.shape,
        ShapeSpec::Shoe { .. } | ShapeSpec::Tracing { .. }
    )
}

/// Where the design draws an edge of a piece in the size `size`: its own line in an outline, the path in a
/// drawing, else the piece.
fn edge_place(spec: &PieceSpec, edge: &str, size: &str) -> Place {
    // half a piece is drawn
    let edge = edge.strip_suffix(" mirrored").unwrap_or(edge);
    let drawn = match &spec.shape {
        ShapeSpec::Drawn { edges, .. } => {
            let mut edges = edges.iter();
            edges.find(|e| e.name == edge).map(|e| e.place.clone())
        }
        ShapeSpec::Svg {
            texts, id, place, ..
        } => {
            let text = texts.get(size);
            let path = text.and_then(|text| drawing::place_of(text, id));
            Some(path.unwrap_or_else(|| place.clone()))
        }
        _ => None,
    };
    drawn.unwrap_or_else(|| spec.place.clone())
}

/// The smallest radius that stitches of this length follow: each turns by its length over the radius.
fn least_radius(stitch: f64) -> f64 {
    stitch / PER_STITCH.to_radians()
}

fn stitch(one: &One) -> f64 {
    let thread = one.design.thread.as_ref();
    let length = thread.and_then(|thread| thread.stitch_length.as_ref());
    length.and_then(|f| one.length(f)).unwrap_or(STITCH)
}

/// A seam follows its curve at the length of its stitches.
pub(super) fn sewable(one: &One, said: &mut Said) {
    let stitch = stitch(one);
    let least = least_radius(stitch);
    for (piece, spec) in one.pieces().filter(|(_, spec)| !is_drafted(spec)) {
        for (edge, _) in sewn(piece) {
            let tight = bends(&edge.curve, 2.0 * least).into_iter();
            let mut tight = tight.filter(|bend| bend.turn >= TURN && bend.radius < least);
            let Some(bend) = tight.next() else {
                continue;
            };
            let message = format!(
                "{} of {} has a radius of {:.1} mm; stitches of {stitch:.1} mm follow {least:.1} mm \
                 and more{}",
                edge.name,
                piece.title,
                bend.radius,
                one.inside()
            );
            let remedy =
                "Draw a gentler curve, or two edges with a corner, at which the seam turns.";
            let what = format!("{} {}", piece.key, edge.name);
            said.tell(
                Level::Warning,
                "radius-too-small",
                &what,
                (
                    &edge_place(spec, &edge.name, &one.sized.size),
                    message,
                    remedy,
                ),
            );
        }
    }
}

/// In a hollow tighter than the allowance is deep the cut line bridges it.
pub(super) fn hollows(one: &One, said: &mut Said) {
    for (piece, spec) in one.pieces().filter(|(_, spec)| !is_drafted(spec)) {
        for (edge, deep) in sewn(piece) {
            let swallows =
                |bend: &Bend| bend.hollow && bend.length > SWALLOWED * deep && bend.turn >= TURN;
            let Some(bend) = bends(&edge.curve, deep).into_iter().find(swallows) else {
                continue;
            };
            let message = format!(
                "{} of {} is hollow with a radius of {:.1} mm, less than its allowance of {deep:.1} \
                 mm: the cut line bridges it{}",
                edge.name,
                piece.title,
                bend.radius,
                one.inside()
            );
            let remedy = "Make the allowance narrower there, or the hollow wider.";
            let what = format!("{} {}", piece.key, edge.name);
            said.tell(
                Level::Error,
                "allowance-swallows",
                &what,
                (
                    &edge_place(spec, &edge.name, &one.sized.size),
                    message,
                    remedy,
                ),
            );
        }
    }
}

/// Which curved allowances are clipped, which notched, before the work is turned: advice in one note.
pub(super) fn advice(made: &Made, said: &mut Said) {
    let Some(sized) = made.sizes.first() else {
        return;
    };
    let mut lists: [Vec<String>; 2] = Default::default();
    let mut first: Option<Place> = None;
    for spec in made
        .design
        .pieces
        .iter()
        .filter(|spec| frays(made.design, spec))
    {
        let Some(piece) = sized.pieces.iter().find(|piece| piece.key == spec.key) else {
            continue;
        };
        for (edge, deep) in sewn(piece).filter(|(_, deep)| *deep > NARROW) {
            let curved = bends(&edge.curve, deep / GIVES).into_iter();
            for bend in curved.filter(|bend| bend.turn >= TURN) {
                let name = format!("{}.{}", piece.key, edge.name);
                let list = &mut lists[usize::from(!bend.hollow)];
                if !list.contains(&name) {
                    first.get_or_insert_with(|| edge_place(spec, &edge.name, &sized.size));
                    list.push(name);
                }
            }
        }
    }
    let words = ["clip", "cut notches into"].into_iter().zip(&lists);
    let words = words.filter(|(_, list)| !list.is_empty());
    let words: Vec<String> = words
        .map(|(what, list)| format!("{what} {}", list.join(", ")))
        .collect();
    let Some(first) = first else {
        return;
    };
    let message = format!(
        "The allowance of some curves will not lie flat when it is turned: {}",
        words.join("; ")
    );
    let remedy = "Let a step say so where they are turned.";
    said.tell(Level::Note, "curve-clipped", "", (&first, message, remedy));
}

/// Whether a piece is cut from cloth that does not mould under steam as felt does.
fn frays(design: &Design, spec: &PieceSpec) -> bool {
    let woven = |key: &str| {
        let cloth = design.cloth.iter().find(|cloth| cloth.key == key);
        let kind = cloth.and_then(|cloth| ClothKind::named(cloth.kind.as_deref()?));
        kind == Some(ClothKind::Woven)
    };
    spec.cuts.iter().any(|cut| woven(&cut.cloth))
}

#[cfg(test)]
mod tests {
    use super::{edge_place, least_radius};
    use crate::design::read;
    use crate::diagnostic::Diagnostics;
    use crate::folder::DesignFolder;

    const DESIGN: &str = "title: Case\nedition: 1.0.0\nabout: A case.\npaper: [a4]\nsizes: {one: {}}\n\
        cloth: {felt: {name: felt}}\npieces:\n  flap:\n    outline:\n      start: [0 mm, 0 mm]\n      edges:\n        \
        - {name: top, to: [60 mm, 0 mm]}\n        - {name: rim, to: [0 mm, 0 mm], handles: [[50 mm, 45 mm], \
        [10 mm, 45 mm]]}\n    cut: {felt: 1}\n  tab:\n    drawing: {file: drawings/tab.svg, path: tab, edges: [a, \
        b]}\n    cut: {felt: 1}\n  plain:\n    ellipse: {width: 40 mm, height: 30 mm}\n    cut: {felt: 1}\n";
    const DRAWING: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"80mm\" height=\"80mm\" \
        viewBox=\"0 0 80 80\">\n<title>tab</title>\n<path id=\"tab\" d=\"M 5 5 L 55 5 A 25 25 0 0 1 5 5 Z\"/>\n</svg>";

    #[test]
    fn an_edge_is_found_where_it_is_drawn() {
        let files = [("design.yaml", DESIGN), ("drawings/tab.svg", DRAWING)];
        let folder = DesignFolder::from_memory("case", files);
        let mut said = Diagnostics::default();
        let design = read(&folder, &mut said).unwrap_or_else(|| panic!("{said:?}"));
        let place = |piece: usize, edge: &str| {
            let place = edge_place(&design.pieces[piece], edge, "one");
            (place.source.path.clone(), place.line)
        };
        assert_eq!(place(0, "rim"), ("design.yaml".to_string(), 13));
        assert_eq!(place(0, "rim mirrored"), ("design.yaml".to_string(), 13));
        assert_eq!(place(1, "a"), ("drawings/tab.svg".to_string(), 3));
        assert_eq!(place(2, "rim"), ("design.yaml".to_string(), 18));
    }

    /// The angles of a regular polygon's corners sum to a whole turn.
    #[test]
    fn eighteen_stitches_go_round_the_least_circle() {
        for stitch in [1.5, 2.0, 2.5] {
            let round = std::f64::consts::TAU * least_radius(stitch);
            assert!((round / stitch - 18.0).abs() < 1e-9, "{stitch}: {round}");
        }
    }
}
