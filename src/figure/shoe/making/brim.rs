//! The upper's allowance along the sole: laid out on the sole's allowance, rippled where the ease
//! sits, or hanging where there is no sole yet. What stands on it: cut edge, notches, stitches, pins.
//! Millimetres, the foot's axes; depth as a share of the allowance, from the seam line outwards.

use super::part;
use super::seam::{Mark, Seam};
use crate::figure::drawing::{
    Camera, Curve, Face, LineKind, Mesh, Scene, Tag, net_triangles, vertex_normals,
};
use crate::geometry::space::Vec3;
use std::f64::consts::TAU;

/// Points along the whole brim, rows from the seam line to the cut edge.
const ALONG: usize = 420;
const ROWS: usize = 6;

/// The brim stands off the sole by this share of the allowance at its cut edge, and the ripple of
/// the fullness by this more; its waves are this long, as a share of the foot's length.
const RISE: f64 = 0.085;
pub(super) const RIPPLE: f64 = 0.12;
pub(super) const WAVE: f64 = 0.052;

/// How far over the sole it begins.
const OVER: f64 = 0.03;

/// Shares of the allowance: half width and depth of a notch, how far apart the two of a pair are.
const NOTCH: [f64; 2] = [0.22, 0.45];

/// The line across the seam line at the middle of something: from inside it to outside, shares of the
/// allowance.
const CENTRE: [f64; 2] = [-0.33, 0.13];
const PAIR: f64 = 0.34;

/// Where a pin is seen before it goes into the cloth, and where after it comes out.
const SHAFT: [[f64; 2]; 2] = [[0.15, 0.42], [0.62, 1.75]];

/// Radius of a pin's head on paper, in a figure 120 mm wide.
pub(super) const HEAD: f64 = 0.75;

/// Pins whose seam faces away from the viewer by more than this are left out whole.
const BEHIND: f64 = -0.25;

/// The brim.
#[derive(Debug, Clone, Copy)]
pub(super) struct Brim<'a> {
    pub(super) seam: Seam<'a>,
    /// Its width, mm.
    pub(super) allowance: f64,
    /// Length of the foot, mm.
    pub(super) length: f64,
    /// How steeply it falls outwards, radians; 0 where it lies on a sole.
    pub(super) falls: f64,
    /// How much of the fullness shows: 1 where it lies on a sole.
    pub(super) rippled: f64,
    /// Whether it is the allowance of the sole itself.
    pub(super) of_sole: bool,
}

/// The brim at one place of the seam.
struct Across<'a> {
    brim: &'a Brim<'a>,
    at: Vec3,
    outward: Vec3,
    /// How far the fullness stands up here, as a share of the ripple.
    full: f64,
    /// Sine and cosine of the angle at which it falls.
    leans: (f64, f64),
}

/// How far out on the brim something lies.
#[derive(Clone, Copy)]
struct Depth {
    depth: f64,
    inside: f64,
    /// How much of the ripple stands up there.
    bulge: f64,
}

impl Depth {
    fn of(depth: f64) -> Self {
        let inside = depth.clamp(0.0, 1.0);
        Self {
            depth,
            inside,
            bulge: inside.powf(1.3),
        }
    }
}

impl Across<'_> {
    fn point(
        &self,
        Depth {
            depth,
            inside,
            bulge,
        }: Depth,
    ) -> Vec3 {
        let brim = self.brim;
        let rise = RISE * inside + RIPPLE * self.full * bulge;
        let (sin, cos) = self.leans;
        let out = depth * cos + rise * sin;
        let up = rise * cos - depth * sin;
        self.at
            + self.outward * (out * brim.allowance)
            + Vec3::new(0.0, 0.0, OVER + up * brim.allowance)
    }
}

impl Brim<'_> {
    /// A point of the brim.
    pub(super) fn point(&self, place: f64, depth: f64) -> Vec3 {
        self.across(place).point(Depth::of(depth))
    }

    /// The brim at one place of the seam, from the seam line outwards.
    fn across(&self, place: f64) -> Across<'_> {
        let wave = 0.5 + 0.5 * (TAU * place / (WAVE * self.length)).cos();
        Across {
            brim: self,
            at: self.seam.at(place),
            outward: self.seam.outward(place),
            full: self.rippled * self.seam.fullness(place) * wave,
            leans: self.falls.sin_cos(),
        }
    }

    /// The direction out of its upper face.
    pub(super) fn up(&self, place: f64, depth: f64) -> Vec3 {
        let (step, deep) = (0.002 * self.seam.whole(), 0.02);
        let along = self.point(place + step, depth) - self.point(place - step, depth);
        let across = self.across(place);
        let out = across.point(Depth::of(depth + deep)) - across.point(Depth::of(depth - deep));
        let up = out.cross(along).unit();
        if up.z < 0.0 { -up } else { up }
    }

    /// Its cloth between two places, the cut edge with it.
    pub(super) fn cloth(&self, stretch: [f64; 2], round: bool) -> Scene {
        let places = Seam::places(stretch, ALONG);
        let mut vertices = Vec::with_capacity(places.len() * ROWS);
        let rows = (0..ROWS).map(|row| Depth::of(row as f64 / (ROWS - 1) as f64));
        let rows: Vec<Depth> = rows.collect();
        for place in &places {
            let across = self.across(*place);
            vertices.extend(rows.iter().map(|row| across.point(*row)));
        }
        let mut triangles = net_triangles(places.len(), ROWS, false);
        let mut normals = vertex_normals(&vertices, &triangles, 0);
        if normals.iter().map(|n| n.z).sum::<f64>() < 0.0 {
            triangles.iter_mut().for_each(|t| t.swap(1, 2));
            normals.iter_mut().for_each(|n| *n = -*n);
        }
        let edge = (0..places.len()).map(|i| i * ROWS + ROWS - 1);
        let (points, out): (Vec<Vec3>, Vec<Vec3>) = edge
            .zip(&places)
            .map(|(i, place)| {
                // A hanging edge is seen from both sides: only its own plane leads out of it.
                let on = (vertices[i] - vertices[i - 1]).unit();
                let lying = self.seam.outward(*place) * 0.5 + normals[i];
                (vertices[i], if self.falls > 0.0 { on } else { lying })
            })
            .unzip();
        let mut edge = Curve::new(points, out, LineKind::Edge).tagged(part::CUT_EDGE);
        edge.closed = round;
        Scene {
            meshes: vec![Mesh {
                vertices,
                normals,
                triangles,
                faces: Some([Face::Wrong, Face::Right]),
                ..Mesh::default()
            }],
            curves: vec![edge],
        }
    }

    /// A line along the brim at one depth.
    pub(super) fn line(&self, stretch: [f64; 2], depth: f64, kind: LineKind, tag: Tag) -> Curve {
        let places = Seam::places(stretch, ALONG);
        let lifted = |place: &f64| {
            let up = self.up(*place, depth);
            (self.point(*place, depth) + up * 0.06, up)
        };
        let (points, normals) = places.iter().map(lifted).unzip();
        Curve::new(points, normals, kind).tagged(tag)
    }

    /// A mark on its cut edge.
    pub(super) fn mark(&self, place: f64, mark: Mark) -> Vec<Curve> {
        let side = NOTCH[0] * self.allowance;
        let spot =
            |off: f64, depth: f64| self.point(place + off, depth) + self.up(place, depth) * 0.08;
        let line = |points: Vec<Vec3>| {
            let normals = vec![self.up(place, 1.0 - NOTCH[1]); points.len()];
            Curve::new(points, normals, LineKind::Detail).tagged(part::NOTCH)
        };
        let notch = |off: f64| {
            let (deep, half) = (1.0 - NOTCH[1], side);
            line(vec![
                spot(off - half, 1.0),
                spot(off, deep),
                spot(off + half, 1.0),
            ])
        };
        let apart = PAIR * self.allowance;
        match mark {
            // as on the plates: a notch, and a line across the seam line, which in a ring is a crease
            Mark::Centre if self.of_sole => {
                let across = CENTRE.map(|depth| spot(0.0, depth)).to_vec();
                vec![notch(0.0), line(across)]
            }
            Mark::Centre => vec![notch(0.0)],
            Mark::Single => vec![notch(0.0)],
            Mark::Double => vec![notch(-apart), notch(apart)],
        }
    }

    /// A pin across the seam with its head outside; none if its seam faces away from the viewer.
    pub(super) fn pin(
        &self,
        place: f64,
        camera: &Camera,
        toward: Vec3,
        factor: f64,
    ) -> Option<Scene> {
        if self.seam.outward(place).dot(toward) < BEHIND {
            return None;
        }
        let mut scene = Scene::default();
        for [from, to] in SHAFT {
            let spot = |i: usize| {
                let depth = from + (to - from) * i as f64 / 11.0;
                self.point(place, depth) + Vec3::new(0.0, 0.0, 0.25)
            };
            let up = self.up(place, from.min(0.9)) + Vec3::new(0.0, 0.0, 0.6);
            let shaft = Curve::new((0..12).map(spot).collect(), vec![up; 12], LineKind::Detail);
            scene.curves.push(shaft.tagged(part::PIN));
        }
        let middle = self.point(place, SHAFT[1][1]) + Vec3::new(0.0, 0.0, 0.25);
        scene.add(head(middle, HEAD * factor / camera.scale, toward));
        Some(scene)
    }
}

/// The round head of a pin that faces the viewer.
pub(super) fn head(middle: Vec3, radius: f64, toward: Vec3) -> Scene {
    let across = toward.cross(Vec3::new(0.0, 0.0, 1.0)).unit();
    let up = across.cross(toward);
    let around = |i: usize| {
        let angle = TAU * i as f64 / 24.0;
        middle + (across * angle.cos() + up * angle.sin()) * radius
    };
    let points: Vec<Vec3> = (0..=24).map(|i| around(i) + toward * 0.3).collect();
    let mut vertices = vec![middle + toward * 0.25];
    vertices.extend((0..24).map(around));
    let disc = Mesh {
        normals: vec![toward; vertices.len()],
        vertices,
        triangles: (0..24).map(|i| [0, 1 + i, 1 + (i + 1) % 24]).collect(),
        faces: Some([Face::Right; 2]),
        ..Mesh::default()
    };
    let ring = Curve::new(points, vec![toward; 25], LineKind::Detail);
    Scene {
        meshes: vec![disc],
        curves: vec![ring.closed().tagged(part::PIN_HEAD)],
    }
}
