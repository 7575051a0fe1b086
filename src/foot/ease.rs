//! The sole's seam line: the foot's outline moved outward by an ease, laid on the page.

use super::Foot;
use super::side::{self, Side};
use crate::geometry::{Edge, Outline, OutlineFault, curve};
use kurbo::{Affine, BezPath, PathSeg, Point};

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

/// The outline of a sole on the foot's axes, as two sides from toe to heel, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct SoleRing {
    inner: Side,
    outer: Side,
    /// Length of the foot it was made from, mm.
    foot: f64,
}

impl Foot {
    /// The outline moved outward by `ease` mm all round (inward if negative), laid on the page with
    /// the toe up and the inner side at the left: page x = -y, page y = -x. Clockwise, its edges are
    /// `toe edge`, from the inner mark round the toe to the outer mark, and `heel edge`.
    ///
    /// `inner_mark` and `outer_mark` are distances from the traced heel along the foot, mm; the seam
    /// line is parted where it is level with them.
    ///
    /// # Errors
    /// See [`EaseFault`].
    pub fn outline_with_ease(
        &self,
        ease: f64,
        inner_mark: f64,
        outer_mark: f64,
    ) -> Result<Outline, EaseFault> {
        for (inner, mark) in [(true, inner_mark), (false, outer_mark)] {
            // A mark that is not a number lies outside too.
            if !(mark > 0.0 && mark < self.length) {
                return Err(outside(inner, mark, self.length));
            }
        }
        self.sole_ring(ease)?.on_page(inner_mark, outer_mark)
    }

    /// The outline moved outward by `ease` mm all round, inward if negative.
    ///
    /// # Errors
    /// [`EaseFault::Outline`] if nothing is left of it.
    pub fn sole_ring(&self, ease: f64) -> Result<SoleRing, EaseFault> {
        let traced = curve::chained(self.outline.segments());
        let eased = Outline::new(vec![Edge::new("foot", traced)])
            .and_then(|outline| outline.inset(-ease))
            .map_err(EaseFault::Outline)?;
        let nothing_left = || EaseFault::Outline(OutlineFault::NothingLeft(-ease));
        let (inner, outer) = side::parted(&eased.path()).ok_or_else(nothing_left)?;
        Ok(SoleRing {
            inner,
            outer,
            foot: self.length,
        })
    }
}

impl SoleRing {
    /// The inner side, from the toe to the heel.
    #[must_use]
    pub fn inner_side(&self) -> BezPath {
        self.inner.path()
    }

    /// The outer side, from the toe to the heel.
    #[must_use]
    pub fn outer_side(&self) -> BezPath {
        self.outer.path()
    }

    /// The ring with every point moved by `bend`, which must be smooth and leave the toe foremost
    /// and the heel hindmost. `None` if no outline comes of it.
    #[must_use]
    pub fn bent(&self, bend: impl Fn(Point) -> Point) -> Option<Self> {
        let ring = side::ring(&self.inner, &self.outer);
        let (inner, outer) = side::parted(&curve::bent(&ring, bend))?;
        Some(Self {
            inner,
            outer,
            foot: self.foot,
        })
    }

    /// The ring on the page, parted at two marks: see [`Foot::outline_with_ease`].
    ///
    /// # Errors
    /// See [`EaseFault`].
    pub fn on_page(&self, inner_mark: f64, outer_mark: f64) -> Result<Outline, EaseFault> {
        let at_inner = self.inner.at(inner_mark);
        let at_outer = self.outer.at(outer_mark);
        let at_inner = at_inner.ok_or_else(|| outside(true, inner_mark, self.foot))?;
        let at_outer = at_outer.ok_or_else(|| outside(false, outer_mark, self.foot))?;
        let (inner_toe, inner_heel) = self.inner.parted_at(at_inner);
        let (outer_toe, outer_heel) = self.outer.parted_at(at_outer);
        Outline::new(vec![
            edge("toe edge", &inner_toe, &outer_toe, true),
            edge("heel edge", &outer_heel, &inner_heel, false),
        ])
        .map_err(EaseFault::Outline)
    }
}

fn outside(inner: bool, mark: f64, length: f64) -> EaseFault {
    EaseFault::MarkOutside {
        inner,
        mark,
        length,
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
    Edge::new(name, page * curve::chained(segments))
}
