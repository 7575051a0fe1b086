//! What a designer decides about a shoe besides the foot: ease, cloth, where the topline runs, how
//! it closes, and what the fitting taught. Millimetres, degrees, shares.

use crate::design::ClothKind;

/// How a shoe closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closure {
    /// Not at all: the foot slips in.
    Open,
    /// A strap over the foot, sewn at both sides, with elastic in it: of cloth, or of ribbon.
    ElasticStrap,
    /// Elastic at the back of the heel; a strap or ribbon that does not stretch may lie over the foot.
    BackElastic,
    /// Ribbons tied over the foot, the throat slit as far as need be.
    Tie,
}

/// Ease drawn round the traced foot: 1/8 in, common practice.
pub const EASE: f64 = 3.175;

/// Shoes for feet shorter than this, mm, are sewn with a narrower allowance (common practice).
const SMALL: f64 = 40.0;

/// All choices for one size.
#[derive(Debug, Clone, PartialEq)]
pub struct ShoeChoices {
    /// Ease round the sole, mm.
    pub ease: f64,
    /// The upper's cloth.
    pub cloth: UpperCloth,
    /// Thickness of the upper's lining, mm.
    pub lining_thickness: f64,
    /// Thickness of the sole, mm.
    pub sole_thickness: f64,
    /// Allowance at the topline, mm; a throat rounder than this cannot be turned.
    pub allowance: f64,
    /// What is left of the allowance after stitching twice, mm (1/16 in, common practice).
    pub trim: f64,
    /// Where the topline and the side seams run.
    pub cut: ShoeCut,
    /// Fullness of the toe piece in mm; unless given, what the form wants and the cloth takes.
    pub fullness: Option<f64>,
    /// Whether pieces for the upper's lining are drafted too.
    pub lining: bool,
    /// How the foot gets in.
    pub donning: DonningChoices,
    /// What the fitting taught.
    pub corrections: Corrections,
    /// Vertices along the foot of the meshes that are flattened; more are slower and change an
    /// outline by less than 0.25 mm.
    pub fineness: f64,
}

/// The cloth of an upper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UpperCloth {
    /// Its kind.
    pub kind: ClothKind,
    /// Its thickness, mm.
    pub thickness: f64,
    /// How much longer than the sole the toe piece may be between the ease notches, as a share.
    pub ease_limit: f64,
}

/// Where the topline and the side seams run. Distances lie along the foot from the traced heel,
/// heights above the sole's seam, both mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShoeCut {
    /// Where the topline crosses the ridge.
    pub throat: f64,
    /// How steeply the topline falls from the throat, seen from the side, degrees below level.
    pub throat_angle: f64,
    /// Where the topline is lowest.
    pub low_point: f64,
    /// Height of the lowest point, inner and outer side.
    pub side_heights: [f64; 2],
    /// Height at the back of the heel.
    pub back_height: f64,
    /// Where toe piece and heel piece meet on the sole, inner and outer side.
    pub side_marks: [f64; 2],
    /// How far the side seams lean towards the toe at the topline.
    pub seam_lean: f64,
}

/// How the foot gets in, and what holds the shoe on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DonningChoices {
    /// How the shoe closes.
    pub closure: Closure,
    /// How far the foot gives, as a share of its girth: 0 for a hard doll, 0.05 for a cloth one
    /// (from memory of practice).
    pub give: f64,
    /// Thickness of the topline's edge, mm; twice the cloth unless given.
    pub edge_thickness: Option<f64>,
    /// How far the elastic stretches with comfort, as a ratio; measured by the designer.
    pub stretch: f64,
    /// Where the strap crosses the foot, as a share of its length from the heel.
    pub strap_at: f64,
    /// Cloth gathered on the elastic at the back, as a share of the foot's length.
    pub back_span: f64,
}

/// What a fitting taught, each 0 unless something was found. Millimetres unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Corrections {
    /// More ease round the sole.
    pub ease: f64,
    /// Topline higher at both sides.
    pub side_height: f64,
    /// Topline higher at the back.
    pub back_height: f64,
    /// Throat nearer the toe.
    pub throat: f64,
    /// Throat steeper, degrees, which makes it wider.
    pub throat_angle: f64,
    /// More room above the toes.
    pub toe_room: f64,
    /// Longer toe.
    pub toe_length: f64,
    /// More fullness in the toe piece.
    pub fullness: f64,
    /// Sole narrower at each side of the heel.
    pub heel_narrower: f64,
    /// Topline held closer to the heel, the sole unchanged.
    pub heel_clip: f64,
    /// Side marks nearer the toe, inner and outer side.
    pub side_marks: [f64; 2],
    /// Side seams taken in at the topline, inner and outer side; negative lets out.
    pub take_in: [f64; 2],
}

impl UpperCloth {
    /// Cloth of this kind as it usually is.
    #[must_use]
    pub fn usual(kind: ClothKind) -> Self {
        let facts = kind.facts();
        Self {
            kind,
            thickness: facts.thickness,
            ease_limit: facts.ease_limit,
        }
    }
}

impl ShoeCut {
    /// A low round-throated shoe on a foot of this length (proportions from judgement).
    #[must_use]
    pub fn round(length: f64) -> Self {
        Self {
            throat: 0.64 * length,
            throat_angle: 35.0,
            low_point: 0.33 * length,
            side_heights: [0.17 * length, 0.165 * length],
            back_height: 0.25 * length,
            side_marks: [0.45 * length; 2],
            seam_lean: 0.0,
        }
    }
}

impl Default for DonningChoices {
    fn default() -> Self {
        Self {
            closure: Closure::Open,
            give: 0.0,
            edge_thickness: None,
            stretch: 1.8,
            strap_at: 0.46,
            back_span: 0.45,
        }
    }
}

impl ShoeChoices {
    /// The usual choices for a foot of this length in this cloth: ease of 1/8 in all round.
    #[must_use]
    pub fn usual(length: f64, kind: ClothKind) -> Self {
        Self {
            ease: EASE,
            cloth: UpperCloth::usual(kind),
            lining_thickness: 0.3,
            sole_thickness: 1.2,
            allowance: if length < SMALL { 3.2 } else { 4.7625 },
            trim: 1.6,
            cut: ShoeCut::round(length),
            fullness: None,
            lining: false,
            donning: DonningChoices::default(),
            corrections: Corrections::default(),
            fineness: 52.0,
        }
    }

    /// The cut with its corrections.
    #[must_use]
    pub(in crate::draft) fn corrected_cut(&self) -> ShoeCut {
        let (cut, more) = (self.cut, self.corrections);
        ShoeCut {
            throat: cut.throat + more.throat,
            throat_angle: cut.throat_angle + more.throat_angle,
            side_heights: cut.side_heights.map(|height| height + more.side_height),
            back_height: cut.back_height + more.back_height,
            side_marks: [0, 1].map(|i| cut.side_marks[i] + more.side_marks[i]),
            ..cut
        }
    }

    /// The ease round the sole with its correction, mm.
    #[must_use]
    pub(in crate::draft) fn corrected_ease(&self) -> f64 {
        self.ease + self.corrections.ease
    }
}
