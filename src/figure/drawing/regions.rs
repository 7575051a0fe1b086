//! Which face of which cloth is seen where: regions of the drawing under its lines. Millimetres on
//! paper.

use super::picture::{Picture, code};
use super::polyline::{resampled, smoothed, thinned};
use super::scene::Face;
use kurbo::{BezPath, Point, Shape};
use std::collections::BTreeMap;

/// Deviation of the Gaussian that rounds the squares' stairs, in squares.
const SMOOTH: f64 = 1.0;

/// Regions smaller than this, square mm, are left out.
const LEAST_AREA: f64 = 0.25;

/// How far a region's outline of straight lines may lie from the smoothed stairs: less than half the width
/// of the line that is drawn over it.
const TOLERANCE: f64 = 0.04;

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

const FACES: [Face; 5] = [
    Face::Right,
    Face::Wrong,
    Face::Lining,
    Face::Insole,
    Face::Stiffener,
];

/// The regions of a picture.
pub(super) fn regions(picture: &Picture) -> Regions {
    let mut steps = picture.steps();
    let faces = FACES.into_iter().filter_map(|face| {
        let path = outlines(
            std::mem::take(&mut steps[code(face) as usize]),
            picture.pixel,
        );
        (!path.elements().is_empty()).then_some(Region { face, path })
    });
    let faces = faces.collect();
    Regions {
        silhouette: outlines(std::mem::take(&mut steps[ANYTHING]), picture.pixel),
        faces,
    }
}

/// For each face's code, and for anything at all, from which side of a square to which an outline
/// runs.
type Steps = BTreeMap<(u32, u32), (u32, u32)>;

/// Where the steps of the silhouette stand: at the code of paper, which has no outline of its own.
const ANYTHING: usize = 0;

impl Picture {
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
fn outlines(mut steps: Steps, pixel: f64) -> BezPath {
    let mut path = BezPath::new();
    while let Some((start, mut here)) = steps.pop_first() {
        let mut ring = vec![middle(start, pixel)];
        while here != start {
            ring.push(middle(here, pixel));
            match steps.remove(&here) {
                Some(there) => here = there,
                None => break,
            }
        }
        ring.push(middle(start, pixel));
        let outline = BezPath::from_vec(super::polygon(&ring));
        if outline.area().abs() < LEAST_AREA {
            continue;
        }
        let even = resampled(&ring, pixel);
        let smooth = smoothed(&even, SMOOTH * pixel, pixel, true);
        path.extend(super::polygon(&thinned(&smooth, TOLERANCE)));
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

fn middle(side: (u32, u32), pixel: f64) -> Point {
    let half = |v: u32| f64::from(v) * 0.5 * pixel;
    Point::new(half(side.0), half(side.1))
}
