//! A button on a strap: a low round body with a ring and two holes. Millimetres.

use crate::figure::drawing::{Curve, Face, LineKind, Mesh, Scene, net_triangles};
use crate::geometry::space::Vec3;
use std::f64::consts::{PI, TAU};

/// Radius and height as shares of the strap's width; ring and holes as shares of the radius.
pub(super) const RADIUS: f64 = 0.29;
const HEIGHT: f64 = 0.168;
const RING: f64 = 0.70;
const HOLE: f64 = 0.11;
const HOLE_OFF: f64 = 0.24;

/// The holes are drawn as long as this share of the radius prints wide enough.
const HOLES_SET_OFF: f64 = 0.8;

/// Exponents of its profile (superellipse), and the height of its widest circle: above the strap,
/// so that its silhouette is one closed line.
const ROUND: f64 = 0.55;
const FLAT: f64 = 0.8;
const WIDEST: f64 = 0.62;

/// Height of ring and holes above the strap, as a share of the button's height.
const TOP: f64 = 1.15;

/// Points round it and from below to its top.
const AROUND: usize = 64;
const RISE: usize = 25;

/// Where a button sits.
#[derive(Debug, Clone, Copy)]
pub(super) struct Place {
    /// On the strap's face.
    pub(super) middle: Vec3,
    /// Away from the strap.
    pub(super) normal: Vec3,
    /// The strap's width.
    pub(super) strap: f64,
}

/// The button.
pub(super) fn button(place: Place) -> Scene {
    let normal = place.normal.unit();
    let first = normal.cross(Vec3::new(1.0, 0.0, 0.0)).unit();
    let second = normal.cross(first);
    let (radius, height) = (RADIUS * place.strap, HEIGHT * place.strap);
    let around = |i: usize| {
        let angle = TAU * (i % AROUND) as f64 / AROUND as f64;
        first * angle.cos() + second * angle.sin()
    };
    let mut mesh = Mesh {
        triangles: net_triangles(AROUND, RISE, true),
        faces: Some([Face::Right; 2]),
        silhouette: Some(LineKind::Button),
        ..Mesh::default()
    };
    for i in 0..AROUND {
        for j in 0..RISE {
            let angle = PI * (j as f64 / (RISE - 1) as f64 - 0.5);
            let (sin, cos) = (angle.sin(), angle.cos().max(0.0));
            let up = WIDEST + 0.5 * sin.signum() * sin.abs().powf(FLAT);
            let out = around(i) * (radius * cos.powf(ROUND));
            mesh.vertices
                .push(place.middle + out + normal * (up * height));
            // Gradient of the superellipsoid.
            let (across, along) = (cos.powf(2.0 - ROUND), sin.abs().powf(2.0 - FLAT));
            let along = sin.signum() * along / (0.5 * height);
            let gradient = around(i) * (across / radius) + normal * along;
            mesh.normals.push(gradient.unit());
        }
    }
    mesh.face_along_normals();
    let top = place.middle + normal * (TOP * height);
    let circle = |middle: Vec3, radius: f64| {
        let points = (0..=AROUND).map(|i| middle + around(i) * radius).collect();
        let normals = vec![normal; AROUND + 1];
        Curve::new(points, normals, LineKind::Detail).closed()
    };
    let hole = |sign: f64| circle(top + first * (sign * HOLE_OFF * radius), HOLE * radius);
    let curves = [circle(top, RING * radius), hole(-1.0), hole(1.0)];
    let [ring, holes @ ..] = curves;
    let mut curves = vec![ring.sets_off(0.5 * radius)];
    // without holes it would be the chalk mark of its place: they are left out last
    curves.extend(holes.map(|hole| hole.sets_off(HOLES_SET_OFF * radius)));
    Scene {
        meshes: vec![mesh],
        curves,
    }
}
