//! Which face of which cloth is seen where: regions of the drawing under its lines. Millimetres on
//! paper.

use super::bezier::{Fit, fitted};
use super::occluders::Occluders;
use super::polyline::{resampled, smoothed};
use super::scene::{Face, Scene};
use super::view::Camera;
use super::visible::LEAST_STRIP;
use kurbo::{BezPath, Point, Shape};
use std::collections::BTreeMap;

/// Side of the squares in which faces are told apart.
const PIXEL: f64 = 0.2;

/// Deviation of the Gaussian that rounds the squares' stairs.
const SMOOTH: f64 = 0.2;

/// Regions smaller than this, square mm, are left out.
const LEAST_AREA: f64 = 0.25;

/// How far a region's outline may lie from the smoothed stairs.
const TOLERANCE: f64 = 0.05;

/// Where a face is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// The face.
    pub face: Face,
    /// Its outlines; what lies in an even number of them is outside.
    pub path: BezPath,
}

/// The faces seen, and the silhouette of all.
pub(super) struct Regions {
    pub(super) silhouette: BezPath,
    pub(super) faces: Vec<Region>,
}

/// What is seen at each square; 0 is paper. The camera's margin leaves paper all round.
struct Picture {
    columns: usize,
    rows: usize,
    seen: Vec<u8>,
}

const FACES: [Face; 5] = [
    Face::Right,
    Face::Wrong,
    Face::Lining,
    Face::Insole,
    Face::Stiffener,
];

fn code(face: Face) -> u8 {
    1 + face as u8
}

/// The regions of a scene.
pub(super) fn regions(scene: &Scene, occluders: &Occluders, camera: &Camera) -> Regions {
    let picture = Picture::new(scene, occluders, camera);
    let mut steps = picture.steps();
    let faces = FACES.into_iter().filter_map(|face| {
        let path = outlines(std::mem::take(&mut steps[code(face) as usize]));
        (!path.elements().is_empty()).then_some(Region { face, path })
    });
    let faces = faces.collect();
    Regions {
        silhouette: outlines(std::mem::take(&mut steps[ANYTHING])),
        faces,
    }
}

/// For each face's code, and for anything at all, from which side of a square to which an outline
/// runs.
type Steps = BTreeMap<(u32, u32), (u32, u32)>;

/// Where the steps of the silhouette stand: at the code of paper, which has no outline of its own.
const ANYTHING: usize = 0;

impl Picture {
    /// Every square shows the nearest triangle over its middle.
    fn new(scene: &Scene, occluders: &Occluders, camera: &Camera) -> Self {
        let count = |extent: f64| (extent / PIXEL).ceil().max(1.0) as usize + 1;
        let (columns, rows) = (count(camera.width), count(camera.height));
        let codes: Vec<[u8; 2]> = scene
            .meshes
            .iter()
            .map(|mesh| {
                let strip = mesh.strip.filter(|s| s.width * camera.scale < LEAST_STRIP);
                let faces = match strip {
                    Some(strip) => [strip.face; 2],
                    None => mesh.faces.unwrap_or([Face::Right; 2]),
                };
                faces.map(code)
            })
            .collect();
        let mut picture = Self {
            columns,
            rows,
            seen: vec![0; columns * rows],
        };
        let mut depths = vec![f64::NEG_INFINITY; columns * rows];
        for triangle in &occluders.triangles {
            let [outside, inside] = codes[triangle.mesh];
            let code = if triangle.area < 0.0 { outside } else { inside };
            picture.paint(
                triangle.corners.map(|c| [c.x / PIXEL, c.y / PIXEL, c.z]),
                code,
                &mut depths,
            );
        }
        picture
    }

    /// Paints a triangle, row by row, wherever it is nearer than what is there.
    fn paint(&mut self, corners: [[f64; 3]; 3], code: u8, depths: &mut [f64]) {
        let [a, b, c] = corners;
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        let slope = |k: usize| {
            let (u, v) = (b[2] - a[2], c[2] - a[2]);
            if k == 0 {
                (u * (c[1] - a[1]) - v * (b[1] - a[1])) / area
            } else {
                (v * (b[0] - a[0]) - u * (c[0] - a[0])) / area
            }
        };
        let (across, down) = (slope(0), slope(1));
        let low = a[1].min(b[1]).min(c[1]).ceil().max(0.0);
        let high = a[1].max(b[1]).max(c[1]).floor().min((self.rows - 1) as f64);
        let mut y = low;
        while y <= high {
            let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
            for (p, q) in [(a, b), (b, c), (c, a)] {
                let (top, bottom) = if p[1] <= q[1] { (p, q) } else { (q, p) };
                if y < top[1] || y > bottom[1] {
                    continue;
                }
                let span = bottom[1] - top[1];
                let share = if span > 0.0 { (y - top[1]) / span } else { 0.0 };
                let x = top[0] + share * (bottom[0] - top[0]);
                let other = if span > 0.0 { x } else { bottom[0] };
                left = left.min(x.min(other));
                right = right.max(x.max(other));
            }
            let first = left.ceil().max(0.0) as usize;
            let last = right.floor().min((self.columns - 1) as f64);
            if left <= right && last >= 0.0 {
                for column in first..=last as usize {
                    let depth = a[2] + (column as f64 - a[0]) * across + (y - a[1]) * down;
                    let cell = y as usize * self.columns + column;
                    if depth > depths[cell] {
                        depths[cell] = depth;
                        self.seen[cell] = code;
                    }
                }
            }
            y += 1.0;
        }
    }

    /// Steps of the outlines of all faces but the right side, and of anything seen: through the
    /// middles between neighbouring squares' middles (marching squares). Each keeps the inside at
    /// its right hand.
    fn steps(&self) -> [Steps; FACES.len() + 1] {
        let mut steps: [Steps; FACES.len() + 1] = std::array::from_fn(|_| Steps::new());
        for row in 0..self.rows - 1 {
            for column in 0..self.columns - 1 {
                let here = row * self.columns + column;
                let below = here + self.columns;
                let corners = [here, here + 1, below + 1, below].map(|i| self.seen[i]);
                if corners.iter().all(|c| *c == corners[0]) {
                    continue;
                }
                let mut walk = |code: usize, inside: [bool; 4]| {
                    for [from, to] in crossings(inside) {
                        steps[code].insert(side(column, row, from), side(column, row, to));
                    }
                };
                walk(ANYTHING, corners.map(|c| c != 0));
                for face in FACES.into_iter().filter(|face| *face != Face::Right) {
                    walk(code(face) as usize, corners.map(|c| c == code(face)));
                }
            }
        }
        steps
    }
}

/// Smoothed outlines from steps.
fn outlines(mut steps: Steps) -> BezPath {
    let mut path = BezPath::new();
    while let Some((start, mut here)) = steps.pop_first() {
        let mut ring = vec![middle(start)];
        while here != start {
            ring.push(middle(here));
            match steps.remove(&here) {
                Some(there) => here = there,
                None => break,
            }
        }
        ring.push(middle(start));
        let outline = BezPath::from_vec(super::polygon(&ring));
        if outline.area().abs() < LEAST_AREA {
            continue;
        }
        let even = resampled(&ring, PIXEL);
        let smooth = smoothed(&even, SMOOTH, PIXEL, true);
        path.extend(fitted(
            &smooth,
            Fit {
                tolerance: TOLERANCE,
                step: PIXEL,
                closed: true,
                corners: true,
            },
        ));
    }
    path
}

/// From which to which side (top, right, bottom, left) the outline runs through a cell with these
/// corners inside (upper left, upper right, lower right, lower left).
fn crossings(corners: [bool; 4]) -> impl Iterator<Item = [usize; 2]> {
    // Side i lies between corner i and corner i + 1; the outline enters through a side whose second
    // corner alone is inside and leaves by the next whose first corner alone is.
    let enters = (0..4).filter(move |i| !corners[*i] && corners[(*i + 1) % 4]);
    enters.filter_map(move |from| {
        let mut after = (1..4).map(|step| (from + step) % 4);
        let to = after.find(|i| corners[*i] && !corners[(*i + 1) % 4]);
        to.map(|to| [from, to])
    })
}

/// The side of a cell as twice the coordinates of its middle.
fn side(column: usize, row: usize, side: usize) -> (u32, u32) {
    let (x, y) = (2 * column as u32, 2 * row as u32);
    match side {
        0 => (x + 1, y),
        1 => (x + 2, y + 1),
        2 => (x + 1, y + 2),
        _ => (x, y + 1),
    }
}

fn middle(side: (u32, u32)) -> Point {
    let half = |v: u32| f64::from(v) * 0.5 * PIXEL;
    Point::new(half(side.0), half(side.1))
}
