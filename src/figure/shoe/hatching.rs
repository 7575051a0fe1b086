//! Section lines of a shoe's upper, hatched where they lie in shade. Millimetres of the model; the
//! distance of lines on paper.

use super::upper::Upper;
use super::{Extent, part};
use crate::figure::drawing::polyline::lengths;
use crate::figure::drawing::{Camera, Curve, Light, shaded};
use crate::foot::form::station;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// Places on the feather edge at which a section line may stand.
const PLACES: usize = 1200;

/// Distance of lines on paper, mm.
const APART: f64 = 0.9;

/// Points of a section line, and at which share of its rows distances are kept.
const POINTS: usize = 60;
const MEASURED: [f64; 2] = [0.0, 0.5];

/// Lines keep this far from feather edge and topline, as a share of the line.
const CLEAR: f64 = 0.03;

/// Full shade and half shade (house style of figures).
const FULL: f64 = 0.22;
const HALF: f64 = 0.44;

/// The hatching of the upper of a left shoe, or of a right one, seen through `camera`, behind the toe
/// cap, which stays white. Light comes from above and from the toe, behind the viewer.
pub(super) fn shade(net: &Upper, extent: &Extent, camera: &Camera, right: bool) -> Vec<Curve> {
    let edge: Vec<Vec3> = (0..net.columns)
        .map(|c| net.points[Upper::index(c, 0)])
        .collect();
    let along = lengths(&edge);
    let whole = along.last().copied().unwrap_or(0.0);
    let cap = station::TOE_FAN * extent.length;
    let rows = (Upper::ROWS - 1) as f64;
    let on = |column: f64, share: f64| {
        let (point, normal) = net.at(column, rows * share);
        let over = |v: Vec3| Vec3::new(v.x, if right { v.y } else { -v.y }, v.z);
        (over(point), over(normal).unit())
    };
    let mut sections = Vec::new();
    let mut last: Option<[Point; 2]> = None;
    for number in 0..PLACES {
        let wanted = whole * number as f64 / PLACES as f64;
        let after = along
            .partition_point(|l| *l <= wanted)
            .clamp(1, along.len() - 1);
        let share = (wanted - along[after - 1]) / (along[after] - along[after - 1]).max(1e-12);
        let column = (after - 1) as f64 + share;
        let here = MEASURED.map(|share| camera.flat(on(column, share).0));
        let far = last.is_none_or(|last| (0..2).all(|i| last[i].distance(here[i]) >= APART));
        if !far || on(column, 0.0).0.x > cap {
            continue;
        }
        last = Some(here);
        let line = (0..POINTS).map(|i| {
            let up = CLEAR + (1.0 - 2.0 * CLEAR) * i as f64 / (POINTS - 1) as f64;
            on(column, up)
        });
        sections.push(line.unzip());
    }
    let light = Light {
        toward: light(camera, right),
        full: FULL,
        half: HALF,
    };
    shaded(&sections, light, part::SHADE)
}

/// The direction towards the light, in the scene's axes; of a right shoe mirrored, so that its heel lies in
/// shade as that of a left one does.
fn light(camera: &Camera, right: bool) -> Vec3 {
    let across = if right { 0.62 } else { -0.62 };
    let wanted = Vec3::new(across, -0.62, 0.48);
    // Turning is a rotation: its columns are the turned axes.
    let [x, y, z] = [
        Vec3::new(1.0, 0.0, 0.0),
        Vec3::new(0.0, 1.0, 0.0),
        Vec3::new(0.0, 0.0, 1.0),
    ]
    .map(|axis| camera.turn(axis).dot(wanted));
    Vec3::new(x, y, z).unit()
}
