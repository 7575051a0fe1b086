//! A shoe drafted with ruler and compass from strips of paper laid over the padded foot, for quick
//! slippers and for designers with a tape only. Same pieces, names and notches as a shoe drafted
//! over a form; no form, and so no drawing and no natural fullness. Millimetres.
//!
//! Against shoes drafted over a form the heel piece is as good; the toe piece lies within 3 mm, and
//! its fullness is whatever the strips leave over.

mod heel;
mod lengths;
mod over;
mod toe;

#[cfg(test)]
mod tests;

pub use lengths::{StripSide, Strips};

use super::choices::{Corrections, ShoeChoices};
use super::easing::{Easing, NOTCHES, rounded_window};
use super::notch::{NotchedPiece, ShoeNotch};
use super::notches::WalkStep;
use super::patch::{UpperEdge, UpperPiece};
use super::soles::{Soles, sole_ring, soles};
use super::told::Told;
use super::warnings::too_full;
use crate::diagnostic::Diagnostics;
use crate::foot::Foot;
use crate::foot::form::{FeatherEdge, FootSide, station};
use crate::geometry::{Edge, Outline};
use heel::{HalfHeel, Heel, Heights};
use kurbo::{Affine, BezPath, Point};
use std::f64::consts::{FRAC_PI_2, PI};
use toe::{HalfToe, Toe, Wanted};

/// Side seams that differ by no more than this, and halves of the sole's heel that do, mm, are made
/// alike, so that the heel piece can be cut on the fold.
const ALIKE: [f64; 2] = [0.1, 0.3];

/// Less fullness than this, mm, is none.
const NO_FULLNESS: f64 = 0.05;

/// A shoe drafted from strips, for one size: pieces of the right foot, as those of `Shoe`.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatShoe {
    /// The toe piece, toe down: `sole edge`, `outer side`, `topline`, `inner side`.
    pub toe: Outline,
    /// The heel piece, sole down: `sole edge`, `inner side`, `topline`, `outer side`.
    pub heel: Outline,
    /// Whether the heel piece is its own mirror image about x = 0 and may be cut on the fold.
    pub heel_on_fold: bool,
    /// The soles, from the tracing.
    pub soles: Soles,
    /// Notches of toe piece, heel piece and sole.
    pub notches: Vec<ShoeNotch>,
    /// The seam between upper and sole, walked from mark to mark.
    pub walk: Vec<WalkStep>,
    /// The easing of the toe piece. How full it wants to be is not known: `natural` is what the
    /// strips left over, as `used` is.
    pub easing: Easing,
    /// The whole topline, mm.
    pub topline: f64,
}

/// Stations along the sole's seam line, in mm from the toe on each side.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Stations {
    notches: [f64; 2],
    balls: [f64; 2],
    marks: [f64; 2],
    ends: [f64; 2],
}

/// Drafts a shoe from strips. The soles come from the tracing with its ease. Everything that is in
/// the way, or that the designer should know, goes to `diagnostics`; `None` if no shoe came of it.
pub fn draft_from_strips(
    foot: &Foot,
    strips: &Strips,
    choices: &ShoeChoices,
    diagnostics: &mut Diagnostics,
) -> Option<FlatShoe> {
    let mut told = Told::new(&foot.place, diagnostics);
    tell_of_corrections(choices, &mut told);
    let ring = sole_ring(foot, choices, 0.0, &mut told)?;
    let edge = FeatherEdge::new(&ring.inner_side(), &ring.outer_side())?;
    let cut = choices.corrected_cut();
    let soles = soles(&ring, cut.side_marks, choices, &mut told)?;
    let at = |share: f64| FootSide::BOTH.map(|s| edge.distance_at(s, share * foot.length));
    let stations = Stations {
        notches: at(NOTCHES),
        balls: at(station::BALL),
        marks: FootSide::BOTH.map(|s| edge.distance_at(s, cut.side_marks[s as usize])),
        ends: FootSide::BOTH.map(|s| edge.length(s)),
    };
    let strips = alike(strips, &stations);
    let halves = FootSide::BOTH.map(|side| half_heel(&edge, side, &strips, choices, &stations));
    let [inner, outer] = halves;
    let on_fold = is_alike(&strips, &stations);
    let halves = if on_fold {
        [inner.mean(&outer), inner.mean(&outer)]
    } else {
        [inner, outer]
    };
    let [inner, outer] = FootSide::BOTH.map(|side| HalfToe::new(side, &strips, &mut told));
    let toe_halves = inner.zip(outer).map(|(inner, outer)| [inner, outer]);
    let corners = toe_halves.map_or([FRAC_PI_2; 2], |halves| {
        let corners = halves.map(|half| half.sole_corner());
        if on_fold {
            [0.5 * (corners[0] + corners[1]); 2]
        } else {
            corners
        }
    });
    let at_heel = corners.map(|corner| PI - corner);
    let heel = Heel::new(&halves, &strips, at_heel, foot.length, &mut told)?;
    let wanted = Wanted {
        corners: [corners, heel.top_corners()],
        sole: wanted_sole(choices, &stations),
        topline: strips.toe_topline,
    };
    let toe = Toe::new(toe_halves?, wanted, &mut told);
    let (easing, notches, walk) = eased(&toe, &stations, choices);
    tell_of_fullness(&easing, choices, &mut told);
    let heel_outline = outline(UpperPiece::Heel, heel.edges(), &mut told);
    let toe_outline = outline(UpperPiece::Toe, toe.edges(), &mut told);
    let (toe, heel) = (toe_outline?, heel_outline?);
    let topline = |piece: &Outline| piece.edge("topline").map_or(0.0, Edge::length);
    Some(FlatShoe {
        topline: topline(&toe) + topline(&heel),
        toe,
        heel,
        heel_on_fold: on_fold,
        soles,
        notches,
        walk,
        easing,
    })
}

/// Length of the toe piece's sole edge if a fullness was chosen; else it is what the strips give.
fn wanted_sole(choices: &ShoeChoices, stations: &Stations) -> Option<f64> {
    let fullness = choices.fullness? + choices.corrections.fullness;
    Some(stations.marks[0] + stations.marks[1] + fullness)
}

/// Corrections that act on a form have nothing to act on here.
fn tell_of_corrections(choices: &ShoeChoices, told: &mut Told<'_>) {
    let given = choices.corrections;
    let acting = Corrections {
        ease: given.ease,
        toe_length: given.toe_length,
        heel_narrower: given.heel_narrower,
        side_marks: given.side_marks,
        fullness: choices.fullness.map_or(0.0, |_| given.fullness),
        ..Corrections::default()
    };
    if given != acting {
        told.note(
            "shoe-strips",
            "Of the corrections of the fit only those of the ease, the toe's length, the heel's width, \
             the side marks and a chosen fullness act on a shoe drafted from strips."
                .into(),
            "Lay the strips again where the trial shoe was corrected.",
        );
    }
}

fn is_alike(strips: &Strips, stations: &Stations) -> bool {
    let [inner, outer] = &strips.sides;
    let behind = [0, 1].map(|i| stations.ends[i] - stations.marks[i]);
    (inner.seam - outer.seam).abs() <= ALIKE[0] && (behind[0] - behind[1]).abs() <= ALIKE[1]
}

/// The strips with both side seams of one length where they all but are.
fn alike(strips: &Strips, stations: &Stations) -> Strips {
    let mut strips = strips.clone();
    if is_alike(&strips, stations) {
        let mean = 0.5 * (strips.sides[0].seam + strips.sides[1].seam);
        for side in &mut strips.sides {
            side.seam = mean;
        }
    }
    strips
}

fn half_heel(
    edge: &FeatherEdge,
    side: FootSide,
    strips: &Strips,
    choices: &ShoeChoices,
    stations: &Stations,
) -> HalfHeel {
    let cut = choices.corrected_cut();
    let index = side as usize;
    let strip = &strips.sides[index];
    let low = strip.low_height.unwrap_or(cut.side_heights[index]);
    let heights = Heights {
        back: strips.back_height,
        low: (low, cut.low_point),
        seam: strip.seam,
    };
    HalfHeel::new(edge, side, stations.marks[index], heights)
}

/// The easing, the notches of all pieces and the walk round the sole: the sole's length up to the
/// ease notches, and what is left over in between, half by half from the centre toe.
fn eased(
    toe: &Toe,
    stations: &Stations,
    choices: &ShoeChoices,
) -> (Easing, Vec<ShoeNotch>, Vec<WalkStep>) {
    let notch = [0, 1].map(|i| stations.notches[i].min(stations.marks[i]));
    let extra = [0, 1].map(|i| toe.sole_halves[i] - stations.marks[i]);
    // On the piece, from the centre toe, the point that meets the sole's at `distance`.
    let on_piece = |i: usize, distance: f64| {
        let share = (distance / notch[i].max(1e-9)).min(1.0);
        distance + extra[i] * gathered_by(share)
    };
    let marks = |i: usize| -> [(f64, f64); 4] {
        [0.0, 0.5 * notch[i], notch[i], stations.marks[i]].map(|d| (d, on_piece(i, d)))
    };
    let (inner, outer) = (marks(0), marks(1));
    let from_inner =
        |(sole, piece): (f64, f64)| (stations.marks[0] - sole, toe.sole_halves[0] - piece);
    let from_toe =
        |(sole, piece): (f64, f64)| (stations.marks[0] + sole, toe.sole_halves[0] + piece);
    let toe_marks = [
        ("side mark, inner", from_inner(inner[3])),
        ("ease notch, inner", from_inner(inner[2])),
        ("quarter, inner", from_inner(inner[1])),
        ("centre toe", from_inner(inner[0])),
        ("quarter, outer", from_toe(outer[1])),
        ("ease notch, outer", from_toe(outer[2])),
        ("side mark, outer", from_toe(outer[3])),
    ];
    let behind = [0, 1].map(|i| stations.ends[i] - stations.marks[i]);
    let heel_marks = [
        ("side mark, outer", (0.0, 0.0)),
        ("centre heel", (behind[1], behind[1])),
        (
            "side mark, inner",
            (behind[0] + behind[1], behind[0] + behind[1]),
        ),
    ];
    let mut notches = Vec::new();
    let mut walk = Vec::new();
    add_marks(
        &toe_marks,
        NotchedPiece::Toe,
        "toe edge",
        &mut notches,
        &mut walk,
    );
    add_marks(
        &heel_marks,
        NotchedPiece::Heel,
        "heel edge",
        &mut notches,
        &mut walk,
    );
    let zone = notch[0] + notch[1];
    let used = extra[0] + extra[1];
    let easing = Easing {
        natural: used,
        cap: choices.cloth.ease_limit * zone,
        used,
        zone,
    };
    (easing, notches, walk)
}

/// The part of a half's fullness that lies between the centre toe and a share of the way to the ease
/// notch, spread as over a form.
fn gathered_by(share: f64) -> f64 {
    const STEPS: usize = 200;
    let weight = |i: usize| rounded_window(0.5 + 0.5 * (i as f64 + 0.5) / STEPS as f64, 0.8);
    let until = (share * STEPS as f64).round() as usize;
    let sum = |end: usize| (0..end).map(weight).sum::<f64>();
    sum(until.min(STEPS)) / sum(STEPS)
}

fn add_marks(
    marks: &[(&'static str, (f64, f64))],
    notched: NotchedPiece,
    sole_edge: &'static str,
    notches: &mut Vec<ShoeNotch>,
    walk: &mut Vec<WalkStep>,
) {
    // The first and the last mark are the piece's corners.
    for (name, (sole, piece)) in &marks[1..marks.len() - 1] {
        for (piece, edge, distance) in [
            (notched, "sole edge", *piece),
            (NotchedPiece::Sole, sole_edge, *sole),
        ] {
            notches.push(ShoeNotch {
                piece,
                edge,
                name,
                distance,
            });
        }
    }
    walk.extend(marks.windows(2).map(|w| WalkStep {
        from: w[0].0,
        to: w[1].0,
        sole: w[1].1.0 - w[0].1.0,
        piece: w[1].1.1 - w[0].1.1,
    }));
}

fn tell_of_fullness(easing: &Easing, choices: &ShoeChoices, told: &mut Told<'_>) {
    if easing.used < -NO_FULLNESS {
        told.warn(
            "shoe-strips",
            format!(
                "The toe piece comes out {:.1} mm shorter than the sole it is sewn to.",
                -easing.used
            ),
            "Lay the strips from the throat and from the toe to the ball again, to the sole's seam \
             line and not to the foot.",
        );
    } else if easing.used > easing.cap + NO_FULLNESS {
        too_full(easing, choices, told);
    }
}

fn outline(piece: UpperPiece, edges: [BezPath; 4], told: &mut Told<'_>) -> Option<Outline> {
    let named = UpperEdge::around(piece).into_iter().zip(edges);
    let named = named.map(|(edge, path)| Edge::new(edge.name(), Affine::FLIP_Y * path));
    let outline = Outline::new(named.collect());
    let sound = outline.and_then(|outline| outline.check_simple().map(|()| outline));
    if sound.is_err() {
        told.refuse(
            "shoe-strips",
            format!(
                "The {} piece that the strips give crosses itself.",
                piece.words()
            ),
            "Lay the strips again.",
        );
    }
    sound.ok()
}

/// The motion that brings two side marks level, half way between them at the origin.
fn upright(left: Point, right: Point) -> Affine {
    let along = right - left;
    Affine::rotate(-along.atan2()) * Affine::translate(-left.midpoint(right).to_vec2())
}
