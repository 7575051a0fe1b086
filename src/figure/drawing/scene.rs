//! What is drawn: surfaces of triangles and curves on them, in mm of the model. A scene knows
//! nothing of paper.

use super::line_kind::LineKind;
use crate::geometry::space::Vec3;

/// Which side of which cloth a surface shows; says how it is tinted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Right side: white.
    Right,
    /// Wrong side.
    Wrong,
    /// Lining.
    Lining,
    /// The inside of the sole.
    Insole,
    /// Stiffener.
    Stiffener,
}

/// What a line belongs to, carried from the scene to the lines of the drawing; the scene's own
/// numbers.
pub type Tag = u16;

/// A surface of triangles that hides what lies behind it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// Its corners.
    pub vertices: Vec<Vec3>,
    /// Outward unit normals at the corners; silhouettes are only as smooth as these.
    pub normals: Vec<Vec3>,
    /// Counter-clockwise as seen from outside.
    pub triangles: Vec<[u32; 3]>,
    /// What is seen from outside and from inside.
    pub faces: Option<[Face; 2]>,
    /// The kind of line where the surface turns away from the viewer; none for strips whose edges
    /// are curves of the scene.
    pub silhouette: Option<LineKind>,
    /// A strip this wide, mm, that takes the tint of `face` where it prints narrower than 1 mm.
    pub strip: Option<Strip>,
    /// Carried to the silhouettes.
    pub tag: Tag,
}

/// A narrow strip of surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Its width, mm.
    pub width: f64,
    /// The tint of its neighbour.
    pub face: Face,
}

/// A curve of the scene.
#[derive(Debug, Clone, PartialEq)]
pub struct Curve {
    /// Its points.
    pub points: Vec<Vec3>,
    /// At each point the direction that leads out of the solid; any length but 0.
    pub normals: Vec<Vec3>,
    /// What it stands for.
    pub kind: LineKind,
    /// Whether its last point is its first.
    pub closed: bool,
    /// Whether it is where a surface turns away, and not an edge.
    pub silhouette: bool,
    /// The width that it sets off from another line, mm: where that prints below 1 mm the curve is
    /// left out.
    pub sets_off: Option<f64>,
    /// Carried to the lines.
    pub tag: Tag,
}

/// Everything that is drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Scene {
    /// Surfaces.
    pub meshes: Vec<Mesh>,
    /// Curves on them.
    pub curves: Vec<Curve>,
}

impl Curve {
    /// A curve with one normal for each point.
    #[must_use]
    pub fn new(points: Vec<Vec3>, normals: Vec<Vec3>, kind: LineKind) -> Self {
        Self {
            points,
            normals,
            kind,
            closed: false,
            silhouette: false,
            sets_off: None,
            tag: 0,
        }
    }

    /// Whose last point is its first.
    #[must_use]
    pub fn closed(mut self) -> Self {
        self.closed = true;
        self
    }

    /// That sets off a strip `width` mm wide.
    #[must_use]
    pub fn sets_off(mut self, width: f64) -> Self {
        self.sets_off = Some(width);
        self
    }

    /// With a tag.
    #[must_use]
    pub fn tagged(mut self, tag: Tag) -> Self {
        self.tag = tag;
        self
    }
}

impl Scene {
    /// The scene moved by `way`.
    #[must_use]
    pub fn moved(mut self, way: Vec3) -> Self {
        let vertices = self.meshes.iter_mut().flat_map(|m| &mut m.vertices);
        let points = self.curves.iter_mut().flat_map(|c| &mut c.points);
        for point in vertices.chain(points) {
            *point = *point + way;
        }
        self
    }

    /// With everything of `other` too.
    pub fn add(&mut self, other: Scene) {
        self.meshes.extend(other.meshes);
        self.curves.extend(other.curves);
    }
}

impl Mesh {
    /// Turns the surface inside out if `normals` point against its triangles.
    pub fn face_along_normals(&mut self) {
        let mut agreement = 0.0;
        for &[a, b, c] in &self.triangles {
            let [p, q, r] = [a, b, c].map(|i| self.vertices[i as usize]);
            let outward = self.normals[a as usize];
            agreement += (q - p).cross(r - p).dot(outward);
        }
        if agreement < 0.0 {
            self.turn_over();
        }
    }

    /// Turns the triangles over; the normals stay.
    pub fn turn_over(&mut self) {
        for triangle in &mut self.triangles {
            triangle.swap(1, 2);
        }
    }
}

/// The triangles of a net of `columns` by `rows` points, the points of a column standing together;
/// `round` closes it from the last column to the first.
#[must_use]
pub fn net_triangles(columns: usize, rows: usize, round: bool) -> Vec<[u32; 3]> {
    let at = |column: usize, row: usize| ((column % columns) * rows + row) as u32;
    let spans = if round {
        columns
    } else {
        columns.saturating_sub(1)
    };
    let mut triangles = Vec::with_capacity(spans * rows.saturating_sub(1) * 2);
    for column in 0..spans {
        for row in 0..rows.saturating_sub(1) {
            let (a, b) = (at(column, row), at(column + 1, row));
            let (c, d) = (at(column + 1, row + 1), at(column, row + 1));
            triangles.push([a, b, c]);
            triangles.push([a, c, d]);
        }
    }
    triangles
}

/// Normals at the corners of triangles: means weighted by area, then averaged with those of their
/// neighbours `rounds` times. Too many rounds and the normals no longer belong to the surface.
#[must_use]
pub fn vertex_normals(vertices: &[Vec3], triangles: &[[u32; 3]], rounds: usize) -> Vec<Vec3> {
    let mut normals = vec![Vec3::default(); vertices.len()];
    for triangle in triangles {
        let [p, q, r] = triangle.map(|i| vertices[i as usize]);
        let normal = (q - p).cross(r - p);
        for corner in triangle {
            let normal_there = &mut normals[*corner as usize];
            *normal_there = *normal_there + normal;
        }
    }
    let unit = |normals: &mut Vec<Vec3>| normals.iter_mut().for_each(|n| *n = n.unit());
    unit(&mut normals);
    for _ in 0..rounds {
        let before = normals.clone();
        for &[a, b, c] in triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                let (from, to) = (from as usize, to as usize);
                normals[from] = normals[from] + before[to];
                normals[to] = normals[to] + before[from];
            }
        }
        unit(&mut normals);
    }
    normals
}
