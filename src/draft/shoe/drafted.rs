//! A drafted shoe: everything that later stages print, draw or check. Millimetres, on the page.

use super::body::Builder;
use super::choices::ShoeChoices;
use super::donning::Donning;
use super::easing::Easing;
use super::flat::FlatPatch;
use super::notch::ShoeNotch;
use super::notches::{WalkStep, notches};
use super::patch::UpperPiece;
use super::shoe_form::ShoeForm;
use super::soles::{Soles, soles};
use super::spreading::Casing;
use super::steps::DraftStep;
use super::told::Told;
use super::upper::{Upper, upper};
use super::warnings;
use crate::diagnostic::Diagnostics;
use crate::foot::Foot;
use crate::foot::form::FootForm;
use crate::geometry::Outline;
use kurbo::Point;

/// A drafted shoe for one size. Pieces are those of the right foot, seen from outside, without
/// allowance; x to the right and y down, outlines clockwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Shoe {
    /// The toe piece, toe down: `sole edge`, `outer side`, `topline`, `inner side`.
    pub toe: Outline,
    /// The heel piece, sole down: `sole edge`, `inner side`, `topline`, `outer side`.
    pub heel: Outline,
    /// Whether the heel piece is its own mirror image about x = 0 and may be cut on the fold.
    pub heel_on_fold: bool,
    /// The soles, all with a `toe edge` and a `heel edge`.
    pub soles: Soles,
    /// The same pieces for the upper's lining, if asked for.
    pub lining: Option<LiningPieces>,
    /// Notches of toe piece, heel piece and sole.
    pub notches: Vec<ShoeNotch>,
    /// The seam between upper and sole, walked from mark to mark.
    pub walk: Vec<WalkStep>,
    /// The easing of the toe piece.
    pub easing: Easing,
    /// Getting it on.
    pub donning: Donning,
    /// Where the heel piece is gathered on elastic, if it is.
    pub casing: Option<Casing>,
    /// The shoe in space.
    pub form: ShoeForm,
    /// The foot in space, with what was found from its measures.
    pub foot: FootForm,
    /// The flat meshes of toe piece and heel piece, for pictures of the strain.
    pub flat: [FlatMesh; 2],
    /// How well it came out.
    pub quality: Quality,
}

/// The pieces of an upper's lining; they have the edges of the upper's pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct LiningPieces {
    /// The toe piece.
    pub toe: Outline,
    /// The heel piece.
    pub heel: Outline,
    /// The sole, parted where these pieces meet.
    pub sole: Outline,
    /// Fullness of the toe piece, mm.
    pub fullness: f64,
}

/// A piece as it was flattened.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatMesh {
    /// Points on the page, mm.
    pub points: Vec<Point>,
    /// Triangles as indices of points.
    pub triangles: Vec<[usize; 3]>,
    /// How much larger the cloth is round each point than on the form, as a share.
    pub area_strain: Vec<f64>,
    /// Least and greatest stretch of a triangle, as ratios of lengths.
    pub stretch: [f64; 2],
    /// Mean change of area, as a share.
    pub mean_area_strain: f64,
}

/// How well a shoe came out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quality {
    /// Greatest distance from the edge of a flat mesh to its curve, mm.
    pub worst_fit: f64,
    /// What the corners of both pieces make together at the side seams, degrees: at the sole inner
    /// and outer, at the topline inner and outer.
    pub corners: [f64; 4],
    /// Smallest room between the foot and the middle of the cloth, mm.
    pub room: f64,
}

/// Drafts a shoe over `foot`. Everything that is in the way, or that the designer should know, goes
/// to `diagnostics`; `None` if no shoe came of it.
pub fn draft_shoe(
    foot: &Foot,
    choices: &ShoeChoices,
    diagnostics: &mut Diagnostics,
) -> Option<Shoe> {
    draft_shoe_in_steps(foot, choices, diagnostics, &mut |_| {})
}

/// The same, with `done` told after each step.
pub fn draft_shoe_in_steps(
    foot: &Foot,
    choices: &ShoeChoices,
    diagnostics: &mut Diagnostics,
    done: &mut dyn FnMut(DraftStep),
) -> Option<Shoe> {
    let body = FootForm::new(foot, diagnostics)?;
    done(DraftStep::Foot);
    let mut told = Told::new(&foot.place, diagnostics);
    let builder = Builder {
        foot,
        body: &body,
        choices,
        inset: 0.0,
    };
    let form = ShoeForm::new(&builder, &mut told)?;
    done(DraftStep::Form);
    let soles = soles(&form.sole, form.cut.side_marks, choices, &mut told);
    done(DraftStep::Soles);
    let upper = upper(&builder, &form, None, &mut told, done)?;
    let (donning, casing) = (upper.donning, upper.casing);
    donning.judge(choices.donning.closure, &mut told);
    let room = warnings::tell(&body, &form, &upper.easing, choices, &mut told);
    let (mut notches, walk) = notches(&form, upper.zone, &upper.toe, &upper.heel);
    notches.extend(casing.iter().flat_map(Casing::notches));
    done(DraftStep::Checks);
    let lining = if choices.lining {
        let lining = lining(&builder, &donning, &mut told)?;
        done(DraftStep::Lining);
        Some(lining)
    } else {
        None
    };
    let soles = soles?.with_lining(lining.as_ref().map(|lining| &lining.sole));
    let Upper {
        toe,
        heel,
        toe_outline,
        heel_outline,
        heel_on_fold,
        easing,
        worst_fit,
        corners,
        ..
    } = upper;
    Some(Shoe {
        toe: toe_outline,
        heel: heel_outline,
        heel_on_fold,
        soles,
        lining,
        notches,
        walk,
        easing,
        donning,
        casing,
        flat: [flat_mesh(toe), flat_mesh(heel)],
        quality: Quality {
            worst_fit,
            corners,
            room,
        },
        form,
        foot: body,
    })
}

/// The lining of the upper lies inside it by half of both thicknesses, and is drafted over a form
/// that is smaller by that.
fn lining(builder: &Builder<'_>, outer: &Donning, told: &mut Told<'_>) -> Option<LiningPieces> {
    let choices = builder.choices;
    let builder = Builder {
        inset: 0.5 * (choices.cloth.thickness + choices.lining_thickness),
        ..*builder
    };
    let form = ShoeForm::new(&builder, told)?;
    let upper = upper(&builder, &form, Some(outer), told, &mut |_| {})?;
    let [inner, outer] = form.cut.side_marks;
    Some(LiningPieces {
        toe: upper.toe_outline,
        heel: upper.heel_outline,
        sole: form.sole.on_page(inner, outer).ok()?,
        fullness: upper.easing.used,
    })
}

fn flat_mesh(piece: FlatPatch) -> FlatMesh {
    let strain = &piece.strain;
    let area: f64 = strain.iter().map(|s| s.area).sum();
    let change = strain.iter().map(|s| s.area * (s.area_ratio - 1.0).abs());
    FlatMesh {
        points: piece.flat.iter().map(|p| Point::new(p.x, -p.y)).collect(),
        stretch: [
            strain.iter().map(|s| s.least).fold(f64::INFINITY, f64::min),
            strain.iter().map(|s| s.greatest).fold(0.0, f64::max),
        ],
        mean_area_strain: change.sum::<f64>() / area.max(1e-300),
        triangles: piece.patch.mesh.triangles,
        area_strain: piece.area_strain,
    }
}

impl Shoe {
    /// The flat mesh of a piece.
    #[must_use]
    pub fn flat_mesh(&self, piece: UpperPiece) -> &FlatMesh {
        &self.flat[piece as usize]
    }
}
