//! Triangulation of a region of the plane whose boundary is given.

use crate::geometry::ring::contains;
use kurbo::Point;
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

/// Why a region could not be triangulated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeshFault {
    /// A coordinate is not finite or beyond all measure.
    NotFinite,
    /// Two points are one.
    Doubled,
    /// The boundary crosses itself.
    Crosses,
    /// Some of the points lie in no triangle.
    Outside,
}

/// The constrained Delaunay triangulation (Chew 1989) of a region: the first `ring` of `points` are
/// its boundary in order, the others lie inside. Triangles are indices of points, counter-clockwise
/// with y upwards.
///
/// # Errors
/// See [`MeshFault`].
pub fn triangulate(points: &[Point], ring: usize) -> Result<Vec<[usize; 3]>, MeshFault> {
    let vertices = points.iter().map(|p| Point2::new(p.x, p.y)).collect();
    let edges = (0..ring).map(|i| [i, (i + 1) % ring]).collect();
    let mut crossed = false;
    let mesh =
        ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(vertices, edges, |_| {
            crossed = true
        })
        .map_err(|_| MeshFault::NotFinite)?;
    if crossed {
        return Err(MeshFault::Crosses);
    }
    if mesh.num_vertices() != points.len() {
        return Err(MeshFault::Doubled);
    }
    let mut used = vec![false; points.len()];
    let mut triangles = Vec::new();
    for face in mesh.inner_faces() {
        let corners = face.vertices().map(|v| v.index());
        let [a, b, c] = corners.map(|i| points[i]);
        let area = (b - a).cross(c - a);
        let centre = ((a.to_vec2() + b.to_vec2() + c.to_vec2()) / 3.0).to_point();
        if area.abs() <= 1e-9 || !contains(&points[..ring], centre) {
            continue;
        }
        let [i, j, k] = corners;
        triangles.push(if area > 0.0 { [i, j, k] } else { [i, k, j] });
        for corner in corners {
            used[corner] = true;
        }
    }
    if used.contains(&false) {
        return Err(MeshFault::Outside);
    }
    triangles.sort_unstable();
    Ok(triangles)
}
