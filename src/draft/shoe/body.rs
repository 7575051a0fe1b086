//! The body of a shoe: the middle of its upper's cloth as a surface over the sole's seam line, with
//! room for the foot, the lining and the cloth's own thickness. Millimetres, the foot's axes.

use super::choices::ShoeChoices;
use super::clearing::{Half, Room, cleared};
use super::soles::sole_ring;
use super::told::Told;
use crate::foot::form::{FeatherEdge, FootForm, FootSide, Form, station};
use crate::foot::{Foot, SoleRing};
use crate::geometry::pchip::Pchip;

/// A shoe's surface and the sole it stands on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Body {
    pub(super) surface: Form,
    pub(super) ring: SoleRing,
    pub(super) sections: BodySections,
}

/// The exponents (a, b) of a shoe's sections, and how far its ridge runs on down at the toe.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BodySections {
    /// At the heel.
    pub heel: (f64, f64),
    /// At the waist, 0.42 of the length.
    pub waist: (f64, f64),
    /// At the instep.
    pub instep: (f64, f64),
    /// At the ball.
    pub ball: (f64, f64),
    /// At the toe.
    pub toe: (f64, f64),
    /// Slope of the ridge at the tip, as a share of the slope from ball to toe.
    pub tip: f64,
}

/// Where the waist is, as a share of the length.
const WAIST: f64 = 0.42;

/// Bounds of the exponent a; fuller walls than this are boxes.
const PLAN: [f64; 2] = [2.0, 12.0];

/// Greatest exponent b.
const RISE: f64 = 6.0;

/// How much higher than its clearance the ridge lies over the foot, mm.
const RIDGE_EASE: f64 = 0.4;

/// Part of the toe's room up that comes at the ball.
const ROOM_AT_BALL: f64 = 0.35;

/// Slopes of the tip that are tried, steepest first, and the fullness that is steep enough.
const TIPS: [f64; 8] = [0.8, 0.65, 0.5, 0.4, 0.3, 0.2, 0.1, 0.0];
const FULL_TOE: f64 = 1.45;

/// Builds the body.
pub(super) struct Builder<'a> {
    pub(super) foot: &'a Foot,
    pub(super) body: &'a FootForm,
    pub(super) choices: &'a ShoeChoices,
    /// Layers lie this far inside the middle of the upper's cloth, mm; 0 for the upper itself.
    pub(super) inset: f64,
}

impl Builder<'_> {
    /// The body, or what is in its way.
    pub(super) fn build(&self, told: &mut Told<'_>) -> Option<Body> {
        let ring = sole_ring(self.foot, self.choices, self.inset, told)?;
        let edge = FeatherEdge::new(&ring.inner_side(), &ring.outer_side())?;
        let mut surface = self.blank(edge)?;
        let stations = self.stations(&surface);
        let sections = self.sections(&mut surface, &stations, told)?;
        let exponents = |pick: fn((f64, f64)) -> f64, bounds: [f64; 2]| {
            let all = [
                sections.heel,
                sections.waist,
                sections.instep,
                sections.ball,
                sections.toe,
            ];
            let mut pairs: Vec<(f64, f64)> = stations
                .iter()
                .zip(all)
                .map(|(x, ab)| (*x, pick(ab).clamp(bounds[0], bounds[1])))
                .collect();
            let (first, last) = (pairs[0].1, pairs[pairs.len() - 1].1);
            pairs.insert(0, (surface.edge.back(), first));
            pairs.push((surface.edge.front(), last));
            Pchip::new(&pairs)
        };
        let plan = exponents(|ab| ab.0, PLAN)?;
        let rise = exponents(|ab| ab.1, [1.0, RISE])?;
        surface.plan = plan;
        surface.rise = Some(rise);
        Some(Body {
            surface,
            ring,
            sections,
        })
    }

    /// Room between the foot and the middle of the cloth, mm.
    pub(super) fn clearance(&self) -> f64 {
        let c = self.choices;
        let layers = 0.5 * c.cloth.thickness + c.lining_thickness + 0.2;
        layers.min(0.8 * c.corrected_ease())
    }

    /// The surface with its ridge but not yet its sections.
    fn blank(&self, edge: FeatherEdge) -> Option<Form> {
        let foot = &self.body.form;
        let [_, toe] = self.body.fan_feet();
        let more = self.choices.corrections.toe_room;
        let ease = self.clearance() + RIDGE_EASE - self.inset;
        let at_ball = foot.edge.back() + station::BALL * self.body.length;
        let mut pairs = foot.ridge.pairs();
        for (x, height) in &mut pairs {
            let room = if *x >= toe - 1e-9 {
                more
            } else if (*x - at_ball).abs() < 1e-9 {
                ROOM_AT_BALL * more
            } else {
                0.0
            };
            *height += ease + room;
        }
        let last = pairs.len() - 1;
        pairs[0].0 = edge.back();
        pairs[last].0 = edge.front();
        Some(Form {
            edge,
            fans: foot.fans,
            ridge: Pchip::new(&pairs)?,
            centre: foot.centre.clone(),
            plan: foot.plan.clone(),
            rise: None,
        })
    }

    /// x of the stations at which sections are chosen: heel, waist, instep, ball, toe.
    fn stations(&self, surface: &Form) -> [f64; 5] {
        let length = self.body.length;
        let back = self.body.form.edge.back();
        [
            surface.foot_of(surface.edge.back()),
            back + WAIST * length,
            back + station::INSTEP * length,
            back + station::BALL * length,
            self.body.fan_feet()[1],
        ]
    }

    fn sections(
        &self,
        surface: &mut Form,
        stations: &[f64; 5],
        told: &mut Told<'_>,
    ) -> Option<BodySections> {
        let clearance = self.clearance();
        let clip = self.choices.corrections.heel_clip;
        let cut = self.choices.corrected_cut();
        let side = cut.side_heights[0].max(cut.side_heights[1]);
        let [heel_foot, waist, instep, ball, _] = *stations;
        let heel = self.heel_wall(surface, heel_foot, clearance - clip, cut.back_height);
        let waist = self.wall(surface, waist, clearance - 0.5 * clip, 1.05 * side);
        let instep = self.wall(surface, instep, clearance, 1.2 * side);
        let ball = self.ball_dome(surface, ball, 0.95 * clearance);
        span_hollow(surface)?;
        let toe = self.toe_dome(surface, 0.95 * clearance);
        let named = [
            ("heel", heel),
            ("waist", waist),
            ("instep", instep),
            ("ball", ball),
            ("toe", toe.map(|(b, _)| b)),
        ];
        for (name, found) in named {
            if found.is_none() {
                told.refuse(
                    "shoe-ease",
                    format!("There is not enough ease at the {name} for the cloth's thickness."),
                    "Raise the ease round the sole, or take thinner cloth or lining.",
                );
            }
        }
        if clip > 0.0 && heel.is_some_and(|a| a < PLAN[0]) {
            told.warn(
                "shoe-ease",
                format!("A heel held closer by {clip:.1} mm is more than the heel's form takes."),
                "Make the heel narrower instead.",
            );
        }
        let (toe, tip) = toe?;
        Some(BodySections {
            heel: (heel?, 1.0),
            waist: (waist?, 1.0),
            instep: (instep?, 1.0),
            ball: (2.0, ball?),
            toe: (2.0, toe),
            tip,
        })
    }

    /// A straight wall at x that clears the foot up to `highest` on both sides.
    fn wall(&self, surface: &Form, x: f64, clearance: f64, highest: f64) -> Option<f64> {
        let needed = FootSide::BOTH.map(|side| {
            let half = Half::Across(side, x);
            let points = cleared(&self.body.form, half, clearance - self.inset, highest);
            room(surface, side, x).wall(&points)
        });
        Some(needed[0]?.max(needed[1]?))
    }

    fn heel_wall(&self, surface: &Form, x: f64, clearance: f64, highest: f64) -> Option<f64> {
        let half = Half::Heel(x);
        let points = cleared(&self.body.form, half, clearance - self.inset, highest);
        let room = Room {
            half_width: x - surface.edge.back(),
            height: surface.height(x),
        };
        room.wall(&points)
    }

    fn ball_dome(&self, surface: &Form, x: f64, clearance: f64) -> Option<f64> {
        let needed = FootSide::BOTH.map(|side| {
            let half = Half::Across(side, x);
            let points = cleared(&self.body.form, half, clearance - self.inset, f64::INFINITY);
            let raised = self.raised(points, ROOM_AT_BALL);
            room(surface, side, x).dome(&raised)
        });
        Some(needed[0]?.max(needed[1]?))
    }

    /// The toe's dome, with the ridge running on down to the tip as far as the toes allow.
    fn toe_dome(&self, surface: &mut Form, clearance: f64) -> Option<(f64, f64)> {
        let x = surface.foot_of(surface.edge.front());
        let half = Half::Toe(x);
        let points = cleared(&self.body.form, half, clearance - self.inset, f64::INFINITY);
        let points = self.raised(points, 1.0);
        let mut found = None;
        for tip in TIPS {
            self.set_tip(surface, tip)?;
            let half_width = surface.edge.front() - x;
            // The ridge falls over the toes: each point has its own height above it.
            let shares: Vec<(f64, f64)> = points
                .iter()
                .map(|(along, z)| (*along, z / surface.height(x + along)))
                .collect();
            let room = Room {
                half_width,
                height: 1.0,
            };
            found = room.dome(&shares).map(|b| (b, tip));
            if found.is_some_and(|(b, _)| b <= FULL_TOE) {
                break;
            }
        }
        found
    }

    fn set_tip(&self, surface: &mut Form, share: f64) -> Option<()> {
        let mut pairs = surface.ridge.pairs();
        let last = pairs.len() - 1;
        let (ball, toe) = (pairs[last - 2], pairs[last - 1]);
        let slope = (ball.1 - toe.1) / (toe.0 - ball.0);
        pairs[last].1 = toe.1 - share * slope * (pairs[last].0 - toe.0);
        surface.ridge = Pchip::new(&pairs)?;
        Some(())
    }

    /// Points that room above the toes lifts, fully from half the greatest height up.
    fn raised(&self, mut points: Vec<(f64, f64)>, share: f64) -> Vec<(f64, f64)> {
        let room = share * self.choices.corrections.toe_room;
        let highest = points.iter().map(|p| p.1).fold(1e-9, f64::max);
        for (_, z) in &mut points {
            *z += room * (*z / (0.5 * highest)).clamp(0.0, 1.0);
        }
        points
    }
}

/// Raises the ridge at the ball to the straight line from instep to toe: cloth spans the hollow that
/// may lie there. The dome at the ball was chosen under the ridge that follows the foot, so this
/// only adds room.
fn span_hollow(surface: &mut Form) -> Option<()> {
    let mut pairs = surface.ridge.pairs();
    let last = pairs.len() - 1;
    let [instep, ball, toe] = [pairs[last - 3], pairs[last - 2], pairs[last - 1]];
    let share = (ball.0 - instep.0) / (toe.0 - instep.0);
    pairs[last - 2].1 = ball.1.max(instep.1 + (toe.1 - instep.1) * share);
    surface.ridge = Pchip::new(&pairs)?;
    Some(())
}

fn room(surface: &Form, side: FootSide, x: f64) -> Room {
    Room {
        half_width: surface.half_width(side, x),
        height: surface.height(x),
    }
}
