//! All triangles of a scene as they lie on paper, in a uniform grid: what hides a point, what covers
//! it. Millimetres on paper.

use super::scene::Scene;
use super::view::Camera;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// Width of the grid's cells: some tens of triangles each at the size of a figure.
const CELL: f64 = 1.2;

/// Slack of the test whether a point lies in a triangle, as a share of it.
const SLACK: f64 = 1e-9;

/// A triangle on paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Flat {
    /// Its corners with their depth.
    pub(super) corners: [Vec3; 3],
    /// Twice its signed area; negative if its outside is seen, y pointing down.
    pub(super) area: f64,
    /// Number of its mesh.
    pub(super) mesh: usize,
}

impl Flat {
    /// Depth of the triangle at a point, if it lies there.
    fn depth_at(&self, x: f64, y: f64) -> Option<f64> {
        let [a, b, c] = self.corners;
        let (dx, dy) = (x - a.x, y - a.y);
        let to_b = (dx * (c.y - a.y) - dy * (c.x - a.x)) / self.area;
        let to_c = ((b.x - a.x) * dy - (b.y - a.y) * dx) / self.area;
        let inside = to_b >= -SLACK && to_c >= -SLACK && to_b + to_c <= 1.0 + SLACK;
        inside.then_some(a.z + to_b * (b.z - a.z) + to_c * (c.z - a.z))
    }
}

/// The triangles in their grid.
#[derive(Debug)]
pub(super) struct Occluders {
    pub(super) triangles: Vec<Flat>,
    columns: usize,
    rows: usize,
    /// Where each cell's numbers begin in `members`.
    starts: Vec<usize>,
    members: Vec<u32>,
}

impl Occluders {
    pub(super) fn new(scene: &Scene, camera: &Camera) -> Self {
        let mut triangles = Vec::new();
        for (number, mesh) in scene.meshes.iter().enumerate() {
            let placed: Vec<Vec3> = mesh.vertices.iter().map(|p| camera.place(*p)).collect();
            for triangle in &mesh.triangles {
                let [a, b, c] = triangle.map(|i| placed[i as usize]);
                let area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
                if area.abs() > 1e-10 {
                    triangles.push(Flat {
                        corners: [a, b, c],
                        area,
                        mesh: number,
                    });
                }
            }
        }
        // The camera leaves a margin, so that everything lies between 0 and its extent.
        let count = |extent: f64| (extent / CELL).ceil().max(1.0) as usize + 1;
        let mut grid = Self {
            triangles,
            columns: count(camera.width),
            rows: count(camera.height),
            starts: Vec::new(),
            members: Vec::new(),
        };
        grid.fill();
        grid
    }

    /// First and last column and row of a triangle's cells.
    fn span(&self, triangle: &Flat) -> [usize; 4] {
        let [a, b, c] = triangle.corners;
        let cell = |v: f64, count: usize| ((v / CELL).max(0.0) as usize).min(count - 1);
        [
            cell(a.x.min(b.x).min(c.x), self.columns),
            cell(a.x.max(b.x).max(c.x), self.columns),
            cell(a.y.min(b.y).min(c.y), self.rows),
            cell(a.y.max(b.y).max(c.y), self.rows),
        ]
    }

    /// Counting sort of the triangles into their cells.
    fn fill(&mut self) {
        let mut starts = vec![0; self.columns * self.rows + 1];
        for triangle in &self.triangles {
            let [left, right, top, bottom] = self.span(triangle);
            for row in top..=bottom {
                for column in left..=right {
                    starts[row * self.columns + column + 1] += 1;
                }
            }
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut next = starts.clone();
        let mut members = vec![0; starts[starts.len() - 1]];
        for (number, triangle) in self.triangles.iter().enumerate() {
            let [left, right, top, bottom] = self.span(triangle);
            for row in top..=bottom {
                for column in left..=right {
                    let place = &mut next[row * self.columns + column];
                    members[*place] = number as u32;
                    *place += 1;
                }
            }
        }
        self.starts = starts;
        self.members = members;
    }

    /// Depths of all triangles at a point.
    fn depths(&self, x: f64, y: f64) -> impl Iterator<Item = f64> + '_ {
        let inside = x >= 0.0 && y >= 0.0;
        let (column, row) = ((x / CELL) as usize, (y / CELL) as usize);
        let members = if inside && column < self.columns && row < self.rows {
            let cell = row * self.columns + column;
            &self.members[self.starts[cell]..self.starts[cell + 1]]
        } else {
            &[]
        };
        members
            .iter()
            .filter_map(move |i| self.triangles[*i as usize].depth_at(x, y))
    }

    /// How far before `point` the nearest triangle lies that hides it; 0 if none lies more than
    /// `tolerance` before it.
    pub(super) fn depth_before(&self, point: Vec3, tolerance: f64) -> f64 {
        self.depths(point.x, point.y)
            .map(|depth| depth - point.z)
            .filter(|before| *before > tolerance)
            .fold(0.0, f64::max)
    }

    /// Whether any triangle lies at a point.
    pub(super) fn covers(&self, point: Point) -> bool {
        self.depths(point.x, point.y).next().is_some()
    }
}
