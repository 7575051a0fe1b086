//! A shoe in the making: one drawing for each state between the cut pieces and the finished shoe,
//! from the same form as the finished one. The right shoe, as the pieces are, but of a size for the
//! left foot the left one. Millimetres; the scene in the foot's axes, the picture on paper.

mod brim;
mod parts;
mod pinned;
mod plate;
mod puckers;
mod seam;
mod standing;
mod state;
mod steps;
mod toe_net;
mod turned;
mod words;

#[cfg(test)]
mod tests;

pub use state::{Seen, State, Step, states};

use super::super::Figure;
use super::super::drawing::{
    Camera, LEAST_STRIP, LineDrawing, Room, Scene, View, draw_through, svg,
};
use super::strap::Strap;
use super::upper::Upper;
use super::{Extent, Manner, OpenContour, ShoeLook, mirrored};
use crate::design::FootSide;
use crate::draft::shoe::ShoeForm;
use crate::geometry::space::Vec3;
use crate::language::Words;
use kurbo::CubicBez;
use seam::Seam;
use std::sync::OnceLock;

/// How many times as large a drawing is made and made smaller again, so that its rim is two lines.
const LARGER: [f64; 4] = [1.0, 1.25, 1.5, 2.0];

/// What lines belong to, for words and tests.
mod part {
    use crate::figure::drawing::Tag;
    pub(super) const SEAM_LINE: Tag = 20;
    pub(super) const CUT_EDGE: Tag = 21;
    pub(super) const NOTCH: Tag = 22;
    pub(super) const PIN: Tag = 23;
    pub(super) const PIN_HEAD: Tag = 24;
    pub(super) const SEWN: Tag = 25;
    pub(super) const OPENED: Tag = 26;
    pub(super) const THREADS: Tag = 27;
    pub(super) const LAID_IN: Tag = 28;
    pub(super) const STRAP: Tag = 29;
    pub(super) const PUCKERS: Tag = 30;
    pub(super) const ELASTIC: Tag = super::super::part::ELASTIC;
}

/// What the states show besides form and look, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Work {
    /// The allowance along the sole.
    pub allowance: f64,
    /// What is left of it after trimming.
    pub trim: f64,
    /// How far inside the seam line the stiffener ends, if there is one.
    pub stiffener: Option<f64>,
    /// How far inside the seam line the lining sole ends.
    pub lining_sole: f64,
    /// A strap sewn at both sides: its cloth and its elastic.
    pub strap: Option<[f64; 2]>,
    /// How long the throat is slit.
    pub slit: Option<f64>,
    /// Width of ribbons that are tied.
    pub ribbon: Option<f64>,
}

/// A scene with what is drawn over it.
struct Stage {
    pub(super) scene: Scene,
    /// An arrow, as the four points of a cubic.
    pub(super) arrow: Option<[Vec3; 4]>,
    /// Whether the wrong side is out, so that a right shoe is seen as in a mirror.
    pub(super) inside_out: bool,
    /// Pins along the sole: their places.
    pub(super) pins: Vec<f64>,
    /// Pins through the upper: where each goes in and comes out, and out of the cloth.
    pub(super) through: Vec<[Vec3; 3]>,
    /// Thickness of a rim through which paper is seen, mm: a contour closes round that paper only if
    /// the rim is printed as two lines.
    pub(super) rim: Option<f64>,
}

impl Stage {
    fn of(scene: Scene) -> Self {
        Self {
            scene,
            arrow: None,
            inside_out: false,
            pins: Vec::new(),
            through: Vec::new(),
            rim: None,
        }
    }

    fn inside_out(scene: Scene) -> Self {
        Self {
            inside_out: true,
            ..Self::of(scene)
        }
    }
}

/// What a state is built from.
#[derive(Clone, Copy)]
struct Shoe<'a> {
    pub(super) form: &'a ShoeForm,
    pub(super) look: &'a ShoeLook,
    pub(super) work: &'a Work,
    pub(super) extent: &'a Extent,
    pub(super) net: &'a Upper,
    pub(super) strap: &'a OnceLock<Option<Strap>>,
    /// Whether the fullness of the toe is pressed away.
    pub(super) pressed: bool,
    seam: Seam<'a>,
}

/// One shoe in the making: what all its states are drawn from is made once.
#[derive(Debug)]
pub struct ShoeInTheMaking<'a> {
    form: &'a ShoeForm,
    look: ShoeLook,
    work: Work,
    extent: Extent,
    net: Upper,
    /// The strap over the foot, made when a state first shows it.
    strap: OnceLock<Option<Strap>>,
}

impl<'a> ShoeInTheMaking<'a> {
    /// The shoe over a form.
    #[must_use]
    pub fn new(form: &'a ShoeForm, look: ShoeLook, work: Work) -> Self {
        let extent = Extent::of(form);
        Self {
            form,
            look,
            work,
            extent,
            net: Upper::new(form, &extent),
            strap: OnceLock::new(),
        }
    }

    fn is_left(&self) -> bool {
        self.look.only == Some(FootSide::Left)
    }

    fn shoe<'s>(&'s self, look: &'s ShoeLook, pressed: bool) -> Shoe<'s> {
        Shoe {
            form: self.form,
            look,
            work: &self.work,
            extent: &self.extent,
            net: &self.net,
            strap: &self.strap,
            pressed,
            seam: Seam::new(self.form, self.extent.length),
        }
    }

    /// The state `step`.
    ///
    /// # Errors
    /// The contour is open, or the design has no such state (then 0 ends).
    pub fn figure(&self, step: Step, manner: Manner, said: &Words) -> Result<Figure, OpenContour> {
        let shown = step.topline_sewn || step.state.is_finished();
        let look = ShoeLook {
            topstitch: self.look.topstitch && shown,
            ..self.look
        };
        let shoe = self.shoe(&look, step.pressed);
        let stage = steps::stage(&shoe, step.state).ok_or(OpenContour { ends: 0 })?;
        let view = step.view(stage.inside_out != self.is_left());
        let mut placed = Placed::of(stage, self.is_left());
        let larger = placed.larger(view, manner);
        let drawing = placed.drawn(&shoe, view, manner, larger);
        let drawing = drawing.ok_or(OpenContour { ends: 0 })?;
        if drawing.open_ends > 0 {
            return Err(OpenContour {
                ends: drawing.open_ends,
            });
        }
        let shrunk = 1.0 / larger;
        let alt = words::alt((step, self.look.only), &drawing, said);
        Ok(Figure {
            svg: svg(&drawing, manner.tints, &alt, shrunk),
            width: drawing.width * shrunk,
            height: drawing.height * shrunk,
            alt,
            scale: drawing.scale * shrunk,
        })
    }
}

/// The state `step` of a shoe; see [`ShoeInTheMaking::figure`].
///
/// # Errors
/// As there.
pub fn figure(
    form: &ShoeForm,
    look: &ShoeLook,
    work: &Work,
    step: Step,
    (manner, said): (Manner, &Words),
) -> Result<Figure, OpenContour> {
    ShoeInTheMaking::new(form, *look, *work).figure(step, manner, said)
}

/// A stage with its scene as it is seen.
struct Placed {
    scene: Scene,
    stage: Stage,
    /// Whether it is seen as in a mirror: a right shoe wrong side out, or a left one.
    mirrored: bool,
}

impl Placed {
    fn of(mut stage: Stage, left: bool) -> Self {
        let mirror = stage.inside_out != left;
        let mut scene = std::mem::take(&mut stage.scene);
        // Corners without triangles keep the arrow within the picture.
        if let Some(arrow) = stage.arrow {
            scene.meshes.push(super::super::drawing::Mesh {
                vertices: arrow.to_vec(),
                normals: vec![Vec3::new(0.0, 0.0, 1.0); 4],
                ..Default::default()
            });
        }
        if mirror {
            scene = mirrored(scene);
        }
        Self {
            scene,
            stage,
            mirrored: mirror,
        }
    }

    /// A point of the stage as it is seen, or the other way.
    fn over(&self, v: Vec3) -> Vec3 {
        if self.mirrored {
            Vec3::new(v.x, -v.y, v.z)
        } else {
            v
        }
    }

    /// How much larger it is drawn and then scaled down: as little as leaves its rim two lines; not at
    /// all if none does.
    fn larger(&self, view: View, manner: Manner) -> f64 {
        let Some(rim) = self.stage.rim else {
            return 1.0;
        };
        let wide = |larger: &f64| {
            let camera = Camera::new(&self.scene, view, room(manner, *larger));
            camera.is_some_and(|camera| rim * camera.scale >= LEAST_STRIP)
        };
        LARGER.into_iter().find(wide).unwrap_or(1.0)
    }

    /// The drawing in a room `larger` times as large.
    fn drawn(
        &mut self,
        shoe: &Shoe,
        view: View,
        manner: Manner,
        larger: f64,
    ) -> Option<LineDrawing> {
        let room = room(manner, larger);
        let mut camera = Camera::new(&self.scene, view, room)?;
        let toward = self.over(camera.toward());
        let mut pins = pinned::pins(shoe, &self.stage, &camera, toward, larger);
        if self.mirrored {
            pins = mirrored(pins);
        }
        let (meshes, curves) = (self.scene.meshes.len(), self.scene.curves.len());
        let wider = !pins.meshes.is_empty();
        self.scene.add(pins);
        if wider {
            camera = Camera::new(&self.scene, view, room)?;
        }
        let mut drawing = draw_through(&self.scene, &camera);
        self.scene.meshes.truncate(meshes);
        self.scene.curves.truncate(curves);
        if let Some(arrow) = self.stage.arrow {
            let [a, b, c, d] = arrow.map(|point| camera.flat(self.over(point)));
            drawing.arrows.push(CubicBez::new(a, b, c, d));
        }
        Some(drawing)
    }
}

/// Room for a picture `larger` times as large.
fn room(manner: Manner, larger: f64) -> Room {
    Room {
        width: manner.room.width * larger,
        height: manner.room.height.map(|height| height * larger),
    }
}
