//! What is seen at each small square of a drawing: which face of which cloth, or paper. Millimetres
//! on paper.

use super::occluders::{Occluders, greater, lesser};
use super::scene::{Face, Scene};
use super::view::Camera;
use super::visible::LEAST_STRIP;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// Side of the squares: this share of the drawing's width within these bounds, so that large drawings are
/// no dearer than they must be.
const PIXELS: f64 = 1.0 / 250.0;
const PIXEL: [f64; 2] = [0.15, 0.4];

/// A hole through which paper shows must have room for a square that reaches this far to each side of
/// its middle square; through narrower ones no contour is drawn, for it would close to a blot.
const ROOM: f64 = 0.6;

/// What is seen at each square; 0 is paper. The camera's margin leaves paper all round.
pub(super) struct Picture {
    pub(super) columns: usize,
    pub(super) rows: usize,
    /// Side of the squares.
    pub(super) pixel: f64,
    pub(super) seen: Vec<u8>,
    /// Whether paper shows through a hole wide enough, or beside the figure.
    open: Vec<bool>,
}

/// The number that stands for a face.
pub(super) fn code(face: Face) -> u8 {
    1 + face as u8
}

/// The bits of a key that hold a face's code; what they take from a depth is less than a thousandth of
/// a millimetre.
const CODES: i32 = 7;

/// Depth and code in one number: of two keys the greater is the nearer, since positive numbers in single
/// precision are ordered as their bits are (IEEE 754).
fn key(depth: f32, code: u8) -> i32 {
    (depth.max(0.0).to_bits() as i32 & !CODES) | i32::from(code)
}

impl Picture {
    /// Every square shows the nearest triangle over its middle.
    pub(super) fn new(scene: &Scene, occluders: &Occluders, camera: &Camera) -> Self {
        let pixel = (camera.width * PIXELS).clamp(PIXEL[0], PIXEL[1]);
        let count = |extent: f64| (extent / pixel).ceil().max(1.0) as usize + 1;
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
            pixel,
            seen: Vec::new(),
            open: Vec::new(),
        };
        let mut nearest = vec![0; columns * rows];
        let lowest = occluders.points.iter().map(|p| p.z).fold(0.0, lesser);
        let on_squares = |p: &Vec3| [p.x / pixel, p.y / pixel, p.z - lowest + 1.0];
        let points: Vec<[f64; 3]> = occluders.points.iter().map(on_squares).collect();
        for triangle in &occluders.triangles {
            let [outside, inside] = codes[triangle.mesh as usize];
            let code = if triangle.outside { outside } else { inside };
            let corners = triangle.corners.map(|i| points[i as usize]);
            picture.paint(corners, code, &mut nearest);
        }
        picture.seen = nearest.iter().map(|key| (key & CODES) as u8).collect();
        picture.open = picture.open_paper();
        picture
    }

    /// Paints a triangle, row by row, wherever it is nearer than what is there. Its depths are above 0.
    fn paint(&self, corners: [[f64; 3]; 3], code: u8, nearest: &mut [i32]) {
        let [a, b, c] = corners;
        let least = |axis: usize| lesser(lesser(a[axis], b[axis]), c[axis]);
        let most = |axis: usize| greater(greater(a[axis], b[axis]), c[axis]);
        let (low, high) = (up(least(1)).max(0), down(most(1)).min(self.rows as i64 - 1));
        // Many a triangle lies between the squares' middles.
        if low > high || up(least(0)) > down(most(0)) {
            return;
        }
        let area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        let (u, v) = (b[2] - a[2], c[2] - a[2]);
        let across = (u * (c[1] - a[1]) - v * (b[1] - a[1])) / area;
        let below = (v * (b[0] - a[0]) - u * (c[0] - a[0])) / area;
        if !(across.is_finite() && below.is_finite()) {
            return;
        }
        let (sides, step) = (Sides::new(corners), across as f32);
        for row in low..=high {
            let y = row as f64;
            let (left, right) = sides.crossed(y);
            let (first, last) = (up(left).max(0), down(right).min(self.columns as i64 - 1));
            if left > right || last < 0 || first > last {
                continue;
            }
            let start = row as usize * self.columns;
            let depth = (a[2] + (first as f64 - a[0]) * across + (y - a[1]) * below) as f32;
            let squares = &mut nearest[start + first as usize..=start + last as usize];
            for (column, square) in squares.iter_mut().enumerate() {
                let key = key(depth + step * column as f32, code);
                if key > *square {
                    *square = key;
                }
            }
        }
    }

    /// Whether paper wide enough for a contour shows at a point at which no triangle lies.
    pub(super) fn is_open(&self, point: Point) -> bool {
        let near = |v: f64| (v / self.pixel).round() as i64;
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
        let (columns, count) = (self.columns, open.len());
        // those that border on narrower paper
        let mut next: Vec<usize> = (0..count).filter(|i| open[*i]).collect();
        let narrow = |there: usize| there < count && !open[there] && self.seen[there] == 0;
        next.retain(|i| {
            let beside = [
                i.wrapping_sub(1),
                i + 1,
                i.wrapping_sub(columns),
                i + columns,
            ];
            beside.into_iter().any(narrow)
        });
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

    /// Squares with [`ROOM`] for a square of paper round them; beyond the picture's
    /// border all is paper.
    fn wide_paper(&self) -> Vec<bool> {
        let (columns, rows) = (self.columns, self.rows);
        let reach = (ROOM / self.pixel).round() as usize;
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

/// The least whole number that is not below `value`.
fn up(value: f64) -> i64 {
    let whole = value as i64;
    whole + i64::from((whole as f64) < value)
}

/// The greatest whole number that is not above `value`.
fn down(value: f64) -> i64 {
    let whole = value as i64;
    whole - i64::from(whole as f64 > value)
}

/// A triangle's corners from top to bottom, in squares.
struct Sides {
    top: [f64; 3],
    middle: [f64; 3],
    bottom: [f64; 3],
}

impl Sides {
    fn new([a, b, c]: [[f64; 3]; 3]) -> Self {
        let sorted = |p: [f64; 3], q: [f64; 3]| if p[1] <= q[1] { (p, q) } else { (q, p) };
        let (a, b) = sorted(a, b);
        let (b, bottom) = sorted(b, c);
        let (top, middle) = sorted(a, b);
        Self {
            top,
            middle,
            bottom,
        }
    }

    /// From where to where a row at `y` runs through the triangle; the other way round if it misses
    /// it.
    fn crossed(&self, y: f64) -> (f64, f64) {
        let Self {
            top,
            middle,
            bottom,
        } = *self;
        let at = |p: [f64; 3], q: [f64; 3]| p[0] + (y - p[1]) / (q[1] - p[1]) * (q[0] - p[0]);
        let corner = y == top[1] || y == middle[1] || y == bottom[1];
        if !corner && top[1] < y && y < bottom[1] {
            let long = at(top, bottom);
            let short = if y < middle[1] {
                at(top, middle)
            } else {
                at(middle, bottom)
            };
            return (lesser(long, short), greater(long, short));
        }
        let (mut left, mut right) = (f64::INFINITY, f64::NEG_INFINITY);
        for (p, q) in [(top, middle), (middle, bottom), (top, bottom)] {
            if p[1] <= y && y <= q[1] {
                let ends = if p[1] < q[1] {
                    [at(p, q); 2]
                } else {
                    [p[0], q[0]]
                };
                left = left.min(ends[0].min(ends[1]));
                right = right.max(ends[0].max(ends[1]));
            }
        }
        (left, right)
    }
}
