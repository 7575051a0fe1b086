//! The sole's seam line: the foot's outline moved outward by an ease, laid on the page.

use super::Foot;
use crate::geometry::{Edge, Outline, OutlineFault};
use kurbo::{Affine, BezPath, PathSeg};

/// Why no seam line could be made.
#[derive(Debug, Clone, PartialEq)]
pub enum EaseFault {
    /// A side mark does not lie between heel and toe.
    MarkOutside {
        /// Whether it is the mark of the inner side.
        inner: bool,
        /// Distance from the heel, mm.
        mark: f64,
        /// Length of the foot, mm.
        length: f64,
    },
    /// The outline moved by the ease is none.
    Outline(OutlineFault),
}

impl Foot {
    /// The outline moved outward by `ease` mm all round (inward if negative), laid on the page with
    /// the toe up and the inner side at the left: page x = -y, page y = -x. Clockwise, its edges are
    /// `toe edge`, from the inner mark round the toe to the outer mark, and `heel edge`.
    ///
    /// `inner_mark` and `outer_mark` are distances from the heel along the foot, mm, measured on the
    /// traced outline. The eased outline is parted at the offsets of the traced outline's points
    /// there, so that a mark keeps its place on the foot whatever the ease.
    ///
    /// # Errors
    /// See [`EaseFault`].
    pub fn outline_with_ease(
        &self,
        ease: f64,
        inner_mark: f64,
        outer_mark: f64,
    ) -> Result<Outline, EaseFault> {
        let outside = |inner: bool, mark: f64| EaseFault::MarkOutside {
            inner,
            mark,
            length: self.length,
        };
        let place = |inner: bool, mark: f64| {
            let side = if inner { &self.inner } else { &self.outer };
            let between = mark > 0.0 && mark < self.length;
            let place = if between { side.at(mark) } else { None };
            place.ok_or_else(|| outside(inner, mark))
        };
        let (inner_toe, inner_heel) = self.inner.parted_at(place(true, inner_mark)?);
        let (outer_toe, outer_heel) = self.outer.parted_at(place(false, outer_mark)?);
        let edges = vec![
            edge("toe edge", &inner_toe, &outer_toe, true),
            edge("heel edge", &outer_heel, &inner_heel, false),
        ];
        let outline = Outline::new(edges).map_err(EaseFault::Outline)?;
        outline.inset(-ease).map_err(EaseFault::Outline)
    }
}

/// An edge on the page made of two stretches of sides, one of which is run through backwards.
fn edge(name: &str, first: &[PathSeg], second: &[PathSeg], first_backwards: bool) -> Edge {
    let page = Affine::new([0.0, -1.0, -1.0, 0.0, 0.0, 0.0]);
    let stretch = |segments: &[PathSeg], backwards: bool| -> Vec<PathSeg> {
        if backwards {
            segments.iter().rev().map(PathSeg::reverse).collect()
        } else {
            segments.to_vec()
        }
    };
    let mut segments = stretch(first, first_backwards);
    segments.extend(stretch(second, !first_backwards));
    Edge::new(
        name,
        page * BezPath::from_path_segments(segments.into_iter()),
    )
}
