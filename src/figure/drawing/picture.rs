//! What is seen at each small square of a drawing: which face of which cloth, or paper. Millimetres
//! on paper.

use super::occluders::Occluders;
use super::scene::{Face, Scene};
use super::view::Camera;
use super::visible::LEAST_STRIP;
use kurbo::Point;

/// Side of the squares.
pub(super) const PIXEL: f64 = 0.2;

/// A hole through which paper shows must have room for a square of this many squares to each side
/// of its middle; through narrower ones no contour is drawn, for it would close to a blot.
const ROOM: u8 = 4;

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
        for triangle in &occluders.triangles {
            let [outside, inside] = codes[triangle.mesh];
            let code = if triangle.area < 0.0 { outside } else { inside };
            picture.paint(
                triangle.corners.map(|c| [c.x / PIXEL, c.y / PIXEL, c.z]),
                code,
                &mut depths,
            );
        }
        picture.open = picture.open_paper();
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
        let room = self.room();
        let mut open = vec![false; self.seen.len()];
        let mut next: Vec<usize> = (0..room.len()).filter(|i| room[*i] >= ROOM).collect();
        while let Some(here) = next.pop() {
            if open[here] || self.seen[here] != 0 {
                continue;
            }
            open[here] = true;
            let (column, row) = (here % self.columns, here / self.columns);
            if column > 0 {
                next.push(here - 1);
            }
            if column + 1 < self.columns {
                next.push(here + 1);
            }
            if row > 0 {
                next.push(here - self.columns);
            }
            if row + 1 < self.rows {
                next.push(here + self.columns);
            }
        }
        open
    }

    /// How many squares lie between each square of paper and the figure, counted to [`ROOM`], in
    /// steps along rows, columns and diagonals (distance transform in two passes, Rosenfeld & Pfaltz
    /// 1966).
    fn room(&self) -> Vec<u8> {
        let (columns, rows) = (self.columns as i64, self.rows as i64);
        let paper = self.seen.iter().map(|s| if *s == 0 { ROOM } else { 0 });
        let mut room: Vec<u8> = paper.collect();
        let pass = |room: &mut Vec<u8>, number: i64, before: [[i64; 2]; 4]| {
            let (column, row) = (number % columns, number / columns);
            let neighbours = before.into_iter().filter_map(|[across, down]| {
                let (column, row) = (column + across, row + down);
                let inside = column >= 0 && row >= 0 && column < columns && row < rows;
                inside.then_some((row * columns + column) as usize)
            });
            let least = neighbours.map(|i| room[i]).min().unwrap_or(ROOM);
            let here = &mut room[number as usize];
            *here = (*here).min(least + 1);
        };
        let count = columns * rows;
        for number in 0..count {
            pass(&mut room, number, [[-1, 0], [-1, -1], [0, -1], [1, -1]]);
        }
        for number in (0..count).rev() {
            pass(&mut room, number, [[1, 0], [1, 1], [0, 1], [-1, 1]]);
        }
        room
    }
}
