//! Curves on a surface along which a value is zero: silhouettes, and lines at one distance from an
//! edge. Millimetres of the model.

use super::line_kind::LineKind;
use super::scene::{Curve, Mesh};
use crate::geometry::space::Vec3;
use std::collections::BTreeMap;

/// Values nearer to zero than this count as this, so that no line runs through a corner.
const NEAR_ZERO: f64 = 1e-9;

/// Where `mesh` turns away from a viewer in the direction `toward`.
#[must_use]
pub fn silhouettes(mesh: &Mesh, kind: LineKind, toward: Vec3) -> Vec<Curve> {
    let values: Vec<f64> = mesh.normals.iter().map(|n| n.dot(toward)).collect();
    let mut curves = zero_lines(mesh, &values, kind);
    for curve in &mut curves {
        curve.silhouette = true;
        curve.tag = mesh.tag;
    }
    curves
}

/// The lines along which `values`, one for each corner of `mesh`, are zero: linear on each triangle
/// (marching triangles), chained through shared edges.
#[must_use]
pub fn zero_lines(mesh: &Mesh, values: &[f64], kind: LineKind) -> Vec<Curve> {
    let mut net = Net::default();
    let value = |i: u32| {
        let value = values[i as usize];
        if value.abs() < NEAR_ZERO {
            NEAR_ZERO
        } else {
            value
        }
    };
    for &[a, b, c] in &mesh.triangles {
        let signs = [a, b, c].map(|i| value(i) > 0.0);
        if signs[0] == signs[1] && signs[1] == signs[2] {
            continue;
        }
        let mut ends = Vec::with_capacity(2);
        for ((from, to), (s, t)) in [(a, b), (b, c), (c, a)].into_iter().zip([
            (signs[0], signs[1]),
            (signs[1], signs[2]),
            (signs[2], signs[0]),
        ]) {
            if s != t {
                ends.push(net.crossing(mesh, from, to, value(from) / (value(from) - value(to))));
            }
        }
        net.link(ends[0], ends[1]);
    }
    net.chains(kind)
}

/// Crossings of edges and how they are linked.
#[derive(Default)]
struct Net {
    numbers: BTreeMap<(u32, u32), usize>,
    points: Vec<(Vec3, Vec3)>,
    links: Vec<Vec<usize>>,
}

impl Net {
    fn crossing(&mut self, mesh: &Mesh, from: u32, to: u32, share: f64) -> usize {
        let number = self.points.len();
        *self
            .numbers
            .entry((from.min(to), from.max(to)))
            .or_insert_with(|| {
                let (i, j) = (from as usize, to as usize);
                self.points.push((
                    mesh.vertices[i].lerp(mesh.vertices[j], share),
                    mesh.normals[i].lerp(mesh.normals[j], share).unit(),
                ));
                self.links.push(Vec::new());
                number
            })
    }

    fn link(&mut self, a: usize, b: usize) {
        self.links[a].push(b);
        self.links[b].push(a);
    }

    /// The links as curves, those with ends first.
    fn chains(&self, kind: LineKind) -> Vec<Curve> {
        let mut starts: Vec<usize> = (0..self.points.len()).collect();
        starts.sort_by_key(|i| self.links[*i].len());
        let mut used = vec![false; self.points.len()];
        let mut curves = Vec::new();
        for start in starts {
            if used[start] {
                continue;
            }
            let mut chain = vec![start];
            used[start] = true;
            let mut here = start;
            while let Some(next) = self.links[here].iter().copied().find(|i| !used[*i]) {
                used[next] = true;
                chain.push(next);
                here = next;
            }
            let closed = chain.len() > 3 && self.links[here].contains(&start);
            if closed {
                chain.push(start);
            }
            if chain.len() > 2 {
                let points = chain.iter().map(|i| self.points[*i].0).collect();
                let normals = chain.iter().map(|i| self.points[*i].1).collect();
                let mut curve = Curve::new(points, normals, kind);
                curve.closed = closed;
                curves.push(curve);
            }
        }
        curves
    }
}
