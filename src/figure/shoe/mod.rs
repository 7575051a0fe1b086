//! Pictures of a finished shoe, drawn from its form: upper with its cloth's thickness, sole, strap
//! and button, stitching, gathers. The scene is in mm of the shoe, the picture in mm on paper.
//!
//! [`ShoePictures`] holds the scene of one shoe, made once; every view is drawn from it.

mod body;
mod bow;
mod button;
mod gathers;
mod hatching;
mod look;
pub mod making;
mod plane;
mod rim;
mod strap;
mod upper;
mod words;

#[cfg(test)]
mod tests;

use super::Figure;
use super::drawing::{Camera, LineDrawing, Room, Scene, Tints, View, draw, svg};
use crate::design;
use crate::draft::shoe::ShoeForm;
use crate::foot::form::{FootSide, station};
use crate::geometry::space::Vec3;
use crate::language::Words;
pub use look::{Sewn, ShoeLook, StrapLook, TieLook, Way};
use strap::{OuterEnd, Strap};
use upper::Upper;

/// What lines belong to, for the words of the picture.
mod part {
    use crate::figure::drawing::Tag;
    pub(super) const TOPSTITCH: Tag = 1;
    pub(super) const STRAP_STITCH: Tag = 2;
    pub(super) const SIDE_SEAM: Tag = 3;
    pub(super) const CREASE: Tag = 4;
    pub(super) const GATHERS: Tag = 5;
    pub(super) const SHADE: Tag = 6;
    pub(super) const ELASTIC: Tag = 7;
    pub(super) const BOW: Tag = 8;
    pub(super) const SLIT: Tag = 9;
    pub(super) const BUTTON_MARK: Tag = 10;
}

/// Thickness in which cloth is drawn, as shares of the foot's length: thinner cloth would print as
/// one thick line, thicker cloth as two lines that seem to be two things.
const CLOTH: [f64; 2] = [0.016, 0.022];

/// Least thickness in which a sole is drawn: mm, and as a share of the foot's length.
const SOLE: [f64; 2] = [1.3, 0.034];

/// Where the second shoe of a pair stands: backwards and across, as shares of the foot's length.
const SECOND: [f64; 2] = [-0.06, -0.68];

/// A pair with bows is seen from nearly straight ahead: from further aside both would seem to lean one
/// way. Degrees.
const BOWS: f64 = 10.0;

/// Below the first width, mm, a picture has no small things; below the second it is a side view.
const SMALL: [f64; 2] = [35.0, 25.0];

/// From where a shoe is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ShoeView {
    /// A left shoe from the front outside.
    ThreeQuarter,
    /// Its outer side.
    Side,
    /// From above, the toe up.
    Top,
    /// From the back outside.
    Back,
    /// Both shoes from the front.
    Pair,
}

/// A picture whose contour does not close, not to be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OpenContour {
    /// How many ends hang; 0 if nothing could be drawn at all.
    pub ends: usize,
}

/// How a picture is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Manner {
    /// Room on paper.
    pub room: Room,
    /// How cloths are told apart.
    pub tints: Tints,
    /// Whether the shaded side is hatched, for a cover.
    pub hatched: bool,
}

impl Manner {
    /// A picture as wide as `width` mm, cloths told apart by dots and hatching.
    #[must_use]
    pub fn wide(width: f64) -> Self {
        Self {
            room: Room {
                width,
                height: None,
            },
            tints: Tints::default(),
            hatched: false,
        }
    }
}

impl ShoeView {
    /// All views.
    pub const ALL: [ShoeView; 5] = [
        ShoeView::ThreeQuarter,
        ShoeView::Side,
        ShoeView::Top,
        ShoeView::Back,
        ShoeView::Pair,
    ];

    /// Its direction: azimuth from the toe towards the outer side.
    fn direction(self) -> View {
        let (azimuth, elevation) = match self {
            ShoeView::ThreeQuarter => (52.0, 27.0),
            ShoeView::Side => (90.0, 9.0),
            ShoeView::Top => (180.0, 89.9),
            ShoeView::Back => (150.0, 30.0),
            ShoeView::Pair => (32.0, 32.0),
        };
        View { azimuth, elevation }
    }
}

/// The scene of one shoe.
#[derive(Debug, Clone)]
pub struct ShoePictures {
    /// A left shoe: the outer side at y greater than 0.
    scene: Scene,
    /// The same without strap, stitching and crease, for very small pictures.
    plain: Scene,
    /// The upper of the right shoe, for hatching.
    net: Upper,
    extent: Extent,
    /// Whether it is for the right foot alone.
    right: bool,
    /// Whether it is tied in a bow.
    tied: bool,
}

impl ShoePictures {
    /// The scene of a shoe.
    #[must_use]
    pub fn new(form: &ShoeForm, look: &ShoeLook) -> Self {
        let extent = Extent::of(form);
        let net = Upper::new(form, &extent);
        let sole = body::sole(
            form,
            &extent,
            look.sole.max(SOLE[0]).max(SOLE[1] * extent.length),
        );
        let mut scene = body::upper(form, look, &extent, &net);
        scene.add(sole);
        let mut plain = scene.clone();
        plain
            .curves
            .retain(|c| !matches!(c.tag, part::TOPSTITCH | part::CREASE));
        if look.back_elastic {
            scene.curves.extend(gathers::gathers(&net, look, &extent));
        }
        if let Some(strap) = look.strap
            && let Some(made) = Strap::new(form, look, strap, &extent)
        {
            let end = match strap.button {
                true => OuterEnd::Buttoned,
                false => OuterEnd::Bare,
            };
            scene.add(made.scene(end));
        }
        if let Some(tie) = look.tie {
            scene.curves.push(bow::slit(&net, tie.slit));
            scene.add(bow::tied(form, look, (&extent, &net), true).unwrap_or_default());
        }
        Self {
            scene: mirrored(scene),
            plain: mirrored(plain),
            net,
            extent,
            right: look.only == Some(design::FootSide::Right),
            tied: look.tie.is_some(),
        }
    }

    /// The shoe seen from `view`.
    ///
    /// # Errors
    /// The contour is open: better no picture than that.
    pub fn figure(
        &self,
        view: ShoeView,
        manner: Manner,
        words: &Words,
    ) -> Result<Figure, OpenContour> {
        let view = if manner.room.width < SMALL[1] {
            ShoeView::Side
        } else {
            view
        };
        match self.drawn(view, manner) {
            Some(drawing) if drawing.open_ends == 0 => {
                let alt = words::alt((view, self.right), &drawing, manner.tints, words);
                Ok(Figure {
                    svg: svg(&drawing, manner.tints, &alt, 1.0),
                    width: drawing.width,
                    height: drawing.height,
                    alt,
                    scale: drawing.scale,
                })
            }
            drawn => Err(OpenContour {
                ends: drawn.map_or(0, |drawing| drawing.open_ends),
            }),
        }
    }

    fn drawn(&self, view: ShoeView, manner: Manner) -> Option<LineDrawing> {
        let room = manner.room;
        let small = manner.room.width < SMALL[0];
        let scene = if small { &self.plain } else { &self.scene };
        let mut direction = view.direction();
        if view == ShoeView::Pair {
            if self.tied {
                direction.azimuth = BOWS;
            }
            let [back, across] = SECOND.map(|share| share * self.extent.length);
            let second = mirrored(scene.clone()).moved(Vec3::new(back, across, 0.0));
            let mut both = scene.clone();
            both.add(second);
            return draw(&both, direction, room);
        }
        let mut scene = scene.clone();
        if self.right {
            scene = mirrored(scene);
            direction.azimuth = -direction.azimuth;
        }
        if !manner.hatched {
            return draw(&scene, direction, room);
        }
        let camera = Camera::new(&scene, direction, room)?;
        let shade = hatching::shade(&self.net, &self.extent, &camera, self.right);
        scene.curves.extend(shade);
        draw(&scene, direction, room)
    }
}

/// The shoe seen from `view`; see [`ShoePictures::figure`].
///
/// # Errors
/// As there.
pub fn drawing(
    form: &ShoeForm,
    look: &ShoeLook,
    view: ShoeView,
    manner: Manner,
) -> Result<Figure, OpenContour> {
    ShoePictures::new(form, look).figure(view, manner, &Words::default())
}

/// The scene of the other shoe.
fn mirrored(mut scene: Scene) -> Scene {
    let over = |v: &mut Vec3| v.y = -v.y;
    for mesh in &mut scene.meshes {
        mesh.vertices.iter_mut().for_each(over);
        mesh.normals.iter_mut().for_each(over);
        mesh.turn_over();
    }
    for curve in &mut scene.curves {
        curve.points.iter_mut().for_each(over);
        curve.normals.iter_mut().for_each(over);
    }
    scene
}

/// How large a shoe is.
#[derive(Debug, Clone, Copy)]
struct Extent {
    /// Length of the foot it is for, mm.
    length: f64,
    /// x of the sole's seam line at heel and toe.
    back: f64,
    front: f64,
}

impl Extent {
    fn of(form: &ShoeForm) -> Self {
        // The surface fans round heel and toe beyond known shares of the foot's length.
        let [heel, toe] = form.surface.fans;
        Self {
            length: (toe - heel) / (station::TOE_FAN - station::HEEL_FAN),
            back: form.surface.edge.back(),
            front: form.surface.edge.front(),
        }
    }

    /// A point inside the shoe.
    fn middle(&self) -> Vec3 {
        Vec3::new(0.45 * self.length, 0.0, 0.09 * self.length)
    }

    /// The thickness in which the cloth is drawn.
    fn cloth(&self, look: &ShoeLook) -> f64 {
        look.cloth
            .clamp(CLOTH[0] * self.length, CLOTH[1] * self.length)
    }

    /// Outward unit normal of the form, by differences.
    fn normal(&self, form: &ShoeForm, side: FootSide, distance: f64, place: f64) -> Vec3 {
        let step = 0.02 * self.length;
        let along =
            form.point(side, distance + step, place) - form.point(side, distance - step, place);
        let (low, high) = ((place - 0.01).max(0.0), (place + 0.01).min(1.0));
        let up = form.point(side, distance, high) - form.point(side, distance, low);
        let normal = along.cross(up).unit();
        let outward = form.point(side, distance, place) - self.middle();
        if normal.dot(outward) < 0.0 {
            -normal
        } else {
            normal
        }
    }
}
