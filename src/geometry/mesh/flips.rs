//! Edge flips that make a mesh Delaunay in space.

use super::Mesh;
use crate::geometry::space::Vec3;

/// Rounds of flips; a handful suffices.
const ROUNDS: usize = 30;

/// An edge with one of its triangles: ends in order, then the triangle.
type Side = (usize, usize, usize);

/// Flips inner edges of the mesh until the two angles opposite to each add up to at most a half turn
/// (Bobenko & Springborn 2007), as far as that folds nothing over. Cotangent weights are then
/// positive on inner edges, and thin triangles of the chart become round ones of the surface.
pub fn delaunay_flips(mesh: &mut Mesh) {
    for _ in 0..ROUNDS {
        let sides = sorted_sides(mesh);
        let mut touched = vec![false; mesh.triangles.len()];
        let mut flipped = 0;
        for pair in sides.windows(2) {
            let ((i, j, first), (k, l, second)) = (pair[0], pair[1]);
            if (i, j) != (k, l) || touched[first] || touched[second] {
                continue;
            }
            let Some(turned) = flip(mesh, &sides, [i, j], [first, second]) else {
                continue;
            };
            mesh.triangles[first] = turned[0];
            mesh.triangles[second] = turned[1];
            touched[first] = true;
            touched[second] = true;
            flipped += 1;
        }
        if flipped == 0 {
            break;
        }
    }
}

fn sorted_sides(mesh: &Mesh) -> Vec<Side> {
    let mut sides: Vec<Side> = Vec::with_capacity(3 * mesh.triangles.len());
    for (index, [a, b, c]) in mesh.triangles.iter().enumerate() {
        for (i, j) in [(*a, *b), (*b, *c), (*c, *a)] {
            sides.push((i.min(j), i.max(j), index));
        }
    }
    sides.sort_unstable();
    sides
}

/// The two triangles after the flip of an edge, if it should be flipped and can be.
fn flip(
    mesh: &Mesh,
    sides: &[Side],
    edge: [usize; 2],
    triangles: [usize; 2],
) -> Option<[[usize; 3]; 2]> {
    let [i, j] = edge;
    let opposite = |t: usize| mesh.triangles[t].into_iter().find(|v| *v != i && *v != j);
    let (a, b) = (opposite(triangles[0])?, opposite(triangles[1])?);
    let angle = |at: usize| angle_at(mesh.points[at], mesh.points[i], mesh.points[j]);
    let ((cosine_a, sine_a), (cosine_b, sine_b)) = (angle(a), angle(b));
    // The sine of their sum; both are less than a half turn.
    if sine_a * cosine_b + cosine_a * sine_b >= -1e-6 {
        return None;
    }
    let taken = (a.min(b), a.max(b));
    let place = sides.partition_point(|s| (s.0, s.1) < taken);
    if sides.get(place).is_some_and(|s| (s.0, s.1) == taken) {
        return None;
    }
    let first = mesh.triangles[triangles[0]];
    let turn = first.iter().position(|v| *v == a)?;
    let (p, q) = (first[(turn + 1) % 3], first[(turn + 2) % 3]);
    let at = |v: usize| mesh.points[v] - mesh.points[a];
    let (one, other) = (at(p).cross(at(b)), at(b).cross(at(q)));
    (one.dot(other) > 0.0).then_some([[a, p, b], [a, b, q]])
}

/// Cosine and sine of the angle at `corner`.
fn angle_at(corner: Vec3, one: Vec3, other: Vec3) -> (f64, f64) {
    let (u, v) = (one - corner, other - corner);
    let (along, across) = (u.dot(v), u.cross(v).length());
    let scale = 1.0 / ((along * along + across * across).sqrt() + 1e-300);
    (scale * along, scale * across)
}
