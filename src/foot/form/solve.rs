//! The hind part of a foot from its tapes: how full the heel is, where the bend lies, and how high
//! the form closes. Millimetres, the foot's axes.

use super::net::Net;
use super::sections::Sections;
use super::{Form, HindPart, Tapes, station};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use nalgebra::{Matrix3, Vector3};

/// Tapes are met to this, mm.
const MET: f64 = 0.004;

/// A tape that is off by more than this, mm, is told: twice what a strip of paper can be read to.
const DISAGREES: f64 = 0.5;

/// A heel wrap beyond what the tracing allows by no more than this, mm and as a share, is misread or
/// drawn in a little: the form comes as near as it can (1 in 100 from judgement).
const MISREAD: (f64, f64) = (0.5, 0.01);

/// Rounds of Newton's method; three suffice on a sound foot.
const ROUNDS: usize = 16;

/// A step that leaves more than this share of the errors calls for new slopes.
const GAIN: f64 = 0.3;

/// Lines of a net stand this far forward, as a share of the length; the tapes of the hind part
/// reach no further.
const REACH: f64 = 0.66;

/// Bounds of the heel's exponent: a heel drawn in like a roof, and one like a box.
const HEEL_EXPONENTS: [f64; 2] = [1.15, 7.0];

/// Bounds of the height at which the form closes, in bend heights.
const TOPS: [f64; 2] = [1.12, 3.0];

/// The hind part that gives the tapes, as far as one can, and the tapes it gives.
pub(super) fn hind_part(
    sections: &Sections,
    foot: &Foot,
    diagnostics: &mut Diagnostics,
) -> Option<(HindPart, Tapes)> {
    let solver = Solver::new(sections);
    if let Some(message) = solver.wrap_out_of_range()? {
        let remedy = "Measure the heel wrap again, level and not drawn in.";
        let told = Diagnostic::error("measure-range", Some(&foot.place), message).remedy(remedy);
        diagnostics.push(told);
        return None;
    }
    let unknowns = solver.solved()?;
    let hind = part(unknowns);
    let tapes = solver.tapes(&sections.form(hind)?);
    for (name, measured, found) in solver.wanted(tapes) {
        if (measured - found).abs() > DISAGREES {
            diagnostics.push(disagrees(foot, name, measured, found));
        }
    }
    Some((hind, tapes))
}

fn disagrees(foot: &Foot, name: &str, measured: f64, found: f64) -> Diagnostic {
    let message = format!(
        "{name} {measured:.1} mm does not go with the other measures; the form has {found:.1} mm. \
         Measure again."
    );
    Diagnostic::warning("measure-disagrees", Some(&foot.place), message).remedy(
        "Instep height, bend height, heel wrap, long-heel girth and ankle girth hang together: one \
         wrong among them drags the others along.",
    )
}

fn part(unknowns: Vector3<f64>) -> HindPart {
    HindPart {
        heel_exponent: unknowns[0],
        bend: unknowns[1],
        top: unknowns[2],
    }
}

/// Where the long heel's tape lies over the ridge.
#[derive(Debug, Clone, Copy)]
enum Over {
    Unknown,
    Near(f64),
    At(f64),
}

/// How far that place is sought from where it was in the last round, as a share of the length.
const NEAR: f64 = 0.06;

/// Newton's method on up to three unknowns, each with the tape that moves it most.
struct Solver<'a> {
    sections: &'a Sections,
    low: Vector3<f64>,
    high: Vector3<f64>,
    /// The greatest change in one round.
    step: Vector3<f64>,
    /// The change by which slopes are taken.
    probe: Vector3<f64>,
    /// Which unknowns are free.
    free: [bool; 3],
}

impl<'a> Solver<'a> {
    fn new(sections: &'a Sections) -> Self {
        let length = sections.length;
        let m = &sections.measures;
        let behind = sections.fan_feet()[0] + 0.08 * length;
        let before = sections.at(station::INSTEP) - 0.035 * length;
        let wrapped = m.heel_wrap.is_some();
        let ankle = m.ankle_girth.is_some();
        Self {
            sections,
            low: Vector3::new(HEEL_EXPONENTS[0], behind, TOPS[0]),
            high: Vector3::new(HEEL_EXPONENTS[1], before, TOPS[1]),
            step: Vector3::new(0.6, 0.05 * length, 0.25),
            probe: Vector3::new(0.02, 0.003 * length, 0.02),
            // Without a heel wrap the ankle tells how full the heel is.
            free: [wrapped || ankle, true, wrapped && ankle],
        }
    }

    fn first_guess(&self) -> Vector3<f64> {
        Vector3::new(2.2, self.sections.at(0.38), 1.5)
    }

    fn net<'f>(&self, form: &'f Form) -> Net<'f> {
        Net::new(form, self.sections.at(REACH))
    }

    fn wrap(&self, net: &Net<'_>) -> f64 {
        let height = station::WRAP_HEIGHT * self.sections.length;
        net.heel_wrap(height, self.sections.at(station::WRAP_END))
    }

    fn long_heel(&self, net: &Net<'_>) -> (f64, f64) {
        net.long_heel(
            self.sections.at(0.62 * station::HEEL_FAN),
            self.sections.at(0.80 * station::TOE_FAN),
        )
    }

    fn tapes(&self, form: &Form) -> Tapes {
        let net = self.net(form);
        Tapes {
            heel_wrap: self.wrap(&net),
            long_heel: self.long_heel(&net).0,
            ankle: net.level_girth(self.sections.measures.bend_height),
        }
    }

    /// The tapes that were measured: name, what was measured, what the form gives.
    fn wanted(&self, tapes: Tapes) -> Vec<(&'static str, f64, f64)> {
        let m = &self.sections.measures;
        let mut wanted = vec![("Long-heel girth", m.long_heel_girth, tapes.long_heel)];
        if let Some(measured) = m.heel_wrap {
            wanted.push(("Heel wrap", measured, tapes.heel_wrap));
        }
        if let Some(measured) = m.ankle_girth {
            wanted.push(("Ankle girth", measured, tapes.ankle));
        }
        wanted
    }

    /// What to say if no heel has this wrap.
    fn wrap_out_of_range(&self) -> Option<Option<String>> {
        let Some(measured) = self.sections.measures.heel_wrap else {
            return Some(None);
        };
        let bend = self.first_guess()[1];
        let wrap = |heel_exponent: f64, top: f64| {
            let form = self.sections.form(HindPart {
                heel_exponent,
                bend,
                top,
            })?;
            Some(self.wrap(&self.net(&form)))
        };
        let low = wrap(HEEL_EXPONENTS[0], TOPS[0])?;
        let high = wrap(HEEL_EXPONENTS[1], TOPS[1])?;
        let misread = MISREAD.0.max(MISREAD.1 * measured);
        // A measure that is no number lies outside too.
        let within = measured > low - misread && measured < high + misread;
        Some((!within).then(|| {
            format!(
                "Heel wrap {measured:.1} mm does not go with the tracing: at that height it should \
                 lie between {low:.1} and {high:.1} mm."
            )
        }))
    }

    /// What the tapes are off by, in the order of the unknowns, and where the long heel's tape lies
    /// over the ridge.
    fn errors(&self, unknowns: Vector3<f64>, over: Over) -> Option<(Vector3<f64>, f64)> {
        let m = &self.sections.measures;
        let form = self.sections.form(part(unknowns))?;
        let net = self.net(&form);
        let (long_heel, over) = match over {
            Over::Unknown => self.long_heel(&net),
            Over::Near(x) => {
                let reach = NEAR * self.sections.length;
                let (girth, found) = net.long_heel_near(x - reach, x + reach);
                if (found - x).abs() < 0.9 * reach {
                    (girth, found)
                } else {
                    self.long_heel(&net)
                }
            }
            // Where it is least its slope needs no new search.
            Over::At(x) => (net.heel_girth_over(x), x),
        };
        let ankle = |net: &Net<'_>| m.ankle_girth.map(|g| net.level_girth(m.bend_height) - g);
        let heel = match m.heel_wrap {
            Some(wrap) => Some(self.wrap(&net) - wrap),
            None => ankle(&net),
        };
        let top = m.heel_wrap.and_then(|_| ankle(&net));
        let errors = Vector3::new(
            heel.unwrap_or(0.0),
            long_heel - m.long_heel_girth,
            top.unwrap_or(0.0),
        );
        Some((errors, over))
    }

    /// The unknowns that give the tapes, by a damped Newton's method whose slopes are measured once
    /// and then amended by what each step shows (Broyden 1965), or measured again where a step gains
    /// little.
    fn solved(&self) -> Option<Vector3<f64>> {
        let mut at = self.first_guess().sup(&self.low).inf(&self.high);
        let (mut errors, mut over) = self.errors(at, Over::Unknown)?;
        let mut known: Option<Matrix3<f64>> = None;
        for _ in 0..ROUNDS {
            if errors.amax() < MET {
                break;
            }
            let slopes = match known {
                Some(slopes) => slopes,
                None => self.slopes(at, errors, over)?,
            };
            let change = self.change(slopes, errors)?;
            let Some(next) = self.descended(at, change, errors, over)? else {
                if known.take().is_none() {
                    break;
                }
                continue;
            };
            let gains = next.errors.norm() < GAIN * errors.norm();
            known = gains.then(|| self.amended(slopes, next.at - at, next.errors - errors));
            (at, errors, over) = (next.at, next.errors, next.over);
        }
        Some(at)
    }

    /// How the errors change with each free unknown.
    fn slopes(&self, at: Vector3<f64>, errors: Vector3<f64>, over: f64) -> Option<Matrix3<f64>> {
        let mut slopes = Matrix3::identity();
        for (i, free) in self.free.into_iter().enumerate() {
            if !free {
                continue;
            }
            let up = at[i] + self.probe[i] <= self.high[i];
            let probe = if up { self.probe[i] } else { -self.probe[i] };
            let mut moved = at;
            moved[i] += probe;
            let (there, _) = self.errors(moved, Over::At(over))?;
            slopes.set_column(i, &((there - errors) / probe));
        }
        Some(slopes)
    }

    /// The slopes changed as little as can be, each unknown counted in its own steps, so that they
    /// tell what the last step did.
    fn amended(
        &self,
        slopes: Matrix3<f64>,
        step: Vector3<f64>,
        came: Vector3<f64>,
    ) -> Matrix3<f64> {
        let weighed = step.component_div(&self.probe).component_div(&self.probe);
        let missed = came - slopes * step;
        slopes + missed * weighed.transpose() / step.dot(&weighed).max(1e-300)
    }

    /// The change that Newton's method asks for, damped a little against a singular matrix and held
    /// to the greatest step.
    fn change(&self, slopes: Matrix3<f64>, errors: Vector3<f64>) -> Option<Vector3<f64>> {
        let square = slopes.transpose() * slopes;
        let damped = square + Matrix3::identity() * (1e-9 * square.trace());
        let change = damped.cholesky()?.solve(&(-(slopes.transpose() * errors)));
        let held = change.sup(&-self.step).inf(&self.step);
        Some(Vector3::from_fn(
            |i, _| if self.free[i] { held[i] } else { 0.0 },
        ))
    }

    /// Where as much of `change` as makes the errors smaller leads; none if nothing does.
    fn descended(
        &self,
        at: Vector3<f64>,
        change: Vector3<f64>,
        errors: Vector3<f64>,
        over: f64,
    ) -> Option<Option<Reached>> {
        let mut share = 1.0;
        while share > 0.01 {
            let moved = (at + change * share).sup(&self.low).inf(&self.high);
            let (there, over) = self.errors(moved, Over::Near(over))?;
            if there.norm() < errors.norm() - 1e-9 {
                return Some(Some(Reached {
                    at: moved,
                    errors: there,
                    over,
                }));
            }
            share *= 0.5;
        }
        Some(None)
    }
}

/// What a step of the solver reached.
struct Reached {
    at: Vector3<f64>,
    errors: Vector3<f64>,
    /// Where the long heel's tape lies over the ridge.
    over: f64,
}
