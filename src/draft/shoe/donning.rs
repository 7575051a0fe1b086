//! Whether the foot gets into the shoe, and what holds the shoe on. Millimetres; ratios of stretch.

use super::choices::{Closure, ShoeChoices};
use super::shoe_form::ShoeForm;
use super::told::Told;
use crate::foot::form::{FootForm, FootSide, section};
use std::f64::consts::PI;

/// Stretch at which an elastic lies at rest on the foot, and at which a strap's elastic is worn
/// (from memory of practice).
const WORN: f64 = 1.3;
const STRAP_WORN: f64 = 1.15;

/// A strap's elastic is at least this share of its length (from judgement).
const LEAST_ELASTIC: f64 = 0.25;

/// Slack to get a foot in, mm (from judgement).
const SLACK: f64 = 1.0;

/// Elastic shorter than this, mm, cannot be sewn.
const SEWABLE: f64 = 6.0;

/// A slit at the throat longer than this share of the foot leaves no toe piece (from judgement).
const LONGEST_SLIT: f64 = 0.25;

/// Each end of a ribbon that is tied in a bow, as a share of the foot's length (from judgement).
const BOW: f64 = 1.2;

/// How well a shoe is held, by the loop at rest against the foot's long-heel girth (from memory of
/// practice).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// The loop is smaller than the heel it would have to pass.
    Locks,
    /// It rubs.
    Friction,
    /// It only lies close.
    Snug,
}

/// Everything about getting the shoe on, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Donning {
    /// Length of the topline.
    pub topline: f64,
    /// What the opening must measure for the heel to pass.
    pub need: f64,
    /// Topline against the long-heel girth.
    pub ratio: f64,
    /// Whether the foot passes the topline as it is.
    pub goes_on: bool,
    /// How the topline alone holds.
    pub hold: Hold,
    /// A strap with elastic.
    pub strap: StrapFit,
    /// Elastic at the back of the heel.
    pub back: BackFit,
    /// A tie.
    pub tie: TieFit,
}

/// A strap sewn at both sides, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrapFit {
    /// The topline behind the strap.
    pub back: f64,
    /// The strap over the foot as worn, from side to side.
    pub worn: f64,
    /// Elastic in it, relaxed.
    pub elastic: f64,
    /// Cloth or ribbon in it; less than nothing if no elastic stretches enough.
    pub cloth: f64,
    /// What the loop of strap and back opens to.
    pub opens_to: f64,
    /// Whether the foot gets in.
    pub fits: bool,
}

/// Elastic in a casing at the back of the heel, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BackFit {
    /// Topline gathered on the elastic.
    pub cloth: f64,
    /// How much longer than drafted the heel piece's topline must be cut for that.
    pub added: f64,
    /// The elastic, relaxed.
    pub elastic: f64,
    /// The topline at rest.
    pub rest: f64,
    /// What it opens to.
    pub opens_to: f64,
    /// The topline at rest against the long-heel girth.
    pub ratio: f64,
    /// How it holds.
    pub hold: Hold,
    /// Whether the foot gets in.
    pub fits: bool,
}

/// Ribbons tied over the foot, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TieFit {
    /// Way over the foot between the ribbons' ends.
    pub over: f64,
    /// Length of each ribbon, with its half of the bow.
    pub ribbon: f64,
    /// How far the throat must be slit towards the toe for the heel to pass.
    pub slit: f64,
    /// Whether the foot gets in.
    pub fits: bool,
}

/// Computes all ways of getting the shoe on; `topline` is its whole length.
pub(super) fn donning(
    foot: &FootForm,
    form: &ShoeForm,
    choices: &ShoeChoices,
    topline: f64,
) -> Donning {
    let d = &choices.donning;
    let girth = foot.measures.long_heel_girth;
    let edge = d.edge_thickness.unwrap_or(2.0 * choices.cloth.thickness);
    let need = (1.0 - d.give) * girth + PI * edge + SLACK;
    let strap = strap(foot, form, choices, need);
    let ratio = topline / girth;
    let slit = (0.5 * (need - topline)).max(0.0);
    Donning {
        topline,
        need,
        ratio,
        goes_on: topline >= need,
        hold: hold(ratio),
        back: back(foot, choices, topline, need),
        tie: TieFit {
            over: strap.worn,
            ribbon: 0.5 * strap.worn + BOW * foot.length,
            slit,
            fits: slit <= LONGEST_SLIT * foot.length,
        },
        strap,
    }
}

fn hold(ratio: f64) -> Hold {
    if ratio <= 0.95 {
        Hold::Locks
    } else if ratio <= 1.05 {
        Hold::Friction
    } else {
        Hold::Snug
    }
}

fn strap(foot: &FootForm, form: &ShoeForm, choices: &ShoeChoices, need: f64) -> StrapFit {
    let x = choices.donning.strap_at * foot.length;
    let ends = FootSide::BOTH.map(|side| behind(form, side, x));
    let back = ends[0].0 + ends[1].0;
    let over = FootSide::BOTH.map(|side| over_foot(foot, side, x, ends[side as usize].1));
    let worn = over[0] + over[1] + 0.5 * PI * choices.cloth.thickness;
    let gain = (choices.donning.stretch - STRAP_WORN).max(1e-6);
    // More elastic than is needed does no harm; less than can be sewn is none.
    let elastic = ((need - back - worn) / gain)
        .max(LEAST_ELASTIC * worn)
        .max(SEWABLE);
    let cloth = worn - STRAP_WORN * elastic;
    StrapFit {
        back,
        worn,
        elastic,
        cloth,
        opens_to: back + worn + gain * elastic,
        fits: cloth >= 0.0 && choices.donning.stretch > STRAP_WORN,
    }
}

/// Length of one side's topline behind x, and its height there.
fn behind(form: &ShoeForm, side: FootSide, x: f64) -> (f64, f64) {
    let points = &form.toplines[side as usize];
    let mut length = 0.0;
    for pair in points.windows(2).rev() {
        let (before, after) = (pair[0].point, pair[1].point);
        if before.x >= x && after.x < x {
            let share = (before.x - x) / (before.x - after.x);
            let here = before.lerp(after, share);
            return (length + here.distance(after), here.z);
        }
        length += before.distance(after);
    }
    (length, points[0].point.z)
}

/// The way over one half of the foot at x, from `height` to the ridge.
fn over_foot(foot: &FootForm, side: FootSide, x: f64, height: f64) -> f64 {
    const STEPS: u32 = 400;
    let form = &foot.form;
    let (half, ridge) = (form.half_width(side, x), form.height(x));
    let (a, b) = form.exponents(x);
    let point = |i: u32| {
        let (across, up) = section::quarter(a, b, f64::from(i) / f64::from(STEPS));
        (half * across, ridge * up)
    };
    let mut way = 0.0;
    for i in 0..STEPS {
        let ((y0, z0), (y1, z1)) = (point(i), point(i + 1));
        if z1 > height {
            let cut = ((height - z0) / (z1 - z0).max(1e-300)).clamp(0.0, 1.0);
            way += (1.0 - cut) * (y1 - y0).hypot(z1 - z0);
        }
    }
    way
}

fn back(foot: &FootForm, choices: &ShoeChoices, topline: f64, need: f64) -> BackFit {
    let span = choices.donning.back_span * foot.length;
    let added = (need - topline).max(0.0);
    let cloth = span + added;
    let elastic = (span / WORN).min(cloth / WORN);
    let rest = topline - span + elastic;
    let opens_to = topline - span + cloth.min(choices.donning.stretch * elastic);
    let ratio = rest / foot.measures.long_heel_girth;
    BackFit {
        cloth,
        added,
        elastic,
        rest,
        opens_to,
        ratio,
        hold: hold(ratio),
        fits: opens_to >= need - 1e-9,
    }
}

impl Donning {
    /// Tells what is wrong with the closure that was chosen, and what would help.
    pub(super) fn judge(&self, closure: Closure, told: &mut Told<'_>) {
        let short = format!(
            "The topline measures {:.1} mm, the heel needs {:.1} mm to pass",
            self.topline, self.need
        );
        match closure {
            Closure::Open if !self.goes_on => {
                let message = format!("{short}: the foot does not get in.");
                told.refuse("shoe-donning", message, &self.help());
            }
            Closure::ElasticStrap if !self.goes_on => {
                let message = format!("{short}: a strap over the foot does not open it.");
                told.refuse("shoe-donning", message, &self.help());
            }
            Closure::ElasticStrap if !self.strap.fits => {
                let message = format!(
                    "The strap is {:.1} mm long over the foot; no elastic in it stretches far \
                     enough for the heel, which needs {:.1} mm to pass.",
                    self.strap.worn, self.need
                );
                told.refuse("shoe-donning", message, &self.help());
            }
            Closure::BackElastic if !self.back.fits => {
                let message = format!(
                    "The elastic at the back opens the topline to {:.1} mm, the heel needs {:.1} \
                     mm to pass.",
                    self.back.opens_to, self.need
                );
                told.refuse("shoe-donning", message, &self.help());
            }
            Closure::Tie if !self.tie.fits => {
                let message = format!(
                    "{short}: the throat would have to be slit by {:.1} mm.",
                    self.tie.slit
                );
                told.refuse("shoe-donning", message, &self.help());
            }
            _ => {}
        }
        let elastic = self.back.elastic;
        if closure == Closure::BackElastic && elastic < SEWABLE {
            told.refuse(
                "shoe-donning",
                format!("{elastic:.1} mm of elastic are too short to be sewn in."),
                "Take ties, or an opening.",
            );
        }
    }

    /// What would help.
    fn help(&self) -> String {
        let mut ways = Vec::new();
        if self.back.fits && self.back.elastic >= SEWABLE {
            ways.push(format!(
                "elastic at the back of the heel ({:.1} mm of topline on {:.1} mm)",
                self.back.cloth, self.back.elastic
            ));
        }
        if self.tie.fits {
            ways.push(format!(
                "a tie with the throat slit by {:.1} mm",
                self.tie.slit
            ));
        }
        ways.push("a lower topline".into());
        ways.push("a throat nearer the toe".into());
        format!("What would help: {}.", ways.join(", or "))
    }
}
