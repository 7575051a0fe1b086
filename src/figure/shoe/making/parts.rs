//! What several states are made of: the sole, the walls wrong side out, the allowance round them.
//! Millimetres, the foot's axes.

use super::brim::{Brim, RIPPLE};
use super::plate::Plate;
use super::puckers::RIPPLES;
use super::seam::Seam;
use super::{Shoe, part};
use crate::figure::drawing::{Curve, Face, LineKind, Scene};
use crate::figure::shoe::upper::Upper;
use crate::figure::shoe::{ShoeLook, body};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;

/// Least thickness in which a sole is drawn in the making: mm, and as a share of the foot's length.
pub(super) const SHEET: [f64; 2] = [0.5, 0.012];

/// How steeply the allowance hangs where there is no sole yet, degrees.
const HANGS: f64 = 28.0;

/// The upper's allowance laid out on the sole's.
pub(super) fn brim<'a>(shoe: &Shoe<'a>) -> Brim<'a> {
    Brim {
        seam: shoe.seam,
        allowance: shoe.work.allowance,
        length: shoe.extent.length,
        falls: 0.0,
        rippled: if shoe.pressed { 0.0 } else { 1.0 },
        of_sole: false,
    }
}

/// The sole with `allowance` round it, one face up.
pub(super) fn sole(shoe: &Shoe, allowance: f64, up: Face) -> Plate {
    Plate {
        by: allowance,
        height: -0.02,
        thickness: SHEET[0].max(SHEET[1] * shoe.extent.length),
        faces: [
            up,
            if up == Face::Right {
                Face::Wrong
            } else {
                Face::Right
            },
        ],
        edge: LineKind::Edge,
        tag: part::CUT_EDGE,
    }
}

/// The upper's walls, wrong side out: what was inside is outside. `right` is the cloth's right side.
pub(super) fn wrong_side_out(shoe: &Shoe, right: Face) -> Scene {
    let look = ShoeLook {
        back_elastic: false,
        ..*shoe.look
    };
    let faces = [Face::Wrong, right];
    let (mut scene, _) = body::walls(shoe.form, &look, shoe.extent, shoe.net, faces);
    scene.curves.extend(opened_seams(shoe));
    scene
}

/// The edges of the side seams' allowances, pressed open.
fn opened_seams(shoe: &Shoe) -> Vec<Curve> {
    let form = shoe.form;
    let mut curves = Vec::new();
    for side in FootSide::BOTH {
        for way in [-1.0, 1.0] {
            let seam = &form.side_seams[side as usize].points;
            let moved = seam.iter().map(|p| {
                let step = 0.01 * shoe.extent.length;
                let ahead = form.point(side, p.distance + step, p.place);
                let back = form.point(side, p.distance - step, p.place);
                // Section lines draw together towards the ridge.
                let each = ahead.distance(back) / (2.0 * step);
                let distance = p.distance + way * shoe.work.allowance / each.max(0.3);
                let place = p.place / form.topline_place(side, p.distance).max(1e-9)
                    * form.topline_place(side, distance);
                let normal = shoe.extent.normal(form, side, distance, place);
                (form.point(side, distance, place), normal)
            });
            let (points, normals) = moved.unzip();
            let curve = Curve::new(points, normals, LineKind::Detail);
            curves.push(curve.tagged(part::OPENED));
        }
    }
    curves
}

/// The lower edge of the walls seen from inside, where a ring has no sole.
pub(super) fn inner_edge(shoe: &Shoe) -> Curve {
    let thickness = shoe.extent.cloth(shoe.look);
    let low = (0..shoe.net.columns).map(|column| Upper::index(column, 0));
    let points = low.map(|i| {
        let inside = shoe.net.points[i] - shoe.net.normals[i] * thickness;
        Vec3::new(inside.x, inside.y, inside.z.max(body::FLOOR))
    });
    let points: Vec<Vec3> = points.collect();
    let down = vec![Vec3::new(0.0, 0.0, -1.0); points.len()];
    Curve::new(points, down, LineKind::Edge).closed()
}

/// The line where the upper meets its brim.
pub(super) fn crease(shoe: &Shoe) -> Curve {
    let places = Seam::places(shoe.seam.ends(), 420);
    let up = Vec3::new(0.0, 0.0, 1.0);
    let point = |p: &f64| {
        (
            shoe.seam.at(*p) + up * 0.05,
            (shoe.seam.outward(*p) + up) * 0.7,
        )
    };
    let (points, normals) = places.iter().map(point).unzip();
    Curve::new(points, normals, LineKind::Inner).closed()
}

/// The allowance where there is no sole yet, as far rippled as its threads are `drawn_up`, from 0 to 1.
pub(super) fn hanging<'a>(shoe: &Shoe<'a>, drawn_up: f64) -> Brim<'a> {
    let lying = brim(shoe);
    let ripples = RIPPLES * lying.length / (RIPPLE * lying.allowance);
    Brim {
        falls: HANGS.to_radians(),
        rippled: ripples * drawn_up,
        ..lying
    }
}
