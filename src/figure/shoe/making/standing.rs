//! Straps and ribbons that stand up from a side seam, and pins that hold them. Millimetres, the
//! foot's axes.

use super::{Shoe, Stage, part};
use crate::figure::drawing::{
    Curve, Face, LineKind, Mesh, Scene, Tag, net_triangles, vertex_normals,
};
use crate::figure::shoe::button::RADIUS;
use crate::figure::shoe::strap::{
    End, LINES, POINTS, THICK, button_mark, lap_stitching, stitching,
};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;

/// How far a strap or ribbon lies below the topline, as a share of the foot's length.
const BELOW: f64 = 0.09;

/// Between a strap inside and the lining, as a share of the foot's length.
const CLEAR: f64 = 0.012;

/// How far off a strap what is sewn or chalked on it is drawn, as a share of the foot's length.
const ON: f64 = 0.002;

/// How far the free end bends over the foot, as a share of its length.
const BEND: f64 = 0.16;

/// A straight band: its middle line, the way across, and the way out of the shoe.
struct Band {
    /// At the topline.
    foot: Vec3,
    up: Vec3,
    /// Up along the wall, below the topline.
    wall: Vec3,
    across: Vec3,
    out: Vec3,
    width: f64,
    /// From its upper end to its lower one, mm above the topline.
    from: f64,
    to: f64,
    /// Off the cloth's outer face, mm; less than 0 is inside.
    off: f64,
    /// Over which length its bend is reckoned, and how far it bends outwards as a share of that.
    bend: f64,
    away: f64,
}

impl Band {
    fn mesh(&self) -> Mesh {
        let mut vertices = Vec::with_capacity(LINES * POINTS);
        for line in 0..LINES {
            // As the lines of a strap over the foot, so that stitches find their place.
            let across = (line as f64 / (LINES - 1) as f64 - 0.5) * std::f64::consts::PI;
            let side = 0.5 * across.sin() * self.width;
            for point in 0..POINTS {
                let share = point as f64 / (POINTS - 1) as f64;
                let high = self.from + (self.to - self.from) * share;
                let bent = (high / self.bend).clamp(0.0, 1.5);
                let up = if high < 0.0 { self.wall } else { self.up };
                let away = self.off + self.away * self.bend * bent * bent;
                vertices.push(self.foot + up * high + self.across * side + self.out * away);
            }
        }
        let triangles = net_triangles(LINES, POINTS, false);
        let mut mesh = Mesh {
            normals: vertex_normals(&vertices, &triangles, 2),
            vertices,
            triangles,
            ..Mesh::default()
        };
        let outward: f64 = mesh.normals.iter().map(|n| n.dot(self.out)).sum();
        if outward < 0.0 {
            mesh.normals.iter_mut().for_each(|n| *n = -*n);
        }
        mesh.face_along_normals();
        mesh
    }
}

/// The top of a side seam: where, which way what stands there goes up, along the topline, and out; last, which
/// way the wall goes up.
fn top(shoe: &Shoe, side: FootSide) -> [Vec3; 5] {
    let form = shoe.form;
    let end = form.side_seams[side as usize].top();
    let below = form.point(side, end.distance, end.place - 0.06);
    let wall = (end.point - below).unit();
    // It stands, so it leans less than the wall.
    let up = (wall + Vec3::new(0.0, 0.0, 1.2)).unit();
    let step = 0.03 * shoe.extent.length;
    let on = |d: f64| form.point(side, d, form.topline_place(side, d));
    let along = (on(end.distance - step) - on(end.distance + step)).unit();
    let mut out = along.cross(up).unit();
    if out.dot(shoe.extent.normal(form, side, end.distance, end.place)) < 0.0 {
        out = -out;
    }
    [end.point, up, out.cross(up).unit(), out, wall]
}

/// Along the topline towards the toe.
fn forward(across: Vec3) -> Vec3 {
    if across.x < 0.0 { -across } else { across }
}

/// A pin through cloth and strap `aside` mm before the side seam, down from just below the topline.
pub(super) fn pin_through(shoe: &Shoe, side: FootSide, aside: f64) -> [Vec3; 3] {
    let [_, _, across, out, _] = top(shoe, side);
    let form = shoe.form;
    let end = form.side_seams[side as usize].top();
    let down = |share: f64| form.point(side, end.distance, end.place * (1.0 - share));
    let way = forward(across) * aside;
    let lift = out * 0.25;
    [
        down(0.55) + way + lift,
        down(0.06) + way + lift + out * 0.2,
        out,
    ]
}

/// The strap standing at the inner side seam of the shoe in `scene`, its elastic at the free end.
pub(super) fn strap(shoe: &Shoe, mut scene: Scene) -> Option<Stage> {
    let look = shoe.look.strap?;
    let [cloth, elastic] = shoe.work.strap?;
    let length = shoe.extent.length;
    let [foot, up, across, out, _] = top(shoe, FootSide::Inner);
    let inside = shoe.extent.cloth(shoe.look) + CLEAR * length + THICK * length;
    let width = look.width * length;
    let band = Band {
        foot,
        up,
        wall: up,
        across: forward(across),
        out,
        width,
        from: cloth,
        to: -BELOW * length,
        off: -inside,
        bend: cloth,
        away: -BEND,
    };
    let mesh = band.mesh();
    let mut seen = stitching(&mesh, ON * length, width, look.sewn);
    if look.button {
        let face = (&mesh, ON * length);
        seen.push(button_mark(face, width, 0.5 * width, RADIUS * width));
    }
    scene.add(sheet(mesh, &band, part::STRAP));
    scene.curves.extend(seen);
    let end = Band {
        width: look.elastic_width * width,
        from: cloth + elastic + 0.05 * length,
        to: cloth - 0.09 * length,
        off: -inside - THICK * length,
        ..band
    };
    scene.add(sheet(end.mesh(), &end, part::ELASTIC));
    Some(Stage {
        through: [-0.24, 0.24]
            .map(|aside| pin_through(shoe, FootSide::Inner, aside * width))
            .to_vec(),
        ..Stage::of(scene)
    })
}

/// Ribbons sewn on outside over both side seams, standing up.
pub(super) fn ribbons(shoe: &Shoe, mut scene: Scene) -> Option<Stage> {
    let width = shoe.work.ribbon?;
    let length = shoe.extent.length;
    for side in FootSide::BOTH {
        let [foot, up, across, out, wall] = top(shoe, side);
        let band = Band {
            foot,
            up,
            wall,
            across: forward(across),
            out,
            width,
            from: 0.55 * length,
            to: -BELOW * length,
            off: 0.02 * length,
            bend: 0.55 * length,
            away: 0.1,
        };
        let mesh = band.mesh();
        let face = (&mesh, ON * length);
        let row = lap_stitching(face, width, -band.to, End::Last);
        scene.add(sheet(mesh, &band, part::STRAP));
        scene.curves.push(row);
    }
    Some(Stage::of(scene))
}

/// A band without thickness: of its edges only its own plane leads out.
fn sheet(mesh: Mesh, band: &Band, tag: Tag) -> Scene {
    let last = POINTS - 1;
    let hind = (0..last).rev().map(|i| (i, -band.across));
    let top = (1..LINES).map(|line| (line * POINTS, band.up));
    let front = (1..POINTS).map(|i| ((LINES - 1) * POINTS + i, band.across));
    let low = (0..LINES)
        .rev()
        .map(|line| (line * POINTS + last, -band.up));
    let rim = hind.chain(top).chain(front).chain(low);
    let (points, normals) = rim.map(|(i, out)| (mesh.vertices[i], out)).unzip();
    let edge = Curve::new(points, normals, LineKind::Strap);
    Scene {
        meshes: vec![Mesh {
            faces: Some([Face::Right; 2]),
            ..mesh
        }],
        curves: vec![edge.closed().tagged(tag)],
    }
}
