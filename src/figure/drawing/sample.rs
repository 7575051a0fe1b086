//! A point of a curve on its way to paper. Millimetres on paper.

use crate::geometry::space::Vec3;

/// A point of a curve in the axes of the paper: x to the right, y down, z towards the viewer, and
/// the direction that leads out of the solid there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::figure) struct Sample {
    pub(in crate::figure) at: Vec3,
    pub(in crate::figure) normal: Vec3,
}
