//! Triangle meshes of curved patches, lengths in mm: points spread over a surface, triangulated in a
//! chart of it, and flipped until every pair of triangles is as round as it can be in space.

mod delaunay;
mod flips;
mod scatter;

#[cfg(test)]
mod tests;

pub use delaunay::{MeshFault, triangulate};
pub use flips::delaunay_flips;
pub use scatter::{Spacing, halton, scatter};

use super::space::Vec3;

/// A mesh in space.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// Its points.
    pub points: Vec<Vec3>,
    /// Its triangles as indices of points, all turning the same way.
    pub triangles: Vec<[usize; 3]>,
}
