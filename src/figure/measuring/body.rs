//! The foot as a closed solid: its form, cut off level a little above the bend, on a flat sole.
//! Millimetres, the foot's axes.

use crate::figure::drawing::{Curve, LineKind, Mesh, Scene, Tag, net_triangles, vertex_normals};
use crate::foot::form::{FootForm, FootSide, Form, Net, station};
use crate::geometry::root::root;
use crate::geometry::space::Vec3;
use std::f64::consts::FRAC_PI_2;

/// Columns of points on each side before and behind the cut, and points in each column.
const FRONT: usize = 44;
const BACK: usize = 30;
const ROWS: usize = 22;

/// Points across the sole: long thin triangles would fill many cells of the drawing's grid.
const ACROSS: usize = 9;

/// How far above the bend the foot is cut off, as a share of the bend's height; no farther than the
/// form closes at any foot.
const ABOVE_BEND: f64 = 1.08;

/// By how much test directions of the rim lean up, and those of the feather edge.
const LEAN: f64 = 0.9;
const EDGE_LEAN: f64 = 0.15;

/// Marks the rim where the foot is cut off: no line of the foot, so that it is drawn thin.
pub(super) const RIM: Tag = Tag::MAX;

/// The solid.
pub(super) struct Body {
    /// The form's surface.
    pub(super) upper: Mesh,
    plate: Mesh,
    lid: Mesh,
    rim: Curve,
    edge: Curve,
    /// x of the ridge under the tape from heel corner over the bend, mm.
    pub(super) long_heel: f64,
}

/// The net of points: two sides from the toe to the heel, joined along the ridge before the cut.
struct Columns {
    points: Vec<Vec3>,
}

const COLUMNS: usize = FRONT + 1 + BACK;

/// Number of a point; sides share toe, heel and ridge.
fn index(side: FootSide, column: usize, row: usize) -> usize {
    let shared = column == 0 || column == COLUMNS - 1 || (row == ROWS - 1 && column <= FRONT);
    let first = if side == FootSide::Inner && !shared {
        COLUMNS * ROWS
    } else {
        0
    };
    first + column * ROWS + row
}

impl Columns {
    fn new(form: &Form, top: f64, cut: f64) -> Self {
        let at_cut = form.base_of(cut);
        let mut points = Vec::with_capacity(2 * COLUMNS * ROWS);
        for side in [FootSide::Outer, FootSide::Inner] {
            for column in 0..COLUMNS {
                let section = form.section(side, distance(form, side, column, at_cut));
                let height = |place: f64| section.point(place).z - top;
                let highest = if column <= FRONT {
                    1.0
                } else {
                    root(height, 0.0, 1.0, 1e-6).unwrap_or(1.0)
                };
                let place = |row: usize| highest * row as f64 / (ROWS - 1) as f64;
                points.extend((0..ROWS).map(|row| section.point(place(row))));
            }
        }
        Self { points }
    }

    fn at(&self, side: FootSide, column: usize, row: usize) -> Vec3 {
        self.points[index(side, column, row)]
    }

    fn upper(&self) -> Mesh {
        let mut triangles = Vec::new();
        for side in [FootSide::Outer, FootSide::Inner] {
            let at = |column: usize, row: usize| index(side, column, row) as u32;
            for column in 0..COLUMNS - 1 {
                for row in 0..ROWS - 1 {
                    let (a, b) = (at(column, row), at(column + 1, row));
                    let (c, d) = (at(column + 1, row + 1), at(column, row + 1));
                    match side {
                        FootSide::Outer => triangles.extend([[a, c, b], [a, d, c]]),
                        FootSide::Inner => triangles.extend([[a, b, c], [a, c, d]]),
                    }
                }
            }
        }
        Mesh {
            normals: vertex_normals(&self.points, &triangles, 2),
            vertices: self.points.clone(),
            triangles,
            silhouette: Some(LineKind::Edge),
            ..Mesh::default()
        }
    }

    /// Numbers of the points of row `row` all round, from column `from` of the outer side by the
    /// heel to the same column of the inner side.
    fn round(from: usize, row: usize) -> impl Iterator<Item = usize> {
        let out = (from..COLUMNS).map(move |column| index(FootSide::Outer, column, row));
        let back = (from..COLUMNS - 1).rev();
        out.chain(back.map(move |column| index(FootSide::Inner, column, row)))
    }

    fn plate(&self) -> Mesh {
        let mut vertices = Vec::with_capacity(COLUMNS * ACROSS);
        for column in 0..COLUMNS {
            let [from, to] = [FootSide::Outer, FootSide::Inner].map(|s| self.at(s, column, 0));
            let share = |row: usize| row as f64 / (ACROSS - 1) as f64;
            vertices.extend((0..ACROSS).map(|row| from.lerp(to, share(row))));
        }
        Mesh {
            normals: vec![Vec3::new(0.0, 0.0, -1.0); vertices.len()],
            triangles: net_triangles(COLUMNS, ACROSS, false),
            vertices,
            ..Mesh::default()
        }
    }

    fn lid(&self) -> Mesh {
        let mut vertices: Vec<Vec3> = Self::round(FRONT, ROWS - 1)
            .map(|i| self.points[i])
            .collect();
        let count = vertices.len();
        let sum = vertices.iter().fold(Vec3::default(), |sum, p| sum + *p);
        vertices.push(sum * (1.0 / count as f64));
        // Seen from above the rim runs clockwise.
        let triangle = |i: usize| [((i + 1) % count) as u32, i as u32, count as u32];
        Mesh {
            normals: vec![Vec3::new(0.0, 0.0, 1.0); vertices.len()],
            triangles: (0..count).map(triangle).collect(),
            vertices,
            ..Mesh::default()
        }
    }
}

/// Distance from the toe of a column; closer together towards toe and heel.
fn distance(form: &Form, side: FootSide, column: usize, at_cut: f64) -> f64 {
    let edge = &form.edge;
    if column == 0 {
        return 0.0;
    }
    if column == COLUMNS - 1 {
        return edge.length(side);
    }
    let x = if column <= FRONT {
        let turn = FRAC_PI_2 * column as f64 / FRONT as f64;
        at_cut + (edge.front() - at_cut) * turn.cos()
    } else {
        let turn = FRAC_PI_2 * (column - FRONT) as f64 / BACK as f64;
        at_cut - (at_cut - edge.back()) * turn.sin()
    };
    edge.distance_at(side, x)
}

impl Body {
    /// The solid of `foot`; `None` if its ridge does not rise above the bend.
    pub(super) fn new(foot: &FootForm) -> Option<Self> {
        let form = &foot.form;
        let net = Net::new(form, 0.9 * foot.length);
        let (_, long_heel) = net.long_heel(
            0.62 * station::HEEL_FAN * foot.length,
            0.80 * station::TOE_FAN * foot.length,
        );
        let top = (ABOVE_BEND * foot.measures.bend_height).max(1.01 * form.height(long_heel));
        let [behind, _] = foot.fan_feet();
        let cut = root(|x| form.height(x) - top, behind, foot.solved.bend, 1e-6)?;
        let columns = Columns::new(form, top, cut);
        let upper = columns.upper();
        let rim = Columns::round(FRONT, ROWS - 1);
        let rim = curve(&upper, rim, |n| n + Vec3::new(0.0, 0.0, LEAN)).tagged(RIM);
        let edge = curve(&upper, Columns::round(0, 0), |n| {
            Vec3::new(n.x, n.y, 0.0).unit() + Vec3::new(0.0, 0.0, EDGE_LEAN)
        });
        Some(Self {
            plate: columns.plate(),
            lid: columns.lid(),
            upper,
            rim,
            edge,
            long_heel,
        })
    }

    /// The solid as a scene.
    pub(super) fn scene(&self) -> Scene {
        Scene {
            meshes: vec![self.upper.clone(), self.plate.clone(), self.lid.clone()],
            curves: vec![self.rim.clone(), self.edge.clone()],
        }
    }
}

/// A closed edge through points of `mesh`, its test directions made of their normals.
fn curve(mesh: &Mesh, numbers: impl Iterator<Item = usize>, lean: impl Fn(Vec3) -> Vec3) -> Curve {
    let mut numbers: Vec<usize> = numbers.collect();
    numbers.extend(numbers.first().copied());
    let points = numbers.iter().map(|i| mesh.vertices[*i]).collect();
    let normals = numbers.iter().map(|i| lean(mesh.normals[*i])).collect();
    Curve::new(points, normals, LineKind::Edge).closed()
}
