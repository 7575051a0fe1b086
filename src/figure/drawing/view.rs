//! From where a scene is seen, and its way onto paper. Angles in degrees.

use super::scene::Scene;
use crate::geometry::space::Vec3;
use kurbo::Point;

/// White left round a drawing, mm on paper: half the widest line and a little air.
const MARGIN: f64 = 1.0;

/// A direction of view from far away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    /// From the x axis towards the y axis.
    pub azimuth: f64,
    /// Above the plane of x and y.
    pub elevation: f64,
}

/// How large a drawing is to be, mm on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// Its width.
    pub width: f64,
    /// The height it must not exceed, if any; a drawing that would be higher is made narrower.
    pub height: Option<f64>,
}

/// The way from a scene to paper.
#[derive(Debug, Clone, PartialEq)]
pub struct Camera {
    right: Vec3,
    up: Vec3,
    toward: Vec3,
    /// Paper millimetres for one of the scene.
    pub scale: f64,
    /// Width of the drawing, mm.
    pub width: f64,
    /// Height of the drawing, mm.
    pub height: f64,
    left: f64,
    top: f64,
}

impl Camera {
    /// The camera that shows the whole of `scene` in `room`. `None` for a scene without extent.
    #[must_use]
    pub fn new(scene: &Scene, view: View, room: Room) -> Option<Self> {
        let (azimuth, elevation) = (view.azimuth.to_radians(), view.elevation.to_radians());
        let toward = Vec3::new(
            elevation.cos() * azimuth.cos(),
            elevation.cos() * azimuth.sin(),
            elevation.sin(),
        );
        let right = Vec3::new(-azimuth.sin(), azimuth.cos(), 0.0);
        let up = toward.cross(right);
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for point in scene.meshes.iter().flat_map(|mesh| &mesh.vertices) {
            for (axis, way) in [right, up].into_iter().enumerate() {
                low[axis] = low[axis].min(point.dot(way));
                high[axis] = high[axis].max(point.dot(way));
            }
        }
        let extent = [high[0] - low[0], high[1] - low[1]];
        let mut scale = (room.width - 2.0 * MARGIN) / extent[0];
        if let Some(height) = room.height {
            scale = scale.min((height - 2.0 * MARGIN) / extent[1]);
        }
        // Also false for what is no number.
        let sound = scale > 0.0 && scale.is_finite() && extent[1].is_finite();
        sound.then(|| Self {
            right,
            up,
            toward,
            scale,
            width: extent[0] * scale + 2.0 * MARGIN,
            height: extent[1] * scale + 2.0 * MARGIN,
            left: low[0] - MARGIN / scale,
            top: high[1] + MARGIN / scale,
        })
    }

    /// The direction towards the viewer, in the scene's axes.
    #[must_use]
    pub fn toward(&self) -> Vec3 {
        self.toward
    }

    /// A point of the scene on paper: x to the right, y down, z towards the viewer, mm on paper.
    #[must_use]
    pub fn place(&self, point: Vec3) -> Vec3 {
        Vec3::new(
            (point.dot(self.right) - self.left) * self.scale,
            (self.top - point.dot(self.up)) * self.scale,
            point.dot(self.toward) * self.scale,
        )
    }

    /// A direction of the scene in the axes of the paper.
    #[must_use]
    pub fn turn(&self, way: Vec3) -> Vec3 {
        Vec3::new(way.dot(self.right), -way.dot(self.up), way.dot(self.toward))
    }

    /// A point of the scene on paper without its depth.
    #[must_use]
    pub fn flat(&self, point: Vec3) -> Point {
        let at = self.place(point);
        Point::new(at.x, at.y)
    }
}
