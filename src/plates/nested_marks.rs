//! Marks of the sizes of a nest: moved onto the common point, and known again in another size.

use crate::piece::{Mark, MarkKind};
use kurbo::{Affine, BezPath, ParamCurve, Point, Vec2};

/// Folds may lie this far beside each other, and marks apart, mm, to be drawn as one.
pub(super) const ONE: f64 = 0.02;

/// A mark moved by a vector, mm.
pub(super) fn moved(mark: &Mark, by: Vec2) -> MarkKind {
    match &mark.kind {
        MarkKind::Hole { at, diameter } => MarkKind::Hole {
            at: *at + by,
            diameter: *diameter,
        },
        MarkKind::Eyelet { at, diameter } => MarkKind::Eyelet {
            at: *at + by,
            diameter: *diameter,
        },
        MarkKind::Button { at, diameter } => MarkKind::Button {
            at: *at + by,
            diameter: *diameter,
        },
        MarkKind::Buttonhole { from, to } => MarkKind::Buttonhole {
            from: *from + by,
            to: *to + by,
        },
        MarkKind::Line { kind, path } => MarkKind::Line {
            kind: *kind,
            path: Affine::translate(by) * path,
        },
    }
}

/// Whether two marks are one on paper.
pub(super) fn same(a: &MarkKind, b: &MarkKind) -> bool {
    let near = |a: &Point, b: &Point| a.distance(*b) <= ONE;
    match (a, b) {
        (
            MarkKind::Hole { at, diameter },
            MarkKind::Hole {
                at: other,
                diameter: wide,
            },
        )
        | (
            MarkKind::Eyelet { at, diameter },
            MarkKind::Eyelet {
                at: other,
                diameter: wide,
            },
        )
        | (
            MarkKind::Button { at, diameter },
            MarkKind::Button {
                at: other,
                diameter: wide,
            },
        ) => near(at, other) && (diameter - wide).abs() <= ONE,
        (MarkKind::Buttonhole { from, to }, MarkKind::Buttonhole { from: a, to: b }) => {
            near(from, a) && near(to, b)
        }
        (
            MarkKind::Line { kind, path },
            MarkKind::Line {
                kind: other,
                path: b,
            },
        ) => {
            let points = |path: &BezPath| -> Vec<Point> {
                let ends = path
                    .segments()
                    .flat_map(|s| [s.start(), s.eval(0.5), s.end()]);
                ends.collect()
            };
            let (own, others) = (points(path), points(b));
            let pairs = own.iter().zip(&others);
            kind == other && own.len() == others.len() && pairs.into_iter().all(|(a, b)| near(a, b))
        }
        _ => false,
    }
}
