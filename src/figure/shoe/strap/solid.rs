//! A strap as a solid: its top, its underside and the wall round them.

use super::{LINES, POINTS};
use crate::figure::drawing::{Curve, Face, LineKind, Mesh, Scene, net_triangles, vertex_normals};
use crate::geometry::space::Vec3;

/// Top, underside and edge of a strap `thick` above its `base`.
pub(super) fn solid(base: &Mesh, thick: f64) -> Scene {
    let lifted = base.vertices.iter().zip(&base.normals);
    let top: Vec<Vec3> = lifted.map(|(v, n)| *v + *n * thick).collect();
    let rim = rim();
    let middle = top[(LINES / 2) * POINTS + POINTS * 9 / 40];
    let out: Vec<Vec3> = rim
        .iter()
        .enumerate()
        .map(|(number, at)| match number {
            n if n < POINTS => Vec3::new(-1.0, 0.0, 0.0),
            n if n < POINTS + LINES - 1 => (top[*at] - middle).unit(),
            _ => Vec3::new(1.0, 0.0, 0.0),
        })
        .collect();
    let normals = || rim.iter().map(|at| base.normals[*at]).zip(&out);
    let upper = Curve::new(
        rim.iter().map(|at| top[*at]).collect(),
        normals().map(|(n, out)| n + *out * 0.6).collect(),
        LineKind::Strap,
    );
    let lower = Curve::new(
        rim.iter().map(|at| base.vertices[*at]).collect(),
        normals().map(|(n, out)| *out - n * 0.35).collect(),
        LineKind::Inner,
    );
    let wall: Vec<Vec3> = rim
        .iter()
        .flat_map(|at| [top[*at], base.vertices[*at]])
        .collect();
    let triangles = net_triangles(rim.len(), 2, false);
    let wall = Mesh {
        normals: vertex_normals(&wall, &triangles, 0),
        vertices: wall,
        triangles,
        faces: Some([Face::Right; 2]),
        ..Mesh::default()
    };
    let mut underside = Mesh {
        normals: base.normals.iter().map(|n| -*n).collect(),
        faces: Some([Face::Right; 2]),
        silhouette: Some(LineKind::Inner),
        ..base.clone()
    };
    underside.turn_over();
    let face = Mesh {
        vertices: top,
        faces: Some([Face::Right; 2]),
        silhouette: Some(LineKind::Strap),
        ..base.clone()
    };
    Scene {
        meshes: vec![face, underside, wall],
        curves: vec![upper, lower.sets_off(thick)],
    }
}

/// Numbers of the points round the strap: along its hind edge, its round end, its front edge.
fn rim() -> Vec<usize> {
    let hind = (0..POINTS).rev();
    let end = (1..LINES).map(|line| line * POINTS);
    let front = (1..POINTS).map(|point| (LINES - 1) * POINTS + point);
    hind.chain(end).chain(front).collect()
}
