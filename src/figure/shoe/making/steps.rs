//! What each state is made of. Millimetres, the foot's axes.

use super::brim::Brim;
use super::parts::{brim, crease, hanging, inner_edge, sole, wrong_side_out};
use super::plate::{Plate, seam_line};
use super::puckers::puckers;
use super::seam::Seam;
use super::state::State;
use super::toe_net::toe_piece;
use super::turned::{
    gathered, lining, lining_sole, over_the_foot, plain_look, ribbon_ring, ribbons_over, slit,
    turned, without_strap,
};
use super::{Shoe, Stage, part, standing};
use crate::figure::drawing::{Curve, Face, LineKind, Scene};
use crate::figure::shoe::body;
use crate::geometry::space::Vec3;

/// Where the seam round the sole runs, as a share of the allowance beside the crease.
const SEWN: f64 = 0.36;

/// Rows of easing thread, as shares of the allowance, and how far their ends hang out.
const THREADS: [f64; 2] = [0.2, 0.55];

/// The stage of a state; `None` if the design has not got it.
pub(super) fn stage(shoe: &Shoe, state: State) -> Option<Stage> {
    match state {
        State::Stiffener => stiffener(shoe),
        State::Sole => Some(bare_sole(shoe)),
        State::Upper => Some(ring(shoe, None)),
        State::Easing => Some(ring(shoe, Some(1.0))),
        State::Pressed => Some(ring(shoe, Some(0.0))),
        State::ToeOnTheSole => Some(toe_on_the_sole(shoe)),
        State::HeelOnTheSole | State::UpperOnTheSole | State::Sewn | State::Trimmed => {
            Some(on_the_sole(shoe, state))
        }
        State::Turning => Some(turning(shoe)),
        State::Turned => Some(Stage::of(turned(shoe, &plain_look(shoe), false))),
        State::LiningSole => Some(lining_sole(shoe)),
        State::Lining => shoe.look.lined.then(|| lining(shoe)),
        State::Strap => standing::strap(shoe, without_strap(shoe)),
        State::Ribbons => standing::ribbons(shoe, ribbon_ring(shoe)).map(|stage| Stage {
            rim: Some(shoe.extent.cloth(shoe.look)),
            ..stage
        }),
        State::Elastic | State::Button => over_the_foot(shoe, state),
        State::Gathers => shoe.look.back_elastic.then(|| gathered(shoe)),
        State::Slit => slit(shoe),
        State::RibbonsOver | State::Bow => ribbons_over(shoe, state),
    }
}

/// Marks of the sole between two places, on its own cut edge.
fn sole_marks(shoe: &Shoe, stretch: [f64; 2]) -> Vec<Curve> {
    let flat = Brim {
        rippled: 0.0,
        of_sole: true,
        ..brim(shoe)
    };
    let [from, to] = stretch;
    let marks = flat.seam.marks().into_iter();
    let within = marks.filter(|(place, _)| (from..=to).contains(place));
    within
        .flat_map(|(place, mark)| flat.mark(place, mark))
        .collect()
}

fn stiffener(shoe: &Shoe) -> Option<Stage> {
    let inset = shoe.work.stiffener?;
    let mut scene = sole(shoe, shoe.work.allowance, Face::Wrong).scene(&shoe.seam);
    // Felt has no wrong side that shows; the grid alone tells the layers apart.
    for mesh in &mut scene.meshes {
        mesh.faces = Some([Face::Right; 2]);
    }
    let layer = Plate {
        by: -inset,
        height: 0.3,
        thickness: 0.3,
        faces: [Face::Stiffener; 2],
        edge: LineKind::Edge,
        tag: part::LAID_IN,
    };
    scene.add(layer.scene(&shoe.seam));
    scene.curves.push(seam_line(&shoe.seam, shoe.seam.ends()));
    scene
        .curves
        .extend(sole_marks(shoe, [f64::NEG_INFINITY, f64::INFINITY]));
    Some(Stage::of(scene))
}

fn bare_sole(shoe: &Shoe) -> Stage {
    let mut scene = sole(shoe, shoe.work.allowance, Face::Right).scene(&shoe.seam);
    scene.curves.push(seam_line(&shoe.seam, shoe.seam.ends()));
    scene
        .curves
        .extend(sole_marks(shoe, [f64::NEG_INFINITY, f64::INFINITY]));
    Stage::inside_out(scene)
}

/// The ring without a sole; `eased` says how far it ripples on its easing threads, if they are in.
fn ring(shoe: &Shoe, eased: Option<f64>) -> Stage {
    let mut scene = wrong_side_out(shoe, Face::Right);
    let hanging = hanging(shoe, eased.unwrap_or(0.0));
    scene.add(hanging.cloth(shoe.seam.ends(), true));
    scene.curves.extend([crease(shoe), inner_edge(shoe)]);
    if eased.is_some_and(|drawn_up| drawn_up > 0.0) {
        scene.curves.extend(puckers(shoe));
    }
    if eased.is_some() {
        scene.add(easing_threads(shoe, &hanging));
    }
    scene.curves.extend(upper_marks(shoe, &hanging));
    Stage {
        rim: Some(shoe.extent.cloth(shoe.look)),
        ..Stage::inside_out(scene)
    }
}

/// The marks of the ring: the sole's without those that meet a side seam.
fn upper_marks(shoe: &Shoe, brim: &Brim) -> Vec<Curve> {
    let marks = shoe.seam.marks().into_iter();
    let own = marks.filter(|(place, _)| !shoe.seam.sides.contains(place));
    own.flat_map(|(place, mark)| brim.mark(place, mark))
        .collect()
}

/// Both rows of easing threads with their ends.
fn easing_threads(shoe: &Shoe, brim: &Brim) -> Scene {
    let mut scene = Scene::default();
    for depth in THREADS {
        let row = brim.line(shoe.seam.ease, depth, LineKind::Stitch, part::THREADS);
        scene.curves.push(row);
        scene.add(thread_ends(shoe, brim, depth));
    }
    scene
}

/// The long ends of an easing thread, which hang out at both ease notches.
fn thread_ends(shoe: &Shoe, brim: &Brim, depth: f64) -> Scene {
    let mut scene = Scene::default();
    let reach = 0.16 * shoe.extent.length;
    for (number, place) in shoe.seam.ease.into_iter().enumerate() {
        let away = if number == 0 { -1.0 } else { 1.0 };
        let from = brim.point(place, depth);
        let (along, out) = (shoe.seam.along(place) * away, shoe.seam.outward(place));
        let at = |i: usize| {
            let share = i as f64 / 23.0;
            // The inner thread runs wider, so that the two do not cross.
            let side = along * (reach * share * (0.75 - 0.6 * depth));
            let fall = Vec3::new(0.0, 0.0, -0.25 * reach * share * share);
            from + side + out * (reach * share * (1.2 - 0.4 * share)) + fall
        };
        let points: Vec<Vec3> = (0..24).map(at).collect();
        // A corner without triangles keeps the thread within the picture.
        scene.meshes.push(crate::figure::drawing::Mesh {
            vertices: points.clone(),
            normals: vec![out; 24],
            ..Default::default()
        });
        let up = vec![Vec3::new(0.0, 0.0, 1.0); 24];
        let curve = Curve::new(points, up, LineKind::Detail);
        scene.curves.push(curve.tagged(part::THREADS));
    }
    scene
}

fn toe_on_the_sole(shoe: &Shoe) -> Stage {
    let allowance = shoe.work.allowance;
    let mut scene = sole(shoe, allowance, Face::Right).scene(&shoe.seam);
    scene.add(toe_piece(shoe.form, shoe.extent, allowance));
    let [outer, inner] = shoe.seam.sides;
    let (from, to) = (outer - allowance, inner + allowance);
    let brim = brim(shoe);
    scene.add(brim.cloth([from, to], false));
    for (place, back) in [(from, -1.0), (to, 1.0)] {
        let points: Vec<Vec3> = (0..9)
            .map(|i| brim.point(place, f64::from(i) / 8.0))
            .collect();
        let lean = shoe.seam.along(place) * (0.8 * back) + Vec3::new(0.0, 0.0, 0.6);
        scene
            .curves
            .push(Curve::new(points, vec![lean; 9], LineKind::Edge).tagged(part::CUT_EDGE));
    }
    let mut line = crease(shoe);
    let within: Vec<bool> = Seam::places(shoe.seam.ends(), 420)
        .iter()
        .map(|place| (from..=to).contains(place))
        .collect();
    let keep = |list: &[Vec3]| {
        let kept = list.iter().zip(&within).filter(|(_, on)| **on);
        kept.map(|(v, _)| *v).collect::<Vec<Vec3>>()
    };
    (line.points, line.normals) = (keep(&line.points), keep(&line.normals));
    line.closed = false;
    scene.curves.push(line);
    let [start, end] = shoe.seam.ends();
    scene.curves.push(seam_line(&shoe.seam, [start, from]));
    scene.curves.push(seam_line(&shoe.seam, [to, end]));
    scene.curves.extend(sole_marks(shoe, [to, end]));
    for (place, mark) in shoe.seam.marks() {
        if outer < place && place < inner {
            scene.curves.extend(brim.mark(place, mark));
        }
    }
    let pins = shoe.seam.pins().into_iter();
    Stage {
        pins: pins
            .filter(|place| (outer..=inner).contains(place))
            .collect(),
        ..Stage::inside_out(scene)
    }
}

/// The whole upper on the sole: pinned, sewn or trimmed.
fn on_the_sole(shoe: &Shoe, state: State) -> Stage {
    let trimmed = state == State::Trimmed;
    let work = shoe.work;
    let width = if trimmed { work.trim } else { work.allowance };
    let mut scene = wrong_side_out(shoe, Face::Right);
    body::single_rim(&mut scene);
    scene.add(sole(shoe, width, Face::Right).scene(&shoe.seam));
    let whole = brim(shoe);
    let brim = Brim {
        allowance: width,
        rippled: whole.rippled * if trimmed { 0.4 } else { 1.0 },
        ..whole
    };
    scene.add(brim.cloth(shoe.seam.ends(), true));
    scene.curves.push(crease(shoe));
    let depth = (SEWN * work.allowance / width).min(0.5);
    let stitches = |stretch| brim.line(stretch, depth, LineKind::Stitch, part::SEWN);
    let [outer, inner] = shoe.seam.sides;
    match state {
        State::HeelOnTheSole => scene.curves.push(stitches([outer, inner])),
        // what is pressed was eased on threads, which stay in until it is sewn
        State::UpperOnTheSole if shoe.pressed => scene.add(easing_threads(shoe, &brim)),
        State::UpperOnTheSole => {}
        _ => scene.curves.push(stitches(shoe.seam.ends())),
    }
    if !trimmed {
        scene.curves.extend(upper_marks(shoe, &brim));
    }
    let pins = shoe.seam.pins().into_iter();
    let pins = match state {
        State::UpperOnTheSole => pins.collect(),
        State::HeelOnTheSole => pins.filter(|p| *p <= outer || *p >= inner).collect(),
        _ => Vec::new(),
    };
    Stage {
        pins,
        ..Stage::inside_out(scene)
    }
}

/// The arrow leads out of the opening over the heel.
fn turning(shoe: &Shoe) -> Stage {
    let stage = on_the_sole(shoe, State::Trimmed);
    let length = shoe.extent.length;
    let at = |x: f64, z: f64| Vec3::new(x * length, 0.0, z * length);
    // Higher over a high shoe.
    let high = shoe.form.cut.back_height / length - 0.25;
    let at = |x: f64, z: f64| at(x, z + high);
    Stage {
        arrow: Some([
            at(0.36, 0.12),
            at(0.26, 0.46),
            at(-0.06, 0.56),
            at(-0.22, 0.16),
        ]),
        ..stage
    }
}
