//! Upper and sole of a shoe as surfaces and curves of a scene. Millimetres, the foot's axes.

use super::rim::Rim;
use super::upper::Upper;
use super::{Extent, ShoeLook, part};
use crate::draft::shoe::ShoeForm;
use crate::figure::drawing::polyline::spread;
use crate::figure::drawing::{
    Curve, Face, LineKind, Mesh, Scene, Strip, net_triangles, vertex_normals, zero_lines,
};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;
use std::f64::consts::{FRAC_PI_2, PI};

/// Height at which the inside of the sole is drawn, so that it does not meet the feather edge.
pub(super) const FLOOR: f64 = 0.02;

/// Sole: points round the outline, rows of its rounded edge, how far that bulges as a share of the
/// sole's thickness.
const ROUND: usize = 180;
const EDGE_ROWS: usize = 7;
const BULGE: f64 = 0.35;

/// Plates of the sole: strips along, strips across. Long thin triangles would fill many cells.
const PLATE: [usize; 2] = [90, 5];

/// Distance of the line of stitching from the topline, as a share of the foot's length.
const TOPSTITCH: f64 = 0.032;

/// How much the topline's test directions lean up.
const LEAN: f64 = 0.9;

/// The upper's surfaces, rim and seams.
pub(super) fn upper(form: &ShoeForm, look: &ShoeLook, extent: &Extent, net: &Upper) -> Scene {
    let (mut scene, inside) = walls(form, look, extent, net, look.faces());
    add_feather_edge(&mut scene, net, &inside);
    scene
}

/// The same without the line where it meets the sole, with what shows outside and inside; and the
/// inside's surface.
pub(super) fn walls(
    form: &ShoeForm,
    look: &ShoeLook,
    extent: &Extent,
    net: &Upper,
    [outer, inner]: [Face; 2],
) -> (Scene, Mesh) {
    let thickness = extent.cloth(look);
    let outside = Mesh {
        vertices: net.points.clone(),
        normals: net.normals.clone(),
        triangles: net.triangles.clone(),
        faces: Some([outer, inner]),
        silhouette: Some(LineKind::Edge),
        ..Mesh::default()
    };
    let moved = net.points.iter().zip(&net.normals).map(|(point, normal)| {
        let inner = *point - *normal * thickness;
        Vec3::new(inner.x, inner.y, inner.z.max(FLOOR))
    });
    let mut inside = Mesh {
        vertices: moved.collect(),
        normals: net.normals.iter().map(|n| -*n).collect(),
        triangles: net.triangles.clone(),
        faces: Some([inner, outer]),
        silhouette: Some(LineKind::Inner),
        ..Mesh::default()
    };
    inside.turn_over();
    let mut scene = Scene::default();
    scene.curves.extend(seams(form, extent, thickness));
    if look.topstitch {
        let lines = net
            .stitching
            .get_or_init(|| topstitch(&outside, net, extent));
        scene.curves.extend(lines.iter().cloned());
    }
    add_rim(&mut scene, net, &inside, (thickness, inner));
    scene.meshes.extend([outside, inside.clone()]);
    (scene, inside)
}

/// The line of stitching on the outside, at one distance from the topline.
fn topstitch(outside: &Mesh, net: &Upper, extent: &Extent) -> Vec<Curve> {
    let distance = TOPSTITCH * extent.length;
    let rim = Rim::new(topline(net).map(|i| net.points[i]));
    let values: Vec<f64> = rim
        .distances(outside, distance)
        .into_iter()
        .map(|apart| apart - distance)
        .collect();
    let lines = zero_lines(outside, &values, LineKind::Stitch).into_iter();
    lines.map(|line| line.tagged(part::TOPSTITCH)).collect()
}

/// Numbers of the net's points along the topline, closed.
fn topline(net: &Upper) -> impl Iterator<Item = usize> + '_ {
    let columns = net.topline_columns().into_iter();
    columns.map(|column| Upper::index(column, Upper::ROWS - 1))
}

/// The cloth's edge between the toplines of outside and inside.
fn add_rim(scene: &mut Scene, net: &Upper, inside: &Mesh, (thickness, face): (f64, Face)) {
    let mut vertices = Vec::new();
    let (mut outer, mut inner) = (Vec::new(), Vec::new());
    let (mut outward, mut inward) = (Vec::new(), Vec::new());
    for index in topline(net) {
        let up = (net.points[index] - net.points[index - 1]).unit() * LEAN;
        outer.push(net.points[index]);
        inner.push(inside.vertices[index]);
        outward.push(net.normals[index] + up);
        inward.push(up - net.normals[index]);
        vertices.extend([net.points[index], inside.vertices[index]]);
    }
    let triangles = net_triangles(outer.len(), 2, false);
    scene.meshes.push(Mesh {
        normals: vertex_normals(&vertices, &triangles, 0),
        vertices,
        triangles,
        faces: Some([Face::Right; 2]),
        strip: Some(Strip {
            width: thickness,
            face,
        }),
        ..Mesh::default()
    });
    let edge = Curve::new(outer, outward, LineKind::Edge).closed();
    let rim = Curve::new(inner, inward, LineKind::Inner).closed();
    scene.curves.extend([edge, rim.sets_off(thickness)]);
}

/// Draws the rim as one line at every scale, as where the shoe is seen from its wrong side: there two
/// lines would seem to be two rows.
pub(super) fn single_rim(scene: &mut Scene) {
    for strip in scene.meshes.iter_mut().filter_map(|m| m.strip.as_mut()) {
        strip.width = 0.0;
    }
    scene.curves.retain(|curve| curve.sets_off.is_none());
}

/// Where the upper meets the sole, outside and inside.
fn add_feather_edge(scene: &mut Scene, net: &Upper, inside: &Mesh) {
    let bottom = (0..net.columns).map(|column| Upper::index(column, 0));
    let level = |index: usize| {
        let normal = net.normals[index];
        Vec3::new(normal.x, normal.y, 0.0).unit()
    };
    let up = |height: f64| Vec3::new(0.0, 0.0, height);
    let (points, normals) = bottom
        .clone()
        .map(|i| (net.points[i], level(i) + up(0.15)))
        .unzip();
    let edge = Curve::new(points, normals, LineKind::Edge).closed();
    let (points, normals) = bottom
        .map(|i| (inside.vertices[i], up(0.6) - level(i)))
        .unzip();
    let crease = Curve::new(points, normals, LineKind::Detail).closed();
    scene.curves.extend([edge, crease.tagged(part::CREASE)]);
}

/// Side seams on both faces of the cloth.
fn seams(form: &ShoeForm, extent: &Extent, thickness: f64) -> Vec<Curve> {
    let mut curves = Vec::new();
    for side in FootSide::BOTH {
        let points = &form.side_seams[side as usize].points;
        let normals: Vec<Vec3> = points
            .iter()
            .map(|p| extent.normal(form, side, p.distance, p.place))
            .collect();
        let outside = points.iter().map(|p| p.point).collect();
        let moved = points.iter().zip(&normals);
        let inside = moved.map(|(p, n)| p.point - *n * thickness).collect();
        let inward = normals.iter().map(|n| -*n).collect();
        curves.push(Curve::new(outside, normals, LineKind::Seam).tagged(part::SIDE_SEAM));
        curves.push(Curve::new(inside, inward, LineKind::Seam));
    }
    curves
}

/// The sole: its rounded edge, its inside and its underside.
pub(super) fn sole(form: &ShoeForm, extent: &Extent, thickness: f64) -> Scene {
    let ring = sole_ring(form);
    let count = ring.len();
    let outward: Vec<Vec3> = (0..count)
        .map(|i| {
            let way = ring[(i + 1) % count] - ring[(i + count - 1) % count];
            Vec3::new(way.y, -way.x, 0.0).unit()
        })
        .collect();
    let mut edge = Mesh {
        triangles: net_triangles(count, EDGE_ROWS, true),
        faces: Some([Face::Right; 2]),
        silhouette: Some(LineKind::Edge),
        ..Mesh::default()
    };
    for (point, out) in ring.iter().zip(&outward) {
        for row in 0..EDGE_ROWS {
            let angle = FRAC_PI_2 - PI * row as f64 / (EDGE_ROWS - 1) as f64;
            let (sin, cos) = angle.sin_cos();
            let height = Vec3::new(0.0, 0.0, 0.5 * thickness * (sin - 1.0));
            edge.vertices
                .push(*point + *out * (BULGE * thickness * cos) + height);
            let normal = *out * (cos / BULGE) + Vec3::new(0.0, 0.0, sin / 0.5);
            edge.normals.push(normal.unit());
        }
    }
    edge.face_along_normals();
    let low = |v: Vec3| Vec3::new(v.x, v.y, -thickness);
    let bottom: Vec<Vec3> = (0..=count).map(|i| low(ring[i % count])).collect();
    let down = |i: usize| outward[i % count] + Vec3::new(0.0, 0.0, -0.8);
    let normals = (0..=count).map(down).collect();
    Scene {
        meshes: vec![
            edge,
            plate(form, extent, FLOOR, Face::Insole, 1.0),
            plate(form, extent, -thickness, Face::Right, -1.0),
        ],
        curves: vec![Curve::new(bottom, normals, LineKind::Edge).closed()],
    }
}

/// The sole's seam line, counter-clockwise as seen from above, without its last point.
fn sole_ring(form: &ShoeForm) -> Vec<Vec3> {
    let edge = &form.surface.edge;
    let on = |side: FootSide, share: f64| {
        let point = edge.at(side, share * edge.length(side));
        Vec3::new(point.x, point.y, 0.0)
    };
    let share = |i: usize| i as f64 / 600.0;
    let mut ring: Vec<Vec3> = (0..=600).map(|i| on(FootSide::Inner, share(i))).collect();
    ring.extend((0..600).rev().map(|i| on(FootSide::Outer, share(i))));
    let whole = crate::figure::drawing::polyline::length(&ring);
    let mut even = spread(&ring, 0.0, whole, ROUND);
    even.pop();
    even
}

/// A level plate in strips between the two sides at equal x.
fn plate(form: &ShoeForm, extent: &Extent, height: f64, face: Face, up: f64) -> Mesh {
    let edge = &form.surface.edge;
    let [along, across] = PLATE;
    let mut vertices = Vec::with_capacity(along * across);
    for i in 0..along {
        let share = i as f64 / (along - 1) as f64;
        let x = extent.back + (extent.front - extent.back) * share;
        let ends = FootSide::BOTH.map(|side| Vec3::new(x, edge.across(side, x), height));
        let point = |j: usize| ends[0].lerp(ends[1], j as f64 / (across - 1) as f64);
        vertices.extend((0..across).map(point));
    }
    let mut mesh = Mesh {
        normals: vec![Vec3::new(0.0, 0.0, up); vertices.len()],
        vertices,
        triangles: net_triangles(along, across, false),
        faces: Some([face; 2]),
        ..Mesh::default()
    };
    mesh.face_along_normals();
    mesh
}
