//! States of the shoe right side out. Millimetres, the foot's axes.

use super::parts::{SHEET, crease, hanging, inner_edge, sole, wrong_side_out};
use super::plate::{Plate, tilted};
use super::state::State;
use super::{Shoe, Stage, part, standing};
use crate::figure::drawing::{Face, LineKind, Scene};
use crate::figure::shoe::strap::{OuterEnd, Strap};
use crate::figure::shoe::upper::Upper;
use crate::figure::shoe::{ShoeLook, body, bow, gathers, part as look};
use crate::foot::form::FootSide;
use crate::geometry::space::Vec3;

/// How steeply the lining sole is held, radians.
const TILT: f64 = 0.55;

/// The shoe right side out, as `look` says, without strap; with or without a lining.
pub(super) fn turned(shoe: &Shoe, look: &ShoeLook, lined: bool) -> Scene {
    let look = ShoeLook { lined, ..*look };
    let mut scene = body::upper(shoe.form, &look, shoe.extent, shoe.net);
    let thickness = look.sole.max(super::super::SOLE[0]);
    let thickness = thickness.max(super::super::SOLE[1] * shoe.extent.length);
    scene.add(body::sole(shoe.form, shoe.extent, thickness));
    scene
}

/// With the lining sole in it.
pub(super) fn lined_sole(mut scene: Scene) -> Scene {
    for mesh in &mut scene.meshes {
        if mesh.faces == Some([Face::Insole; 2]) {
            mesh.faces = Some([Face::Lining; 2]);
        }
    }
    scene
}

/// The shoe with its lining sole, before its strap is on.
pub(super) fn without_strap(shoe: &Shoe) -> Scene {
    lined_sole(turned(shoe, &plain_look(shoe), shoe.look.lined))
}

pub(super) fn plain_look(shoe: &Shoe) -> ShoeLook {
    ShoeLook {
        strap: None,
        tie: None,
        back_elastic: false,
        ..*shoe.look
    }
}

/// The shoe into which something is laid: what goes in hides all of the crease round the insole but
/// stubs.
fn receiving(shoe: &Shoe) -> Scene {
    let mut scene = turned(shoe, &plain_look(shoe), false);
    scene.curves.retain(|curve| curve.tag != look::CREASE);
    scene
}

/// The lining sole held above the opening, its toe going in.
pub(super) fn lining_sole(shoe: &Shoe) -> Stage {
    let mut scene = receiving(shoe);
    let length = shoe.extent.length;
    let layer = Plate {
        by: -shoe.work.lining_sole,
        height: 0.0,
        thickness: SHEET[0].max(SHEET[1] * length),
        faces: [Face::Lining, Face::Wrong],
        edge: LineKind::Edge,
        tag: part::LAID_IN,
    };
    // Its toe just behind the throat, level with the sides.
    let (ahead, high) = (
        shoe.form.throat().x - 0.05 * length,
        shoe.form.cut.side_heights[0],
    );
    let toe = Vec3::new(shoe.extent.front, 0.0, 0.0);
    let way = Vec3::new(ahead - toe.x, 0.0, high + 0.01 * length);
    scene.add(tilted(layer.scene(&shoe.seam), TILT, toe, way));
    let at = |back: f64, up: f64| Vec3::new(ahead - back * length, 0.0, high + up * length);
    Stage {
        arrow: Some([
            at(0.44, 0.34),
            at(0.32, 0.27),
            at(0.20, 0.19),
            at(0.07, 0.04),
        ]),
        ..Stage::of(scene)
    }
}

/// The lining, wrong side out, held above the opening, its toe going in.
pub(super) fn lining(shoe: &Shoe) -> Stage {
    let mut scene = receiving(shoe);
    let plain = Shoe {
        look: &ShoeLook {
            topstitch: false,
            ..plain_look(shoe)
        },
        ..*shoe
    };
    let mut inner = wrong_side_out(&plain, Face::Lining);
    let thickness = SHEET[0].max(SHEET[1] * shoe.extent.length);
    let layer = Plate {
        faces: [Face::Lining, Face::Wrong],
        thickness,
        ..sole(shoe, shoe.work.trim, Face::Right)
    };
    inner.add(layer.scene(&shoe.seam));
    let length = shoe.extent.length;
    let throat = shoe.form.throat();
    let toe = Vec3::new(shoe.extent.front, 0.0, 0.0);
    let way = Vec3::new(
        throat.x - 0.02 * length - toe.x,
        0.0,
        throat.z + 0.06 * length,
    );
    scene.add(tilted(inner, TILT, toe, way));
    let at = |x: f64, z: f64| Vec3::new(throat.x + x * length, 0.0, throat.z + z * length);
    Stage {
        arrow: Some([
            at(-0.44, 0.36),
            at(-0.32, 0.28),
            at(-0.18, 0.18),
            at(-0.04, 0.02),
        ]),
        ..Stage::of(scene)
    }
}

/// The strap carried over the foot.
pub(super) fn over_the_foot(shoe: &Shoe, state: State) -> Option<Stage> {
    let mut look = shoe.look.strap?;
    let [_, elastic] = shoe.work.strap?;
    look.elastic = Some(elastic / shoe.extent.length);
    let strap = shoe
        .strap
        .get_or_init(|| Strap::new(shoe.form, shoe.look, look, shoe.extent));
    let mut scene = without_strap(shoe);
    let end = match (look.button, state) {
        (_, State::Button) => OuterEnd::Buttoned,
        (true, _) => OuterEnd::Marked,
        (false, _) => OuterEnd::Bare,
    };
    scene.add(strap.as_ref()?.scene(end));
    let through = if state == State::Elastic {
        vec![standing::pin_through(shoe, FootSide::Outer, 0.0)]
    } else {
        Vec::new()
    };
    Some(Stage {
        through,
        ..Stage::of(scene)
    })
}

pub(super) fn gathered(shoe: &Shoe) -> Stage {
    let mut scene = lined_sole(turned(shoe, shoe.look, shoe.look.lined));
    scene
        .curves
        .extend(gathers::gathers(shoe.net, shoe.look, shoe.extent));
    Stage::of(scene)
}

/// The throat slit open.
pub(super) fn slit(shoe: &Shoe) -> Option<Stage> {
    let slit = shoe.work.slit?;
    let net = Upper::slit(shoe.form, shoe.extent, slit);
    let opened = Shoe { net: &net, ..*shoe };
    let look = plain_look(shoe);
    Some(Stage::of(lined_sole(turned(
        &opened,
        &look,
        shoe.look.lined,
    ))))
}

/// The ribbons over the closed slit, flat or tied.
pub(super) fn ribbons_over(shoe: &Shoe, state: State) -> Option<Stage> {
    let tie = shoe.look.tie?;
    let mut scene = without_strap(shoe);
    scene.curves.push(bow::slit(shoe.net, tie.slit));
    let on = (shoe.extent, shoe.net);
    let tied = bow::tied(shoe.form, shoe.look, on, state == State::Bow)?;
    scene.add(tied);
    Some(Stage::of(scene))
}

/// The ring right side out, before it has a sole.
pub(super) fn ribbon_ring(shoe: &Shoe) -> Scene {
    let look = plain_look(shoe);
    let (mut scene, _) = body::walls(
        shoe.form,
        &look,
        shoe.extent,
        shoe.net,
        [Face::Right, Face::Wrong],
    );
    let hanging = hanging(shoe, 0.0);
    let mut cloth = hanging.cloth(shoe.seam.ends(), true);
    for mesh in &mut cloth.meshes {
        mesh.faces = Some([Face::Right, Face::Wrong]);
    }
    scene.add(cloth);
    scene.curves.extend([crease(shoe), inner_edge(shoe)]);
    scene
}
