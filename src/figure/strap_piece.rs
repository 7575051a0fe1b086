//! How a strap over the foot is sewn, read from its piece. Millimetres, the piece's axes with its right
//! side up.

use super::shoe::{Sewn, Way};
use crate::design::{Design, FootSide, LineKind, ShapeSpec, Trim, TrimKind};
use crate::geometry::curve;
use crate::piece::{MarkKind, Piece, SizedPieces};
use kurbo::{BezPath, Point, Shape, Vec2};

/// The value of the draft from which a strap's length is told.
pub const LENGTH: &str = "shoe.strap cloth";

/// The value of the draft from which the length of a strap's elastic is told.
const ELASTIC: &str = "shoe.strap elastic";

/// A fold runs along a strap if it is no shorter than this share of it.
const WHOLE: f64 = 0.6;

/// How the strap of a size is sewn; `only` is the one foot that the size is for. A strap without a fold
/// line along it is of two layers.
pub(super) fn sewn(design: &Design, sized: &SizedPieces, only: Option<FootSide>) -> Sewn {
    let strap = design.pieces.iter().find(|piece| match &piece.shape {
        ShapeSpec::Rectangle { width, height, .. } => {
            [width, height].iter().any(|f| f.names().contains(&LENGTH))
        }
        _ => false,
    });
    let strap = strap.and_then(|spec| sized.pieces.iter().find(|piece| piece.key == spec.key));
    match strap.and_then(open_edge) {
        None => Sewn::Layers,
        Some(open) => Sewn::Folded {
            open: match (open, only) {
                // A piece is that of the right shoe unless its size is for the left foot alone.
                (Way::Toe, Some(FootSide::Left)) => Way::Heel,
                (Way::Heel, Some(FootSide::Left)) => Way::Toe,
                (open, _) => open,
            },
        },
    }
}

/// The elastic that is cut as long as the draft found for the strap; else the first of them.
pub(super) fn elastic(trims: &[Trim]) -> Option<&Trim> {
    let elastics = || trims.iter().filter(|trim| trim.kind == TrimKind::Elastic);
    let is_drafted = |trim: &&Trim| {
        let length = trim.length.as_ref();
        length.is_some_and(|formula| formula.names().contains(&ELASTIC))
    };
    elastics().find(is_drafted).or_else(|| elastics().next())
}

/// To which side of a right shoe the open edge lies once the strap is folded, its marks outside: beyond
/// the half that stays in front, as the fold lies behind it. `None` without a fold along the strap.
fn open_edge(piece: &Piece) -> Option<Way> {
    let [from, to] = fold(piece)?;
    let along = (to - from).normalize();
    let place = |at: Point| (at - from).dot(along);
    let beside = |at: Point| (at - from).cross(along);
    let middle = piece.outline.path().bounding_box().center();
    let button = piece.marks.iter().find_map(|mark| match mark.kind {
        MarkKind::Button { at, .. } => Some(at),
        _ => None,
    });
    let to_outer = match button {
        // It sits on the outer end.
        Some(at) => place(at) > place(middle),
        None => reach(piece, -along) > reach(piece, along),
    };
    let in_front = match button {
        Some(at) => beside(at) > 0.0,
        // What is placed on a strap is hidden by its back.
        None => placed(piece).is_none_or(|at| beside(at) < 0.0),
    };
    // From the inner to the outer side of a right shoe, seen from above, the toe is at the left.
    Some(match in_front == to_outer {
        true => Way::Toe,
        false => Way::Heel,
    })
}

/// The ends of the fold line along the strap.
fn fold(piece: &Piece) -> Option<[Point; 2]> {
    let size = piece.outline.path().bounding_box().size();
    let least = WHOLE * size.width.max(size.height);
    lines(piece, LineKind::Fold).find_map(|path| {
        let length = curve::length(path, 1e-3);
        let ends = [0.0, length].map(|at| curve::station(path, at, 1e-3));
        match ends {
            [Some(a), Some(b)] if a.point.distance(b.point) >= least.max(1e-6) => {
                Some([a.point, b.point])
            }
            _ => None,
        }
    })
}

/// How far the allowance reaches beyond the seam line in a direction.
fn reach(piece: &Piece, way: Vec2) -> f64 {
    let furthest = |path: &BezPath| {
        let points = curve::spread(path, 64);
        let places = points.iter().map(|at| at.to_vec2().dot(way));
        places.fold(f64::MIN, f64::max)
    };
    furthest(&piece.cut_line) - furthest(&piece.outline.path())
}

/// The middle of the first line on which something is placed.
fn placed(piece: &Piece) -> Option<Point> {
    let path = lines(piece, LineKind::Placement).next()?;
    Some(path.bounding_box().center())
}

fn lines(piece: &Piece, wanted: LineKind) -> impl Iterator<Item = &BezPath> {
    piece.marks.iter().filter_map(move |mark| match &mark.kind {
        MarkKind::Line { kind, path } if *kind == wanted => Some(path),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may panic")]

    use super::*;
    use crate::design::Formula;
    use crate::piece::Mark;
    use crate::plates::fixtures;

    /// A strap 96 by 12 mm, folded along its middle, its button so far from the left and from the top.
    fn strap(button: Option<[f64; 2]>, fold_back: bool) -> Piece {
        let mut strap = fixtures::strap(96.0);
        if let Some([x, y]) = button {
            strap.marks.push(Mark {
                kind: MarkKind::Button {
                    at: Point::new(x, y),
                    diameter: 6.0,
                },
                words: None,
            });
        }
        for mark in &mut strap.marks {
            if let MarkKind::Line { path, .. } = &mut mark.kind
                && fold_back
            {
                *path = path.reverse_subpaths();
            }
        }
        strap
    }

    /// An elastic of this width, cut as long as the formula says.
    fn elastic_of(width: f64, length: &str) -> Trim {
        let place = fixtures::place();
        Trim {
            key: "elastic".to_string(),
            name: "elastic".to_string(),
            kind: TrimKind::Elastic,
            width: Some(width),
            lignes: false,
            length: Some(Formula::parse(length, &place).unwrap()),
            join: None,
            tolerance: None,
            count: 1,
            small_part: false,
            price: None,
            weight: None,
            note: None,
            place,
        }
    }

    #[test]
    fn the_elastic_of_a_strap_is_the_one_with_its_length() {
        let edging = || elastic_of(3.0, "90 mm");
        let drafted = elastic_of(6.0, "shoe.strap elastic + 10 mm");
        let width = |trims: &[Trim]| elastic(trims).and_then(|trim| trim.width);
        assert_eq!(width(&[edging(), drafted]), Some(6.0));
        assert_eq!(width(&[edging()]), Some(3.0));
        assert_eq!(width(&[]), None);
    }

    #[test]
    fn a_folded_strap_is_open_beyond_the_half_with_its_button() {
        // Paper folded so and laid over the right foot of a drawing, seen from above with the toe up: the
        // outer side is at the right.
        let folded = [
            ([92.0, 3.0], Way::Toe),
            ([92.0, 9.0], Way::Heel),
            ([4.0, 3.0], Way::Heel),
            ([4.0, 9.0], Way::Toe),
        ];
        for (button, open) in folded {
            for fold_back in [false, true] {
                let strap = strap(Some(button), fold_back);
                assert_eq!(open_edge(&strap), Some(open), "{button:?}");
            }
        }
    }

    #[test]
    fn a_strap_without_a_fold_along_it_is_of_two_layers() {
        let mut strap = strap(Some([92.0, 3.0]), false);
        let along = |mark: &Mark| matches!(mark.kind, MarkKind::Line { .. });
        strap.marks.retain(|mark| !along(mark));
        assert_eq!(open_edge(&strap), None);
        strap.marks.push(Mark {
            kind: MarkKind::Line {
                kind: LineKind::Fold,
                path: BezPath::from_svg("M90 0 L90 12").unwrap(),
            },
            words: None,
        });
        assert_eq!(open_edge(&strap), None);
    }
}
