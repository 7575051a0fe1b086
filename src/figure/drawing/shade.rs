//! Hatching that follows the sections of a form, on its shaded side only. Millimetres of the model.

use super::line_kind::LineKind;
use super::scene::{Curve, Tag};
use crate::geometry::space::Vec3;

/// Where the light comes from and where shade begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Light {
    /// Towards the light, length 1.
    pub toward: Vec3,
    /// A surface is in full shade where its normal and the light have a product below this...
    pub full: f64,
    /// ...and in half shade, every second line, below this.
    pub half: f64,
}

/// The stretches of the section lines `sections`, each a list of points and outward unit normals,
/// that lie in shade. Every second line ends where full shade ends.
#[must_use]
pub fn shaded(sections: &[(Vec<Vec3>, Vec<Vec3>)], light: Light, tag: Tag) -> Vec<Curve> {
    let mut curves = Vec::new();
    for (number, (points, normals)) in sections.iter().enumerate() {
        let limit = if number % 2 == 0 {
            light.half
        } else {
            light.full
        };
        let dark: Vec<bool> = normals
            .iter()
            .map(|normal| normal.dot(light.toward) < limit)
            .collect();
        for run in super::polyline::runs(&dark) {
            if run.on && run.to - run.from > 1 {
                let (points, normals) = (&points[run.from..run.to], &normals[run.from..run.to]);
                let curve = Curve::new(points.to_vec(), normals.to_vec(), LineKind::Hatching);
                curves.push(curve.tagged(tag));
            }
        }
    }
    curves
}
