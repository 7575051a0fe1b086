//! The strips of paper themselves: how long each of them is, by the names a designer gives them. All
//! mm, laid over the padded foot from point to point on the shortest way.

use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::foot::Foot;
use std::collections::BTreeMap;

/// Strips over one padded foot. The throat is the point on the ridge where the topline will cross
/// it, the ball the point of the sole's seam line at 0.70 of the foot's length.
#[derive(Debug, Clone, PartialEq)]
pub struct Strips {
    /// `throat to toe`: to the centre toe on the sole's seam line.
    pub throat_to_toe: f64,
    /// `back height`: from the centre heel up to the topline.
    pub back_height: f64,
    /// `heel topline`: from seam to seam round the back.
    pub heel_topline: f64,
    /// `toe topline`, if it was laid: from seam to seam round the throat.
    pub toe_topline: Option<f64>,
    /// Inner and outer side.
    pub sides: [StripSide; 2],
}

/// Strips over one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StripSide {
    /// `throat to ball`.
    pub throat_to_ball: f64,
    /// `toe to ball`: from the centre toe over the toes' side.
    pub toe_to_ball: f64,
    /// `throat to side mark`: to the side mark on the sole's seam line.
    pub throat_to_side_mark: f64,
    /// `ball to side mark`: along the sole.
    pub ball_to_side_mark: f64,
    /// `throat to seam top`: to the topline above the side mark.
    pub throat_to_seam_top: f64,
    /// `side seam`: from the side mark up to the topline.
    pub seam: f64,
    /// `side height`, if it was laid: from the sole up to the topline's lowest point; the cut's side
    /// height unless given.
    pub low_height: Option<f64>,
}

/// Names of the sides as they stand behind a strip's name.
pub(super) const SIDES: [&str; 2] = ["inner", "outer"];

impl Strips {
    /// The strips among the measures of a foot. A strip that differs from side to side is called
    /// `NAME inner` and `NAME outer`, one that does not just `NAME`.
    ///
    /// # Errors
    /// The names of all strips that are missing, in the order in which they are laid, inner side first.
    pub fn from_measures(measures: &BTreeMap<String, f64>) -> Result<Self, Vec<String>> {
        let mut reader = Reader {
            measures,
            missing: Vec::new(),
        };
        let strips = Self {
            throat_to_toe: reader.whole("throat to toe"),
            sides: [0, 1].map(|index| StripSide {
                throat_to_ball: reader.side("throat to ball", index),
                toe_to_ball: reader.side("toe to ball", index),
                throat_to_side_mark: reader.side("throat to side mark", index),
                ball_to_side_mark: reader.side("ball to side mark", index),
                throat_to_seam_top: reader.side("throat to seam top", index),
                seam: reader.side("side seam", index),
                low_height: reader.found("side height", index),
            }),
            back_height: reader.whole("back height"),
            heel_topline: reader.whole("heel topline"),
            toe_topline: measures.get("toe topline").copied(),
        };
        if reader.missing.is_empty() {
            Ok(strips)
        } else {
            Err(reader.missing())
        }
    }

    /// The strips of `foot`; every one that is missing, or as long as no strip over such a foot is,
    /// is told.
    pub fn read(foot: &Foot, diagnostics: &mut Diagnostics) -> Option<Self> {
        match Self::from_measures(&foot.measures) {
            Ok(strips) => strips.checked(foot, diagnostics),
            Err(missing) => {
                let names: Vec<String> = missing.iter().map(|n| format!("‘{n}’")).collect();
                let message = format!(
                    "The foot has no {}; a shoe is drafted from these strips.",
                    names.join(", ")
                );
                let lines: Vec<String> = missing.iter().map(|n| format!("{n}: … mm")).collect();
                let (place, add) = foot.where_to_add(&lines);
                diagnostics.push(
                    Diagnostic::error("measure-missing", Some(place), message).remedy(format!(
                        "Lay strips of paper over the padded foot; then {add}. A strip that differs \
                         from side to side is named with ‘inner’ or ‘outer’ behind it.",
                    )),
                );
                None
            }
        }
    }

    /// None of the strips is longer than half round a foot of that length, or nothing.
    fn checked(self, foot: &Foot, diagnostics: &mut Diagnostics) -> Option<Self> {
        let mut sound = true;
        for (name, value) in self.named() {
            // A value that is no number lies outside too.
            let (low, high) = (0.02 * foot.length, 2.0 * foot.length);
            if value > low && value < high {
                continue;
            }
            sound = false;
            let message = format!(
                "{name} {value:.1} mm does not go with a foot {:.1} mm long: it should lie between \
                 {low:.1} and {high:.1} mm.",
                foot.length
            );
            diagnostics.push(
                Diagnostic::error("measure-range", Some(&foot.place), message)
                    .remedy("Check the unit, and whether two strips were swapped."),
            );
        }
        sound.then_some(self)
    }

    /// All strips with their names.
    fn named(&self) -> Vec<(String, f64)> {
        let mut named = vec![("throat to toe".to_owned(), self.throat_to_toe)];
        for (side, words) in self.sides.iter().zip(SIDES) {
            let both = [
                ("throat to ball", Some(side.throat_to_ball)),
                ("toe to ball", Some(side.toe_to_ball)),
                ("throat to side mark", Some(side.throat_to_side_mark)),
                ("ball to side mark", Some(side.ball_to_side_mark)),
                ("throat to seam top", Some(side.throat_to_seam_top)),
                ("side seam", Some(side.seam)),
                ("side height", side.low_height),
            ];
            let given = both
                .into_iter()
                .filter_map(|(name, value)| Some((name, value?)));
            named.extend(given.map(|(name, value)| (format!("{name} {words}"), value)));
        }
        named.push(("back height".into(), self.back_height));
        named.push(("heel topline".into(), self.heel_topline));
        named.extend(self.toe_topline.map(|value| ("toe topline".into(), value)));
        named
    }
}

struct Reader<'a> {
    measures: &'a BTreeMap<String, f64>,
    missing: Vec<(String, Option<usize>)>,
}

impl Reader<'_> {
    fn whole(&mut self, name: &str) -> f64 {
        let found = self.measures.get(name).copied();
        found.unwrap_or_else(|| {
            self.missing.push((name.into(), None));
            0.0
        })
    }

    fn found(&self, name: &str, side: usize) -> Option<f64> {
        let own = format!("{name} {}", SIDES[side]);
        let found = self.measures.get(&own);
        found.or_else(|| self.measures.get(name)).copied()
    }

    fn side(&mut self, name: &str, side: usize) -> f64 {
        self.found(name, side).unwrap_or_else(|| {
            self.missing.push((name.into(), Some(side)));
            0.0
        })
    }

    /// Names of what is missing: one that is missing on both sides stands there once, without them.
    fn missing(&self) -> Vec<String> {
        let lacks = |name: &str, side: usize| self.missing.contains(&(name.into(), Some(side)));
        let mut names = Vec::new();
        for (name, side) in &self.missing {
            let words = match side {
                None => name.clone(),
                Some(_) if lacks(name, 0) && lacks(name, 1) => name.clone(),
                Some(side) => format!("{name} {}", SIDES[*side]),
            };
            if !names.contains(&words) {
                names.push(words);
            }
        }
        names
    }
}
