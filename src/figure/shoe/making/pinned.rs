//! Pins of a state, their heads turned towards the viewer. Millimetres, the foot's axes.

use super::brim::{HEAD, head};
use super::parts::brim;
use super::{Shoe, Stage, part};
use crate::figure::drawing::{Camera, Curve, LineKind, Scene, width_factor};
use crate::geometry::space::Vec3;

/// All pins of a stage, their heads turned towards the viewer.
pub(super) fn pins(
    shoe: &Shoe,
    stage: &Stage,
    camera: &Camera,
    toward: Vec3,
    larger: f64,
) -> Scene {
    let mut scene = Scene::default();
    let factor = width_factor(camera.width / larger) * larger;
    let brim = brim(shoe);
    for place in &stage.pins {
        if let Some(pin) = brim.pin(*place, camera, toward, factor) {
            scene.add(pin);
        }
    }
    for [from, to, out] in &stage.through {
        for (a, b) in [(0.0, 0.34), (0.62, 1.0)] {
            let points = (0..12).map(|i| from.lerp(*to, a + (b - a) * f64::from(i) / 11.0));
            let curve = Curve::new(points.collect(), vec![*out; 12], LineKind::Detail);
            scene.curves.push(curve.tagged(part::PIN));
        }
        scene.add(head(*to, HEAD * factor / camera.scale, toward));
    }
    scene
}
