//! The sections of a foot that follow each from its own measures, ball and instep, and the form
//! that they make with the hind part. Millimetres, the foot's axes.

use super::feather_edge::{FeatherEdge, FootSide};
use super::section;
use super::{FULL, FootMeasures, Form, HindPart, curve, station};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use crate::geometry::pchip::Pchip;
use crate::geometry::root::root;

/// Exponents of the instep's section: from almost a roof to almost a box.
const EXPONENTS: [f64; 2] = [1.25, 6.0];

/// Everything of a foot's body but its hind part.
pub(super) struct Sections {
    pub(super) edge: FeatherEdge,
    pub(super) measures: FootMeasures,
    pub(super) length: f64,
    centre: Pchip,
    /// Height and exponent at the ball.
    pub(super) ball: (f64, f64),
    pub(super) instep_exponent: f64,
}

/// What a section's girth must go with.
struct Section<'a> {
    name: &'a str,
    girth: f64,
    halves: [f64; 2],
}

impl Sections {
    pub(super) fn new(
        foot: &Foot,
        edge: FeatherEdge,
        measures: FootMeasures,
        diagnostics: &mut Diagnostics,
    ) -> Option<Self> {
        let length = edge.front() - edge.back();
        let centre = centre_line(&edge, length)?;
        let halves = |share: f64| {
            let x = edge.back() + share * length;
            FootSide::BOTH.map(|side| (edge.across(side, x) - centre.at(x)).abs())
        };
        let section = |name, girth, share| Section {
            name,
            girth,
            halves: halves(share),
        };
        let instep = section("Instep", measures.instep_girth, station::INSTEP);
        let instep_exponent = instep
            .exponent(measures.instep_height)
            .map_err(|d| diagnostics.push(told(foot, d)));
        let at_ball = section("Ball", measures.ball_girth, station::BALL);
        let ball = match (heights_in_order(&measures), measures.ball_height) {
            (Some(message), _) => Err(message),
            (None, Some(height)) => at_ball.exponent(height).map(|exponent| (height, exponent)),
            (None, None) => {
                let limits = [0.95 * measures.toe_height, 1.05 * measures.instep_height];
                at_ball.height(limits).map(|height| (height, FULL))
            }
        };
        let ball = ball.map_err(|message| diagnostics.push(told(foot, message)));
        let (instep_exponent, ball) = (instep_exponent.ok()?, ball.ok()?);
        Some(Self {
            edge,
            measures,
            length,
            centre,
            ball,
            instep_exponent,
        })
    }

    /// x at a share of the length.
    pub(super) fn at(&self, share: f64) -> f64 {
        self.edge.back() + share * self.length
    }

    /// x of the foot points at the very heel and the very toe.
    pub(super) fn fan_feet(&self) -> [f64; 2] {
        [
            0.5 * (self.at(station::HEEL_FAN) + self.edge.back()),
            0.5 * (self.at(station::TOE_FAN) + self.edge.front()),
        ]
    }

    /// The body with this hind part.
    pub(super) fn form(&self, hind: HindPart) -> Option<Form> {
        let m = &self.measures;
        let (back, front) = (self.edge.back(), self.edge.front());
        let [heel, toe] = self.fan_feet();
        let (instep, ball) = (self.at(station::INSTEP), self.at(station::BALL));
        let (ball_height, ball_exponent) = self.ball;
        let top = hind.top * m.bend_height;
        // The ridge runs on down to the tip at half its slope.
        let slope = 0.5 * (ball_height - m.toe_height).max(0.0) / (toe - ball);
        let tip = (m.toe_height - slope * (front - toe)).max(0.6 * m.toe_height);
        let ridge = curve(&[
            (back, top),
            (heel, top),
            (hind.bend, m.bend_height),
            (instep, m.instep_height),
            (ball, ball_height),
            (toe, m.toe_height),
            (front, tip),
        ])?;
        let plan = curve(&[
            (back, hind.heel_exponent),
            (heel, hind.heel_exponent),
            (instep, self.instep_exponent),
            (ball, ball_exponent),
            (toe, FULL),
            (front, FULL),
        ])?;
        Some(Form {
            edge: self.edge.clone(),
            fans: [self.at(station::HEEL_FAN), self.at(station::TOE_FAN)],
            ridge,
            centre: self.centre.clone(),
            plan,
            rise: None,
        })
    }
}

impl Section<'_> {
    /// The exponent that gives the girth at this height.
    fn exponent(&self, height: f64) -> Result<f64, String> {
        let girth = |exponent: f64| section::girth(self.halves, height, exponent, exponent);
        let [low, high] = EXPONENTS;
        root(|e| girth(e) - self.girth, low, high, 1e-9).ok_or_else(|| {
            self.refusal(
                &format!(" and height {height:.1} mm"),
                girth(low),
                girth(high),
            )
        })
    }

    /// The height between `limits` that gives the girth with a full section.
    fn height(&self, limits: [f64; 2]) -> Result<f64, String> {
        let girth = |height: f64| section::girth(self.halves, height, FULL, FULL);
        let [low, high] = limits;
        root(|h| girth(h) - self.girth, low, high, 1e-9)
            .ok_or_else(|| self.refusal("", girth(low), girth(high)))
    }

    fn refusal(&self, and_height: &str, low: f64, high: f64) -> String {
        format!(
            "{} girth {:.1} mm does not go with its width {:.1} mm (tracing){and_height}: it \
             should lie between {low:.1} and {high:.1} mm.",
            self.name,
            self.girth,
            self.halves[0] + self.halves[1],
        )
    }
}

/// The ridge seen from above: half way between the sides, smooth between four stations.
fn centre_line(edge: &FeatherEdge, length: f64) -> Option<Pchip> {
    let back = edge.back();
    let middle = |share: f64| {
        let x = back + share * length;
        let sides = FootSide::BOTH.map(|side| edge.across(side, x));
        (x, 0.5 * (sides[0] + sides[1]))
    };
    curve(&[
        middle(0.5 * station::HEEL_FAN),
        middle(station::INSTEP),
        middle(station::BALL),
        middle(0.5 * (station::TOE_FAN + 1.0)),
    ])
}

/// What is wrong with the order of the heights, if anything.
fn heights_in_order(m: &FootMeasures) -> Option<String> {
    let falls = |name: &str, low: f64, than: &str, high: f64| {
        (low > high).then(|| {
            format!(
                "{name} height {low:.1} mm is greater than the {than} height {high:.1} mm; the \
                 foot rises from the toe to the bend."
            )
        })
    };
    falls("Toe", m.toe_height, "instep", m.instep_height)
        .or_else(|| falls("Instep", m.instep_height, "bend", m.bend_height))
}

fn told(foot: &Foot, message: String) -> Diagnostic {
    Diagnostic::error("measure-range", Some(&foot.place), message)
        .remedy("Mark the foot before taping, and measure this one and those it names again.")
}
