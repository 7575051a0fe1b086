//! What is seen at each small square of a drawing: which face of which cloth, or paper. Millimetres
//! on paper.

use super::occluders::{Occluders, area};
use super::scene::{Face, Scene};
use super::view::Camera;
use super::visible::LEAST_STRIP;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// Side of the squares.
pub(super) const PIXEL: f64 = 0.2;

/// A hole through which paper shows must have room for a square of this many squares to each side
/// of its middle; through narrower ones no contour is drawn, for it would close to a blot.
const ROOM: usize = 4;

/// What is seen at each square; 0 is paper. The camera's margin leaves paper all round.
pub(super) struct Picture {
    pub(super) columns: usize,
    pub(super) rows: usize,
    pub(super) seen: Vec<u8>,
    /// Whether paper shows through a hole wide enough, or beside the figure.
    open: Vec<bool>,
}

/// The number that stands for a face.
pub(super) fn code(face: Face) -> u8 {
    1 + face as u8
}

impl Picture {
    /// Every square shows the nearest triangle over its middle.
    pub(super) fn new(scene: &Scene, occluders: &Occluders, camera: &Camera) -> Self {
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
            open: Vec::new(),
        };
        let mut depths = vec![f64::NEG_INFINITY; columns * rows];
        let on_squares = |p: &Vec3| [p.x / PIXEL, p.y / PIXEL, p.z];
        let points: Vec<[f64; 3]> = occluders.points.iter().map(on_squares).collect();
        for triangle in &occluders.triangles {
            let [outside, inside] = codes[triangle.mesh as usize];
            let outwards = area(occluders.corners(*triangle)) < 0.0;
            let code = if outwards { outside } else { inside };
            let corners = triangle.corners.map(|i| points[i as usize]);
            picture.paint(corners, code, &mut depths);
        }
        picture.open = picture.open_paper();
        picture
    }

    /// Paints a triangle, row by row, wherever it is nearer than what is there.
    fn paint(&mut self, corners: [[f64; 3]; 3], code: u8, depths: &mut [f64]) {
        let [a, b, c] = corners;
        let low = a[1].min(b[1]).min(c[1]).ceil().max(0.0);
        let high = a[1].max(b[1]).max(c[1]).floor().min((self.rows - 1) as f64);
        let (left, right) = (a[0].min(b[0]).min(c[0]), a[0].max(b[0]).max(c[0]));
        // Many a triangle lies between the squares' middles.
        if low > high || left.ceil() > right.floor() {
            return;
        }
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        let (u, v) = (b[2] - a[2], c[2] - a[2]);
        let across = (u * (c[1] - a[1]) - v * (b[1] - a[1])) / area;
        let down = (v * (b[0] - a[0]) - u * (c[0] - a[0])) / area;
        for row in low as usize..=high as usize {
            let y = row as f64;
            let (left, right) = crossed(corners, y);
            let first = left.ceil().max(0.0) as usize;
            let last = right.floor().min((self.columns - 1) as f64);
            if left > right || last < 0.0 || first > last as usize {
                continue;
            }
            let cells = row * self.columns + first..=row * self.columns + last as usize;
            let squares = depths[cells.clone()].iter_mut().zip(&mut self.seen[cells]);
            for (column, (nearest, seen)) in (first..).zip(squares) {
                let depth = a[2] + (column as f64 - a[0]) * across + (y - a[1]) * down;
                if depth > *nearest {
                    (*nearest, *seen) = (depth, code);
                }
            }
        }
    }

    /// Whether paper wide enough for a contour shows at a point at which no triangle lies.
    pub(super) fn is_open(&self, point: Point) -> bool {
        let near = |v: f64| (v / PIXEL).round() as i64;
        let (column, row) = (near(point.x), near(point.y));
        (row - 1..=row + 1).any(|row| {
            (column - 1..=column + 1).any(|column| {
                let inside = column >= 0 && row >= 0;
                let (column, row) = (column as usize, row as usize);
                let inside = inside && column < self.columns && row < self.rows;
                !inside || self.open[row * self.columns + column]
            })
        })
    }

    /// Paper that hangs together with a place wide enough.
    fn open_paper(&self) -> Vec<bool> {
        let mut open = self.wide_paper();
        let mut next: Vec<usize> = (0..open.len()).filter(|i| open[*i]).collect();
        while let Some(here) = next.pop() {
            let (column, row) = (here % self.columns, here / self.columns);
            let mut reach = |there: usize| {
                if !open[there] && self.seen[there] == 0 {
                    open[there] = true;
                    next.push(there);
                }
            };
            if column > 0 {
                reach(here - 1);
            }
            if column + 1 < self.columns {
                reach(here + 1);
            }
            if row > 0 {
                reach(here - self.columns);
            }
            if row + 1 < self.rows {
                reach(here + self.columns);
            }
        }
        open
    }

    /// Squares with room for a square of [`ROOM`] squares of paper to each side; beyond the picture's
    /// border all is paper.
    fn wide_paper(&self) -> Vec<bool> {
        let (columns, rows) = (self.columns, self.rows);
        let reach = ROOM - 1;
        let mut across = vec![true; columns * rows];
        for (seen, wide) in self.seen.chunks(columns).zip(across.chunks_mut(columns)) {
            for column in (0..columns).filter(|i| seen[*i] != 0) {
                wide[column.saturating_sub(reach)..columns.min(column + reach + 1)].fill(false);
            }
        }
        let mut wide = across.clone();
        for row in 0..rows {
            let here = &mut wide[row * columns..(row + 1) * columns];
            for other in row.saturating_sub(reach)..rows.min(row + reach + 1) {
                let there = &across[other * columns..(other + 1) * columns];
                here.iter_mut()
                    .zip(there)
                    .for_each(|(wide, there)| *wide &= *there);
            }
        }
        wide
    }
}

/// From where to where a row at `y` runs through a triangle; the other way round if it misses it.
fn crossed([a, b, c]: [[f64; 3]; 3], y: f64) -> (f64, f64) {
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
    (left, right)
}
