//! Flattening a curved patch, in mm: every triangle of a mesh laid in the plane with as little
//! change as can be, and chosen edges held to given lengths.
//!
//! [`Patch::conformal`] gives a start, [`Patch::relaxed`] and [`Patch::held`] the flat shape,
//! [`Patch::strain`] what it cost.

mod held;
mod lscm;
mod rigid;
mod sparse;
mod strain;

#[cfg(test)]
mod tests;

pub use strain::Strain;

use super::mesh::Mesh;
use kurbo::{Point, Vec2};

/// A mesh made ready to be flattened.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch<'a> {
    mesh: &'a Mesh,
    triangles: Vec<Flat>,
}

/// An edge of the mesh that must have this length in the plane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeldEdge {
    /// Its ends.
    pub ends: [usize; 2],
    /// Its length, mm.
    pub length: f64,
}

/// One triangle in its own plane.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Flat {
    corners: [usize; 3],
    /// Its corners in its own plane.
    at: [Point; 3],
    /// Its area, mm².
    area: f64,
    /// Cotangents of its angles (Pinkall & Polthier 1993).
    cotangents: [f64; 3],
}

impl Flat {
    /// The edge opposite to corner `k`: its ends, the way from the second to the first in the
    /// triangle's own plane, and its weight.
    fn side(&self, k: usize) -> (usize, usize, Vec2, f64) {
        let (i, j) = ((k + 1) % 3, (k + 2) % 3);
        let way = self.at[i] - self.at[j];
        (self.corners[i], self.corners[j], way, self.cotangents[k])
    }
}

impl<'a> Patch<'a> {
    /// The patch of a mesh with at least one triangle; `None` if a triangle has no area.
    #[must_use]
    pub fn new(mesh: &'a Mesh) -> Option<Self> {
        let triangles: Option<Vec<Flat>> = mesh
            .triangles
            .iter()
            .map(|corners| flat(mesh, *corners))
            .collect();
        let triangles = triangles?;
        (!triangles.is_empty()).then_some(Self { mesh, triangles })
    }

    fn size(&self) -> usize {
        self.mesh.points.len()
    }
}

fn flat(mesh: &Mesh, corners: [usize; 3]) -> Option<Flat> {
    let [a, b, c] = corners.map(|i| mesh.points[i]);
    let along = b - a;
    let length = along.length();
    let double = along.cross(c - a).length();
    // Also false for what is no number.
    let sound = length > 0.0 && double > 1e-14;
    if !sound {
        return None;
    }
    let at = [
        Point::ZERO,
        Point::new(length, 0.0),
        Point::new((c - a).dot(along) / length, double / length),
    ];
    let cotangents = [0, 1, 2].map(|k| {
        let (u, v) = (at[(k + 1) % 3] - at[k], at[(k + 2) % 3] - at[k]);
        u.dot(v) / u.cross(v).abs()
    });
    Some(Flat {
        corners,
        at,
        area: 0.5 * double,
        cotangents,
    })
}
