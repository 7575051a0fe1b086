//! The toe piece alone on the form, its side allowances beyond the side seams. Millimetres, the
//! foot's axes.

use super::super::upper::Upper;
use super::super::upper::{BEFORE, CROWD, ROUNDS};
use super::super::{Extent, part as look};
use super::part;
use crate::draft::shoe::ShoeForm;
use crate::figure::drawing::{Curve, Face, LineKind, Mesh, Scene, net_triangles, vertex_normals};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;
use std::f64::consts::FRAC_PI_2;
use std::sync::OnceLock;

/// Columns of each side behind the throat.
const BEHIND: usize = 44;

/// The toe piece with `beyond` mm of allowance at its sides.
pub(super) fn toe_piece(form: &ShoeForm, extent: &Extent, beyond: f64) -> Scene {
    let mut columns = side(form, FootSide::Outer, beyond);
    let inner = side(form, FootSide::Inner, beyond);
    columns.extend(inner.into_iter().rev().skip(1));
    let (count, rows) = (columns.len(), Upper::ROWS);
    let points: Vec<Vec3> = columns.into_iter().flatten().collect();
    let mut triangles = net_triangles(count, rows, false);
    // Both sides have the same points on the ridge before the throat.
    for corner in triangles.iter_mut().flatten() {
        let (column, row) = (*corner as usize / rows, *corner as usize % rows);
        if row + 1 == rows && column > count / 2 && column <= count - 1 - BEHIND {
            *corner = Upper::index(count - 1 - column, row) as u32;
        }
    }
    let mut normals = vertex_normals(&points, &triangles, ROUNDS);
    for column in count / 2 + 1..count - BEHIND {
        let own = Upper::index(column, rows - 1);
        normals[own] = normals[Upper::index(count - 1 - column, rows - 1)];
    }
    let mut net = Upper {
        points,
        normals,
        triangles,
        columns: count,
        throats: [BEHIND, count - 1 - BEHIND],
        stitching: OnceLock::new(),
    };
    net.face_out(extent);
    scene(form, extent, &net)
}

/// One side's columns from its cut edge to the toe.
fn side(form: &ShoeForm, side: FootSide, beyond: f64) -> Vec<Vec<Vec3>> {
    let edge = &form.surface.edge;
    let start = form.surface.base_of(form.throat().x);
    let from = edge.distance_at(side, start);
    let rows = Upper::ROWS;
    let share = |row: usize| row as f64 / (rows - 1) as f64;
    let behind = (1..=BEHIND).rev().map(|i| {
        let out = (i as f64 / BEHIND as f64).powf(CROWD);
        (0..rows)
            .map(|row| {
                // The seam may lean: where a row lies depends on how high it is there.
                let mut distance = from;
                let mut place = 0.0;
                for _ in 0..4 {
                    distance = from + (seam_at(form, side, place) + beyond - from) * out;
                    place = form.topline_place(side, distance) * share(row);
                }
                form.point(side, distance, place)
            })
            .collect()
    });
    let before = (0..BEFORE).map(|i| {
        let ahead = i as f64 / (BEFORE - 1) as f64;
        let x = start + (edge.front() - start) * (FRAC_PI_2 * ahead).sin();
        let last = i + 1 == BEFORE;
        let distance = if last { 0.0 } else { edge.distance_at(side, x) };
        (0..rows)
            .map(|row| form.point(side, distance, share(row)))
            .collect()
    });
    behind.chain(before).collect()
}

/// Where the side seam runs at a place of the section lines.
fn seam_at(form: &ShoeForm, side: FootSide, place: f64) -> f64 {
    let points = &form.side_seams[side as usize].points;
    let after = points
        .partition_point(|p| p.place <= place)
        .clamp(1, points.len() - 1);
    let (a, b) = (&points[after - 1], &points[after]);
    let share = ((place - a.place) / (b.place - a.place).max(1e-12)).clamp(0.0, 1.0);
    a.distance + share * (b.distance - a.distance)
}

fn scene(form: &ShoeForm, extent: &Extent, net: &Upper) -> Scene {
    let rows = Upper::ROWS;
    let mut scene = Scene::default();
    let top: Vec<usize> = net
        .topline_columns()
        .iter()
        .map(|c| Upper::index(*c, rows - 1))
        .collect();
    let up = |i: usize| (net.points[i] - net.points[i - 1]).unit();
    let points = || top.iter().map(|i| net.points[*i]).collect::<Vec<Vec3>>();
    let outward = top.iter().map(|i| net.normals[*i] + up(*i)).collect();
    let inward = top.iter().map(|i| up(*i) - net.normals[*i] * 0.6).collect();
    scene
        .curves
        .push(Curve::new(points(), outward, LineKind::Edge));
    scene
        .curves
        .push(Curve::new(points(), inward, LineKind::Inner));
    for (column, next) in [(0, 1), (net.columns - 1, net.columns - 2)] {
        let at = |row: usize| net.points[Upper::index(column, row)];
        let out = |row: usize| (at(row) - net.points[Upper::index(next, row)]).unit();
        let points = (0..rows).map(at).collect();
        let normals = (0..rows)
            .map(|r| out(r) + Vec3::new(0.0, 0.0, 0.01))
            .collect();
        scene
            .curves
            .push(Curve::new(points, normals, LineKind::Edge).tagged(part::CUT_EDGE));
    }
    for side in FootSide::BOTH {
        let points = &form.side_seams[side as usize].points;
        let normals = points
            .iter()
            .map(|p| extent.normal(form, side, p.distance, p.place))
            .collect();
        let line = Curve::new(
            points.iter().map(|p| p.point).collect(),
            normals,
            LineKind::Stitch,
        );
        scene.curves.push(line.tagged(look::SIDE_SEAM));
    }
    scene.meshes.push(Mesh {
        vertices: net.points.clone(),
        normals: net.normals.clone(),
        triangles: net.triangles.clone(),
        faces: Some([Face::Wrong, Face::Right]),
        silhouette: Some(LineKind::Edge),
        ..Mesh::default()
    });
    scene
}
