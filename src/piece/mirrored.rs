//! The pieces of a left shoe, drafted as those of a right one and turned over. Millimetres.

use super::model::{Cut, Mark, MarkKind, Notch, Piece, SizedPieces};
use crate::design::{Design, FootSide, ShapeSpec, ShoePart, Size};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::{Edge, Outline, curve};
use kurbo::{Affine, Point, Vec2};

/// Over the upright axis.
const OVER: Affine = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

fn turned(point: Point) -> Point {
    OVER * point
}

impl Piece {
    /// The piece turned over: its edges keep their names and run clockwise again, so that each
    /// begins where it ended.
    #[must_use]
    pub fn turned_over(&self) -> Option<Piece> {
        let edges = self.outline.edges().iter().rev();
        let over = |edge: &Edge| {
            Edge::new(
                edge.name.clone(),
                curve::reversed(&(OVER * edge.curve.clone())),
            )
        };
        let outline = Outline::new(edges.map(over).collect()).ok()?;
        let length = |name: &str| self.outline.edge(name).map_or(0.0, Edge::length);
        let notch = |notch: &Notch| Notch {
            at: length(&notch.edge) - notch.at,
            point: turned(notch.point),
            outward: Vec2::new(-notch.outward.x, notch.outward.y),
            ..notch.clone()
        };
        let mut allowances = self.allowances.clone();
        allowances.reverse();
        Some(Piece {
            outline,
            cut_line: curve::reversed(&(OVER * self.cut_line.clone())),
            allowances,
            grain: self.grain.map(|ends| ends.map(turned)),
            common_point: self.common_point.map(turned),
            notches: self.notches.iter().map(notch).collect(),
            marks: self.marks.iter().map(Mark::turned_over).collect(),
            ..self.clone()
        })
    }
}

impl Mark {
    fn turned_over(&self) -> Mark {
        let kind = match &self.kind {
            MarkKind::Hole { at, diameter } => MarkKind::Hole {
                at: turned(*at),
                diameter: *diameter,
            },
            MarkKind::Eyelet { at, diameter } => MarkKind::Eyelet {
                at: turned(*at),
                diameter: *diameter,
            },
            MarkKind::Button { at, diameter } => MarkKind::Button {
                at: turned(*at),
                diameter: *diameter,
            },
            MarkKind::Buttonhole { from, to } => MarkKind::Buttonhole {
                from: turned(*from),
                to: turned(*to),
            },
            MarkKind::Line { kind, path } => MarkKind::Line {
                kind: *kind,
                path: OVER * path.clone(),
            },
        };
        Mark {
            kind,
            words: self.words.clone(),
        }
    }
}

/// Whether a piece is the upper's lining: drafted as seen from outside, yet its right side goes to the
/// foot. Of a pair each serves the other shoe; cut for one foot it is turned over.
fn faces_the_foot(design: &Design, piece: &Piece) -> bool {
    let lining = |part: ShoePart| matches!(part, ShoePart::ToeLining | ShoePart::HeelLining);
    let spec = design.pieces.iter().find(|spec| spec.key == piece.key);
    spec.is_some_and(|spec| matches!(spec.shape, ShapeSpec::Shoe { part, .. } if lining(part)))
}

/// The pieces for one foot of a pair that takes two patterns: half of each count is cut, all of one
/// hand, and for a left foot all are turned over; linings of the upper the other way round, so that
/// the paper lies on the right side of every cloth. A count that cannot be halved is reported.
pub(super) fn of_one_foot(
    mut sized: SizedPieces,
    design: &Design,
    size: &Size,
    diagnostics: &mut Diagnostics,
) -> SizedPieces {
    let Some(side) = size.only else {
        return sized;
    };
    let mut pieces = Vec::new();
    for piece in sized.pieces {
        let left = side == FootSide::Left;
        let over = match left != faces_the_foot(design, &piece) {
            true => piece.turned_over(),
            false => Some(piece.clone()),
        };
        let Some(mut piece) = over else {
            continue;
        };
        for cut in &mut piece.cuts {
            if cut.count % 2 != 0 {
                let message = format!(
                    "{} of {} cannot be shared between left and right foot, which take patterns of \
                     their own",
                    cut.count, piece.title
                );
                let said = Diagnostic::error("cut-odd", Some(&piece.place), message);
                diagnostics.push(said.remedy("give an even number, or pairs"));
            }
            *cut = Cut {
                material: cut.material.clone(),
                count: cut.count / 2,
                mirrored: false,
            };
        }
        pieces.push(piece);
    }
    sized.pieces = pieces;
    sized
}
