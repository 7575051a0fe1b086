//! All triangles of a scene as they lie on paper, in a uniform grid: what hides a point, what covers
//! it. Millimetres on paper.

use super::scene::Scene;
use super::view::Camera;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// Width of the grid's cells, about that of a triangle at the size of a figure: smaller and each
/// triangle lies in many cells, larger and each cell holds many triangles.
const CELL: f64 = 0.8;

/// Slack of the test whether a point lies in a triangle, as a share of it.
const SLACK: f64 = 1e-9;

/// By how much boxes are larger than their triangles: more than the rounding of single precision at
/// the size of any drawing, so that no triangle is missed.
const LOOSE: f64 = 1e-3;

/// A triangle on paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flat {
    /// Numbers of its corners in [`Occluders::points`].
    pub(super) corners: [u32; 3],
    /// Number of its mesh.
    pub(super) mesh: u32,
    /// Whether its outside is seen.
    pub(super) outside: bool,
}

/// What a triangle does not reach beyond: small, so that most triangles are done with quickly.
#[derive(Debug, Clone, Copy)]
struct Reach {
    low: [f32; 2],
    high: [f32; 2],
    nearest: f32,
}

impl Reach {
    fn of([a, b, c]: [Vec3; 3]) -> Self {
        let least = |a: f64, b: f64, c: f64| (lesser(lesser(a, b), c) - LOOSE) as f32;
        let most = |a: f64, b: f64, c: f64| (greater(greater(a, b), c) + LOOSE) as f32;
        Self {
            low: [least(a.x, b.x, c.x), least(a.y, b.y, c.y)],
            high: [most(a.x, b.x, c.x), most(a.y, b.y, c.y)],
            nearest: most(a.z, b.z, c.z),
        }
    }

    fn holds(&self, x: f32, y: f32) -> bool {
        let [left, top] = self.low;
        let [right, bottom] = self.high;
        (left <= x) & (x <= right) & (top <= y) & (y <= bottom)
    }
}

/// The lesser of two numbers; quicker than [`f64::min`], which minds what is no number.
#[inline]
pub(super) fn lesser(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

/// The greater of two numbers.
#[inline]
pub(super) fn greater(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// Twice the signed area of a triangle; negative if its outside is seen, y pointing down.
fn area([a, b, c]: [Vec3; 3]) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y)
}

/// Depth of a triangle at a point, if it lies there.
fn depth_at(corners: [Vec3; 3], x: f64, y: f64) -> Option<f64> {
    let ([a, b, c], area) = (corners, area(corners));
    let (dx, dy) = (x - a.x, y - a.y);
    let to_b = (dx * (c.y - a.y) - dy * (c.x - a.x)) / area;
    let to_c = ((b.x - a.x) * dy - (b.y - a.y) * dx) / area;
    let inside = to_b >= -SLACK && to_c >= -SLACK && to_b + to_c <= 1.0 + SLACK;
    inside.then_some(a.z + to_b * (b.z - a.z) + to_c * (c.z - a.z))
}

/// The triangles in their grid.
#[derive(Debug)]
pub(super) struct Occluders {
    pub(super) triangles: Vec<Flat>,
    /// The corners of all meshes, one mesh after the other.
    pub(super) points: Vec<Vec3>,
    reaches: Vec<Reach>,
    columns: usize,
    rows: usize,
    /// Where each cell's numbers begin in `members`.
    starts: Vec<u32>,
    members: Vec<u32>,
}

impl Occluders {
    pub(super) fn new(scene: &Scene, camera: &Camera) -> Self {
        let triangles = scene.meshes.iter().map(|mesh| mesh.triangles.len()).sum();
        // The camera leaves a margin, so that everything lies between 0 and its extent.
        let count = |extent: f64| (extent / CELL).ceil().max(1.0) as usize + 1;
        let mut grid = Self {
            triangles: Vec::with_capacity(triangles),
            points: Vec::new(),
            reaches: Vec::with_capacity(triangles),
            columns: count(camera.width),
            rows: count(camera.height),
            starts: Vec::new(),
            members: Vec::new(),
        };
        for (number, mesh) in scene.meshes.iter().enumerate() {
            let first = grid.points.len() as u32;
            let placed = mesh.vertices.iter().map(|p| camera.place(*p));
            grid.points.extend(placed);
            for triangle in &mesh.triangles {
                let [a, b, c] = *triangle;
                let numbers = [first + a, first + b, first + c];
                let corners = grid.corners(numbers);
                let area = area(corners);
                if area.abs() > 1e-10 {
                    grid.triangles.push(Flat {
                        corners: numbers,
                        mesh: number as u32,
                        outside: area < 0.0,
                    });
                    grid.reaches.push(Reach::of(corners));
                }
            }
        }
        grid.fill();
        grid
    }

    /// Corners with their depth.
    fn corners(&self, [a, b, c]: [u32; 3]) -> [Vec3; 3] {
        let at = |i: u32| self.points[i as usize];
        [at(a), at(b), at(c)]
    }

    /// First and last column and row of a triangle's cells.
    fn span(&self, reach: &Reach) -> [u16; 4] {
        let within = |v: f32, count: usize| cell(f64::from(v)).min(count - 1) as u16;
        [
            within(reach.low[0], self.columns),
            within(reach.high[0], self.columns),
            within(reach.low[1], self.rows),
            within(reach.high[1], self.rows),
        ]
    }

    /// Counting sort of the triangles into their cells.
    fn fill(&mut self) {
        let columns = self.columns;
        let spans: Vec<[u16; 4]> = self.reaches.iter().map(|reach| self.span(reach)).collect();
        let cells = |span: &[u16; 4]| {
            let [left, right, top, bottom] = span.map(usize::from);
            (top..=bottom).map(move |row| row * columns + left..=row * columns + right)
        };
        let mut starts: Vec<u32> = vec![0; columns * self.rows + 1];
        for row in spans.iter().flat_map(cells) {
            let counts = &mut starts[row.start() + 1..=row.end() + 1];
            counts.iter_mut().for_each(|count| *count += 1);
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut members = vec![0; starts[starts.len() - 1] as usize];
        for (number, span) in spans.iter().enumerate() {
            for place in cells(span).flatten() {
                let place = &mut next[place];
                members[*place as usize] = number as u32;
                *place += 1;
            }
        }
        self.starts = starts;
        self.members = members;
    }

    /// Depths of all triangles at a point that may reach nearer than `beyond`.
    fn depths(&self, x: f64, y: f64, beyond: f64) -> impl Iterator<Item = f64> + '_ {
        let (column, row) = (cell(x), cell(y));
        let inside = x >= 0.0 && y >= 0.0 && column < self.columns && row < self.rows;
        let members = if inside {
            let cell = row * self.columns + column;
            &self.members[self.starts[cell] as usize..self.starts[cell + 1] as usize]
        } else {
            &[]
        };
        let (near_x, near_y, near) = (x as f32, y as f32, beyond as f32);
        let reaches = move |reach: &Reach| reach.holds(near_x, near_y) & (reach.nearest >= near);
        let candidates = members
            .iter()
            .filter(move |i| reaches(&self.reaches[**i as usize]));
        candidates
            .filter_map(move |i| depth_at(self.corners(self.triangles[*i as usize].corners), x, y))
    }

    /// Whether a triangle lies more than `tolerance` before `point`.
    pub(super) fn hides(&self, point: Vec3, tolerance: f64) -> bool {
        let mut depths = self.depths(point.x, point.y, point.z + tolerance);
        depths.any(|depth| depth - point.z > tolerance)
    }

    /// Whether any triangle lies at a point.
    pub(super) fn covers(&self, point: Point) -> bool {
        let mut depths = self.depths(point.x, point.y, f64::NEG_INFINITY);
        depths.next().is_some()
    }
}

/// Number of the column or row of cells in which a coordinate lies; those below 0 lie in the first.
fn cell(coordinate: f64) -> usize {
    (coordinate * (1.0 / CELL)).max(0.0) as usize
}
