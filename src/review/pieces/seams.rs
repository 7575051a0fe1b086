//! The two sides of a seam against each other.

use super::{One, Said, cuts, shape};
use crate::design::SeamSpec;
use crate::diagnostic::Level;
use crate::piece::Piece;
use kurbo::Vec2;

/// Allowances that differ by more than this, mm, bring the seam lines apart when cut edge is laid to
/// cut edge: a quarter of a stitch (from judgement).
const ALLOWANCE: f64 = 0.3;

/// Grain lines of pieces that lie on each other may differ by this, degrees (from judgement).
const GRAIN: f64 = 10.0;

/// Extents within this share belong to pieces that lie on each other, such as front and back.
const ALIKE: f64 = 0.15;

fn sides<'a>(one: &One<'a>, seam: &SeamSpec) -> Option<[&'a Piece; 2]> {
    Some([one.piece(&seam.join.piece)?, one.piece(&seam.to.piece)?])
}

fn allowance(piece: &Piece, edge: &str) -> Option<f64> {
    let mut edges = piece.outline.edges().iter();
    let index = edges.position(|one| one.name == edge)?;
    piece.allowances.get(index).copied()
}

/// Both edges of a seam have one allowance. An edge without any lies over the other: a lapped seam.
pub(super) fn allowances(one: &One, said: &mut Said) {
    for seam in &one.design.seams {
        let Some([from, to]) = sides(one, seam) else {
            continue;
        };
        let both = [
            allowance(from, &seam.join.edge),
            allowance(to, &seam.to.edge),
        ];
        let [Some(a), Some(b)] = both else {
            continue;
        };
        if (a - b).abs() <= ALLOWANCE || a.min(b) <= 0.0 {
            continue;
        }
        let message = format!(
            "In {} the allowances differ: {a:.1} mm on {} of {}, {b:.1} mm on {} of {}",
            seam.name, seam.join.edge, from.title, seam.to.edge, to.title
        );
        let remedy = "Give both edges one allowance, so that cut edge meets cut edge.";
        said.tell(
            Level::Error,
            "allowance-seam",
            &seam.name,
            (&seam.place, message, remedy),
        );
    }
}

/// Front and back of one cloth have one grain.
pub(super) fn grain(one: &One, said: &mut Said) {
    for seam in &one.design.seams {
        let Some([from, to]) = sides(one, seam) else {
            continue;
        };
        if from.key == to.key || !are_alike(from, to) {
            continue;
        }
        let of_cloth = |piece: &Piece, key: &str| piece.cuts.iter().any(|cut| cut.material == key);
        let mut cloths = one
            .design
            .cloth
            .iter()
            .filter(|cloth| cuts::is_of_threads(cloth));
        let Some(cloth) = cloths.find(|c| of_cloth(from, &c.key) && of_cloth(to, &c.key)) else {
            continue;
        };
        let (Some(a), Some(b)) = (slant(from), slant(to)) else {
            continue;
        };
        // Of two pieces one may be drawn mirrored.
        let apart = |angle: f64| {
            let angle = angle.rem_euclid(180.0);
            angle.min(180.0 - angle)
        };
        let off = apart(a - b).min(apart(a + b));
        if off <= GRAIN {
            continue;
        }
        let message = format!(
            "The grain lines of {} and {}, both of {}, differ by {off:.0}° where {} joins them",
            from.title, to.title, cloth.name, seam.name
        );
        let remedy = "Give both one grain; else they shrink and hang differently.";
        let mut both = [from.key.as_str(), to.key.as_str()];
        both.sort_unstable();
        let spec = one.design.pieces.iter().find(|spec| spec.key == to.key);
        let place = spec.map_or(&seam.place, |spec| &spec.place);
        said.tell(
            Level::Warning,
            "grain-differs",
            &both.join(" "),
            (place, message, remedy),
        );
    }
}

fn are_alike(a: &Piece, b: &Piece) -> bool {
    let (a, b) = (shape::extent(a), shape::extent(b));
    let near = |a: f64, b: f64| (a - b).abs() <= ALIKE * a.max(b);
    near(a.width(), b.width()) && near(a.height(), b.height())
}

/// The angle of the grain line from upright, degrees.
fn slant(piece: &Piece) -> Option<f64> {
    let [from, to] = piece.grain?;
    let way: Vec2 = to - from;
    Some(way.x.atan2(way.y).to_degrees())
}
