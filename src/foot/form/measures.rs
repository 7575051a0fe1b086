//! The tape measures of a foot, by the names a designer gives them, in mm.

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;

/// What is measured on a foot besides its tracing, mm. Girths are those of a tape drawn tight.
#[derive(Debug, Clone, PartialEq)]
pub struct FootMeasures {
    /// `toe height`: table to the top of the toes at 0.87 of the length.
    pub toe_height: f64,
    /// `ball girth`: upright at 0.70 of the length.
    pub ball_girth: f64,
    /// `ball height`, if it was taken: table to the top at 0.70 of the length.
    pub ball_height: Option<f64>,
    /// `instep height`: table to the top at 0.50 of the length.
    pub instep_height: f64,
    /// `instep girth`: upright at 0.50 of the length.
    pub instep_girth: f64,
    /// `bend height`: table to the crease in front of the ankle.
    pub bend_height: f64,
    /// `heel wrap`, if it was taken: level at 0.22 of the length, round the back between upright
    /// lines at 0.35 of the length.
    pub heel_wrap: Option<f64>,
    /// `long-heel girth`: from the corner of the heel over the bend, the smallest reading.
    pub long_heel_girth: f64,
    /// `ankle girth`, if it was taken: level at the bend height.
    pub ankle_girth: Option<f64>,
}

/// Shares of the foot's length between which heights and girths lie on any foot; beyond them a unit
/// is wrong or two measures were swapped (wide margins round the feet of dolls and of people).
const HEIGHTS: [f64; 2] = [0.03, 0.9];
const GIRTHS: [f64; 2] = [0.3, 4.0];

impl FootMeasures {
    /// The measures of `foot`; every one that is missing or cannot be is told. `None` if one that
    /// cannot be done without is among them.
    pub fn read(foot: &Foot, diagnostics: &mut Diagnostics) -> Option<Self> {
        let mut reader = Reader {
            foot,
            diagnostics,
            sound: true,
        };
        let toe_height = reader.required("toe height", HEIGHTS);
        let ball_girth = reader.required("ball girth", GIRTHS);
        let ball_height = reader.optional("ball height", HEIGHTS);
        let instep_height = reader.required("instep height", HEIGHTS);
        let instep_girth = reader.required("instep girth", GIRTHS);
        let bend_height = reader.required("bend height", HEIGHTS);
        let heel_wrap = reader.optional("heel wrap", GIRTHS);
        let long_heel_girth = reader.required("long-heel girth", GIRTHS);
        let ankle_girth = reader.optional("ankle girth", GIRTHS);
        if !reader.sound {
            return None;
        }
        if heel_wrap.is_none() {
            diagnostics.push(no_heel_wrap(foot));
        }
        Some(Self {
            toe_height: toe_height?,
            ball_girth: ball_girth?,
            ball_height,
            instep_height: instep_height?,
            instep_girth: instep_girth?,
            bend_height: bend_height?,
            heel_wrap,
            long_heel_girth: long_heel_girth?,
            ankle_girth,
        })
    }
}

struct Reader<'a> {
    foot: &'a Foot,
    diagnostics: &'a mut Diagnostics,
    sound: bool,
}

impl Reader<'_> {
    fn required(&mut self, name: &str, shares: [f64; 2]) -> Option<f64> {
        let value = self.optional(name, shares);
        if value.is_none() && !self.foot.measures.contains_key(name) {
            self.sound = false;
            let message = format!("The foot has no ‘{name}’; a shoe is drafted from it.");
            let (place, add) = self.foot.where_to_add(&[format!("{name}: … mm")]);
            self.diagnostics.push(
                Diagnostic::error("measure-missing", Some(place), message)
                    .remedy(format!("Measure it; then {add}.")),
            );
        }
        value
    }

    fn optional(&mut self, name: &str, shares: [f64; 2]) -> Option<f64> {
        let value = *self.foot.measures.get(name)?;
        let [low, high] = shares.map(|share| share * self.foot.length);
        // A value that is no number lies outside too.
        if value >= low && value <= high {
            return Some(value);
        }
        self.sound = false;
        let message = format!(
            "{name} {value:.1} mm does not go with a foot {:.1} mm long: it should lie between \
             {low:.1} and {high:.1} mm.",
            self.foot.length
        );
        self.diagnostics.push(
            Diagnostic::error("measure-range", Some(&self.foot.place), message)
                .remedy("Check the unit, and whether two measures were swapped."),
        );
        None
    }
}

fn no_heel_wrap(foot: &Foot) -> Diagnostic {
    let message = "The foot has no ‘heel wrap’; without it an error of 2 mm in the long-heel girth \
                   moves the topline of the heel by 2 mm.";
    let (place, add) = foot.where_to_add(&["heel wrap: … mm".to_string()]);
    Diagnostic::warning("measure-missing", Some(place), message).remedy(format!(
        "Lay a strip level round the back of the heel, 0.22 of the length above the table, between \
         upright lines at 0.35 of the length; then {add}.",
    ))
}
