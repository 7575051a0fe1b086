//! Ribbons tied over the foot: drawn over it from side to side, and a bow of a knot, two loops and two
//! ends, as large as the ribbons' length leaves it. Millimetres, the foot's axes.

use super::strap::{LINES, POINTS, RIBBON_THICK, ribbons};
use super::upper::Upper;
use super::{Extent, ShoeLook, TieLook, part};
use crate::draft::shoe::ShoeForm;
use crate::figure::drawing::{Curve, Face, LineKind, Mesh, Scene, net_triangles, vertex_normals};
use crate::geometry::space::Vec3;
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

/// What the knot takes of each ribbon, in widths of it (from judgement).
const KNOT: f64 = 4.0;

/// Each end hangs out as long as a loop, which takes its length twice (from judgement).
const LOOP: f64 = 1.0 / 3.0;

/// How far to the outer side the knot sits, as a share of the foot's length: bows turn away from each
/// other (common practice).
const ASIDE: f64 = 0.03;

/// Half axes of the knot along and across the foot and up, in widths of the ribbon: loops and ends come
/// out from under it.
const KNOT_SIZE: [f64; 3] = [0.62, 0.56, 0.44];
const UNDER: f64 = 0.4;

/// Loops: how steeply they leave the knot and how steeply they hang at their end, degrees; how far they
/// lean to the heel, clear of the ribbon below and open to who looks from ahead; half their height as a
/// share of their length; how narrow they are drawn together at the knot.
const RISES: f64 = 26.0;
const HANGS: f64 = 52.0;
const LEANS: f64 = 0.45;
const OPEN: f64 = 0.17;
const PINCHED: f64 = 0.5;

/// The fold in the middle of a loop that the knot draws in: from one share of its length to the other,
/// and how far off the loop, as a share of the ribbon's width.
const FOLD: [f64; 2] = [0.1, 0.42];
const FOLD_POINTS: usize = 16;
const OFF: f64 = 0.02;

/// The ends lead to the toe, this far apart from its direction, degrees, and lie this far above the
/// upper, as a share of the foot's length; their cut is as slant as they are wide.
const APART: f64 = 20.0;
const ABOVE: f64 = 0.02;

/// How far beside the middle of the knot each end begins, in widths of the ribbon.
const BESIDE: f64 = 0.24;

/// Points across a ribbon, along a loop and along an end, and round the knot.
const ACROSS: usize = 9;
const ROUND: usize = 97;
const LONG: usize = 48;
const KNOT_POINTS: [usize; 2] = [48, 25];

/// The knot: its middle, and the directions to the toe, to the outer side and up.
struct Knot {
    middle: Vec3,
    ahead: Vec3,
    outer: Vec3,
    up: Vec3,
    width: f64,
}

/// The ribbons over the foot, with their bow if they are tied; `None` if their planes do not cut the
/// form in simple lines.
pub(super) fn tied(
    form: &ShoeForm,
    look: &ShoeLook,
    (extent, net): (&Extent, &Upper),
    tied: bool,
) -> Option<Scene> {
    let tie = look.tie?;
    let (mut scene, base) = ribbons(form, look, tie, extent)?;
    if tied {
        let knot = knot(&base, tie, extent);
        let length = (LOOP * (tie.free - KNOT * tie.width)).max(tie.width);
        let heights = Heights::new(net, extent.length);
        let mut bow = knot.body();
        for side in [1.0, -1.0] {
            bow.add(knot.ribbon_loop(side, length));
            bow.add(knot.end(side, length, (extent, &heights)));
        }
        for curve in &mut bow.curves {
            curve.tag = part::BOW;
        }
        for mesh in &mut bow.meshes {
            mesh.tag = part::BOW;
        }
        scene.add(bow);
    }
    Some(scene)
}

/// The closed slit of the throat, a line along the ridge.
pub(super) fn slit(net: &Upper, slit: f64) -> Curve {
    let index = |column: usize| Upper::index(column, Upper::ROWS - 1);
    let first = net.throats[0];
    let start = net.points[index(first)];
    let within = |column: &usize| net.points[index(*column)].distance(start) <= slit;
    let columns = (first..net.columns / 2).take_while(within);
    let (points, normals) = columns
        .map(|column| (net.points[index(column)], net.normals[index(column)]))
        .unzip();
    Curve::new(points, normals, LineKind::Seam).tagged(part::SLIT)
}

fn knot(base: &Mesh, tie: TieLook, extent: &Extent) -> Knot {
    let line = (LINES / 2) * POINTS;
    let off = |i: &usize| (base.vertices[*i].y + ASIDE * extent.length).abs();
    let at = (line..line + POINTS).min_by(|a, b| off(a).total_cmp(&off(b)));
    let at = at.unwrap_or(line);
    let up = base.normals[at];
    let x = Vec3::new(1.0, 0.0, 0.0);
    let ahead = (x - up * up.dot(x)).unit();
    let side = up.cross(ahead);
    let outer = if side.y > 0.0 { -side } else { side };
    let raised = RIBBON_THICK * extent.length + 0.8 * KNOT_SIZE[2] * tie.width;
    Knot {
        middle: base.vertices[at] + up * raised,
        ahead,
        outer,
        up,
        width: tie.width,
    }
}

impl Knot {
    fn body(&self) -> Scene {
        let [around, rise] = KNOT_POINTS;
        let [along, across, high] = KNOT_SIZE.map(|share| share * self.width);
        let mut mesh = Mesh {
            triangles: net_triangles(around, rise, true),
            faces: Some([Face::Right; 2]),
            silhouette: Some(LineKind::Button),
            ..Mesh::default()
        };
        for i in 0..around {
            let (sin, cos) = (TAU * i as f64 / around as f64).sin_cos();
            for j in 0..rise {
                let (up, out) = (PI * (j as f64 / (rise - 1) as f64 - 0.5)).sin_cos();
                let at = |a: f64, b: f64, c: f64| {
                    self.ahead * (a * cos * out) + self.outer * (b * sin * out) + self.up * (c * up)
                };
                mesh.vertices.push(self.middle + at(along, across, high));
                let normal = at(1.0 / along, 1.0 / across, 1.0 / high);
                mesh.normals.push(normal.unit());
            }
        }
        mesh.face_along_normals();
        Scene {
            meshes: vec![mesh],
            curves: Vec::new(),
        }
    }

    /// Where loops and ends come together.
    fn foot(&self) -> Vec3 {
        self.middle - self.up * (UNDER * KNOT_SIZE[2] * self.width)
    }

    /// A loop to the outer side, or with -1 to the inner one: out above and back below.
    fn ribbon_loop(&self, side: f64, length: f64) -> Scene {
        let bent = Loop::new(self, side, length);
        let round = |i: usize| i as f64 / (ROUND - 1) as f64;
        let rows = (0..ROUND).map(|i| bent.row(round(i)));
        let vertices = rows.flat_map(|row| self.row(row.at, row.across)).collect();
        let mut scene = sheet(vertices, ROUND, false);
        scene.curves.push(self.fold(&bent));
        scene
    }

    /// The fold on the upper side of a loop.
    fn fold(&self, bent: &Loop) -> Curve {
        let [from, to] = FOLD.map(|share| (1.0 - 2.0 * share).acos() / TAU);
        let rows = (0..FOLD_POINTS).map(|i| {
            let share = i as f64 / (FOLD_POINTS - 1) as f64;
            bent.row(from + (to - from) * share)
        });
        let points = rows.map(|row| (row.at + row.off * (OFF * self.width), row.off));
        let (points, normals) = points.unzip();
        Curve::new(points, normals, LineKind::Detail).sets_off(0.5 * self.width)
    }

    /// An end that lies on the toe, to the outer or with -1 to the inner side.
    fn end(&self, side: f64, length: f64, (extent, upper): (&Extent, &Heights)) -> Scene {
        let (sin, cos) = APART.to_radians().sin_cos();
        let flat = |v: Vec3| Vec3::new(v.x, v.y, 0.0).unit();
        let way = flat(self.ahead) * cos + flat(self.outer) * (sin * side);
        let across = Vec3::new(-way.y, way.x, 0.0);
        let lift = ABOVE * extent.length;
        let low = self.foot() + flat(self.outer) * (BESIDE * side * self.width);
        let lain = |ahead: f64, aside: f64, share: f64| {
            let at = low + way * ahead + across * aside;
            let blend = (share / 0.35).min(1.0);
            let blend = blend * blend * (3.0 - 2.0 * blend);
            let lying = upper.over(at).map_or(at.z, |z| z + lift);
            Vec3::new(at.x, at.y, at.z + (lying - at.z) * blend)
        };
        // How far ahead it reaches: over the curve of the toe it is shorter than it is long.
        let mut reach = length;
        for _ in 0..3 {
            let at = |i: usize| {
                let share = i as f64 / (LONG - 1) as f64;
                lain(reach * share, 0.0, share)
            };
            let long: f64 = (1..LONG).map(|i| at(i).distance(at(i - 1))).sum();
            reach *= length / long.max(1e-9);
        }
        let mut vertices = Vec::with_capacity(LONG * ACROSS);
        for i in 0..LONG {
            let share = i as f64 / (LONG - 1) as f64;
            for j in 0..ACROSS {
                let beside = j as f64 / (ACROSS - 1) as f64 - 0.5;
                let narrow = (PINCHED + 2.0 * share).min(1.0);
                let slant = 1.0 + side * beside * self.width / reach.max(self.width);
                vertices.push(lain(
                    reach * share * slant,
                    beside * narrow * self.width,
                    share,
                ));
            }
        }
        sheet(vertices, LONG, true)
    }

    /// Points across a ribbon whose direction across is `across`, as a share of its width.
    fn row(&self, at: Vec3, across: Vec3) -> impl Iterator<Item = Vec3> {
        let width = self.width;
        let beside = |j: usize| j as f64 / (ACROSS - 1) as f64 - 0.5;
        (0..ACROSS).map(move |j| at + across * (beside(j) * width))
    }
}

/// A loop as it is bent.
struct Loop {
    /// Its middle from the knot to its end, at equal distances.
    middle: Vec<Vec3>,
    out: Vec3,
    up: Vec3,
    across: Vec3,
    length: f64,
}

/// The ribbon at one place of a loop: its middle, the way across it as a share of its width, and out of the
/// loop's upper side.
struct LoopRow {
    at: Vec3,
    across: Vec3,
    off: Vec3,
}

impl Loop {
    fn new(knot: &Knot, side: f64, length: f64) -> Self {
        let out = (knot.outer * side - knot.ahead * LEANS).unit();
        let mut bent = Self {
            middle: vec![knot.foot()],
            out,
            up: knot.up,
            across: knot.up.cross(out).unit(),
            length,
        };
        let steps = ROUND / 2;
        for i in 0..steps {
            let step = bent.way((i as f64 + 0.5) / steps as f64) * (length / steps as f64);
            bent.middle.push(bent.middle[i] + step);
        }
        bent
    }

    /// Along its middle.
    fn way(&self, share: f64) -> Vec3 {
        let angle = (RISES - (RISES + HANGS) * share).to_radians();
        self.out * angle.cos() + self.up * angle.sin()
    }

    /// `round` goes from 0 to 1: out above, and back below.
    fn row(&self, round: f64) -> LoopRow {
        let share = 0.5 * (1.0 - (TAU * round).cos());
        let steps = self.middle.len() - 1;
        let place = share * steps as f64;
        let before = (place as usize).min(steps - 1);
        let at = self.middle[before].lerp(self.middle[before + 1], place - before as f64);
        let off = self.way(share).cross(self.across).unit();
        let off = if off.dot(self.up) < 0.0 { -off } else { off };
        let high = OPEN * self.length * 1.3 * (TAU * round).sin() * share.sqrt();
        let drawn = (2.0 * share).min(1.0);
        let drawn = PINCHED + (1.0 - PINCHED) * drawn * drawn * (3.0 - 2.0 * drawn);
        LoopRow {
            at: at + off * high,
            across: self.across * drawn,
            off,
        }
    }
}

/// Side of a column of [`Heights`], as a share of the foot's length: a few triangles wide.
const COLUMN: f64 = 0.02;

/// The upper's triangles in upright columns, to find what lies above a point of the ground.
struct Heights<'a> {
    net: &'a Upper,
    side: f64,
    columns: BTreeMap<[i64; 2], Vec<u32>>,
}

impl<'a> Heights<'a> {
    fn new(net: &'a Upper, length: f64) -> Self {
        let mut heights = Self {
            net,
            side: COLUMN * length,
            columns: BTreeMap::new(),
        };
        for (number, triangle) in net.triangles.iter().enumerate() {
            let corners = triangle.map(|i| heights.column(net.points[i as usize]));
            let [low, high] = [i64::min, i64::max].map(|of| {
                [0, 1].map(|axis| {
                    corners[1..]
                        .iter()
                        .map(|c| c[axis])
                        .fold(corners[0][axis], of)
                })
            });
            for x in low[0]..=high[0] {
                for y in low[1]..=high[1] {
                    let column = heights.columns.entry([x, y]).or_default();
                    column.push(number as u32);
                }
            }
        }
        heights
    }

    fn column(&self, at: Vec3) -> [i64; 2] {
        [at.x, at.y].map(|v| (v / self.side).floor() as i64)
    }

    /// The height of the upper above or below a point; `None` beside it.
    fn over(&self, at: Vec3) -> Option<f64> {
        let mut highest: Option<f64> = None;
        for number in self.columns.get(&self.column(at))? {
            let triangle = self.net.triangles[*number as usize];
            let [a, b, c] = triangle.map(|i| self.net.points[i as usize]);
            let part = |p: Vec3, q: Vec3| (q.x - p.x) * (at.y - p.y) - (q.y - p.y) * (at.x - p.x);
            let (u, v, w) = (part(b, c), part(c, a), part(a, b));
            let whole = u + v + w;
            if whole.abs() > 1e-12 && [u, v, w].iter().all(|x| x / whole >= -1e-9) {
                let z = (a.z * u + b.z * v + c.z * w) / whole;
                highest = Some(highest.map_or(z, |high| high.max(z)));
            }
        }
        highest
    }
}

/// A ribbon without thickness, `long` rows of points across it: of its edges only its own plane leads
/// out. `ends` closes it with its last row.
fn sheet(vertices: Vec<Vec3>, long: usize, ends: bool) -> Scene {
    let triangles = net_triangles(long, ACROSS, false);
    let mut mesh = Mesh {
        normals: vertex_normals(&vertices, &triangles, 2),
        vertices,
        triangles,
        faces: Some([Face::Right; 2]),
        silhouette: Some(LineKind::Strap),
        ..Mesh::default()
    };
    mesh.face_along_normals();
    let at = |i: usize, j: usize| mesh.vertices[i * ACROSS + j];
    let edge = |j: usize, inner: usize| {
        let points = (0..long).map(|i| at(i, j)).collect();
        let out = (0..long).map(|i| (at(i, j) - at(i, inner)).unit());
        Curve::new(points, out.collect(), LineKind::Strap)
    };
    let mut curves = vec![edge(0, 1), edge(ACROSS - 1, ACROSS - 2)];
    if ends {
        let last = long - 1;
        let points = (0..ACROSS).map(|j| at(last, j)).collect();
        let out = (0..ACROSS).map(|j| (at(last, j) - at(last - 1, j)).unit());
        curves.push(Curve::new(points, out.collect(), LineKind::Strap));
    }
    Scene {
        meshes: vec![mesh],
        curves,
    }
}

#[cfg(test)]
mod tests;
