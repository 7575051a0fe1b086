//! Flat layers: the sole with its allowance, the stiffener and the lining sole. Millimetres, the
//! foot's axes.

use super::seam::Seam;
use crate::figure::drawing::{Curve, Face, LineKind, Mesh, Scene, Tag, net_triangles};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;

/// Points round a plate, strips along and across it.
const ROUND: usize = 200;
const ALONG: usize = 90;
const ACROSS: usize = 5;

/// A layer that lies or is held somewhere.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plate {
    /// How far its edge lies outside the seam line; inside if less than 0.
    pub(super) by: f64,
    /// Height of its upper face and its thickness.
    pub(super) height: f64,
    pub(super) thickness: f64,
    /// What is seen from above and from below.
    pub(super) faces: [Face; 2],
    /// The kind of line of its edge.
    pub(super) edge: LineKind,
    pub(super) tag: Tag,
}

impl Plate {
    /// The plate lying level.
    pub(super) fn scene(&self, seam: &Seam) -> Scene {
        let ring = seam.ring(self.by, ROUND);
        let low = self.height - self.thickness;
        let level = |height: f64| {
            let at = |(point, _): &(Vec3, Vec3)| Vec3::new(point.x, point.y, height);
            ring.iter().map(at).collect::<Vec<Vec3>>()
        };
        let (top, bottom) = (level(self.height), level(low));
        let lean = |flat: f64, up: f64| {
            let lean = |(_, out): &(Vec3, Vec3)| *out * flat + Vec3::new(0.0, 0.0, up);
            ring.iter().map(lean).collect::<Vec<Vec3>>()
        };
        let wall: Vec<Vec3> = top
            .iter()
            .zip(&bottom)
            .flat_map(|(a, b)| [*a, *b])
            .collect();
        let mut side = Mesh {
            normals: ring.iter().flat_map(|(_, out)| [*out, *out]).collect(),
            vertices: wall,
            triangles: net_triangles(ring.len(), 2, false),
            faces: Some([Face::Right; 2]),
            ..Mesh::default()
        };
        side.face_along_normals();
        let [above, below] = self.faces;
        Scene {
            meshes: vec![
                self.face(seam, self.height, above, 1.0),
                self.face(seam, low, below, -1.0),
                side,
            ],
            curves: vec![
                Curve::new(top, lean(0.6, 0.8), self.edge)
                    .closed()
                    .tagged(self.tag),
                Curve::new(bottom, lean(1.0, -0.6), LineKind::Inner).closed(),
            ],
        }
    }

    /// One face, in strips between the two sides from toe to heel.
    fn face(&self, seam: &Seam, height: f64, face: Face, up: f64) -> Mesh {
        let ends = seam.ends();
        let mut vertices = Vec::with_capacity(ALONG * ACROSS);
        for i in 0..ALONG {
            let share = i as f64 / (ALONG - 1) as f64;
            let side = |side: FootSide| {
                let place = share * ends[usize::from(side == FootSide::Inner)];
                let at = seam.at(place) + seam.outward(place) * self.by;
                Vec3::new(at.x, at.y, height)
            };
            let (from, to) = (side(FootSide::Outer), side(FootSide::Inner));
            let across = |j: usize| from.lerp(to, j as f64 / (ACROSS - 1) as f64);
            vertices.extend((0..ACROSS).map(across));
        }
        let mut mesh = Mesh {
            normals: vec![Vec3::new(0.0, 0.0, up); vertices.len()],
            vertices,
            triangles: net_triangles(ALONG, ACROSS, false),
            faces: Some([face; 2]),
            ..Mesh::default()
        };
        mesh.face_along_normals();
        mesh
    }
}

/// The seam line as a dashed line on a plate whose face lies at 0.
pub(super) fn seam_line(seam: &Seam, stretch: [f64; 2]) -> Curve {
    let places = Seam::places(stretch, ROUND);
    let lifted = |place: &f64| seam.at(*place) + Vec3::new(0.0, 0.0, 0.02);
    let points: Vec<Vec3> = places.iter().map(lifted).collect();
    let normals = vec![Vec3::new(0.0, 0.0, 1.0); points.len()];
    Curve::new(points, normals, LineKind::Stitch).tagged(super::part::SEAM_LINE)
}

/// A scene turned round the y axis by `angle`, the heel up, about `origin`, then moved by `way`.
pub(super) fn tilted(mut scene: Scene, angle: f64, origin: Vec3, way: Vec3) -> Scene {
    let (sin, cos) = angle.sin_cos();
    let turn = |v: Vec3| Vec3::new(v.x * cos + v.z * sin, v.y, v.z * cos - v.x * sin);
    let vectors = |scene: &mut Scene, turned: &dyn Fn(Vec3) -> Vec3, normals: bool| {
        for mesh in &mut scene.meshes {
            let list = if normals {
                &mut mesh.normals
            } else {
                &mut mesh.vertices
            };
            list.iter_mut().for_each(|v| *v = turned(*v));
        }
        for curve in &mut scene.curves {
            let list = if normals {
                &mut curve.normals
            } else {
                &mut curve.points
            };
            list.iter_mut().for_each(|v| *v = turned(*v));
        }
    };
    vectors(&mut scene, &turn, true);
    vectors(&mut scene, &|v| origin + turn(v - origin) + way, false);
    scene
}
