//! The measuring guide: a foot drawn from its own form, with a numbered line where each measure is
//! taken, and the list that says how. Millimetres on paper.
//!
//! Three drawings, so that no two lines fall on each other: the tracing with length and widths
//! ([`tracing`]), the foot from its outer side with the heights ([`side`]), and from behind with the
//! tapes ([`round`]). Numbers stand in circles clear of all lines ([`badge`]). The drawings are as
//! large as fits; nothing is to be measured on them.

pub(in crate::figure) mod badge;
mod body;
mod measure;
mod round;
mod side;
mod sketch;
mod tapes;
#[cfg(test)]
mod tests;
mod tracing;

pub use measure::Measure;

use super::Figure;
use super::drawing::{LineDrawing, LineKind};
use crate::foot::Foot;
use crate::foot::form::FootForm;
use crate::language::Words;
use sketch::Sketch;

/// White at both sides of each drawing, mm: room for numbers beside heel and toe.
const MARGIN: f64 = 8.0;

/// The least width of a drawing, mm: below it numbers would cover the foot.
const LEAST_WIDTH: f64 = 50.0;

/// The guide for one foot.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuringGuide {
    /// The foot from its outer side, from behind, and its tracing.
    pub figures: Vec<Figure>,
    /// Number, name, and what it was on this foot, mm; in the order of the numbers.
    pub legend: Vec<(u32, &'static str, Option<f64>)>,
    /// Where the numbers stand.
    pub badges: Vec<Badge>,
}

/// A number in a drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Badge {
    /// Index of the drawing.
    pub figure: usize,
    /// The number.
    pub number: u32,
    /// Middle of its circle, mm from the drawing's upper left.
    pub at: kurbo::Point,
    /// Radius of the circle, mm.
    pub radius: f64,
}

/// A measure with its number in the guide.
#[derive(Debug, Clone, Copy)]
struct Numbered {
    number: u32,
    measure: Measure,
}

/// The guide to measuring `foot`, each drawing `width` mm wide (at least 50), letters and their circles
/// `larger` than usual by that factor. The heel wrap is shown even where it was not taken, because the shoe's heel hangs on it. `None` for a form without
/// extent.
#[must_use]
pub fn measuring_guide(
    foot: &Foot,
    body: &FootForm,
    (width, larger): (f64, f64),
    words: &Words,
) -> Option<MeasuringGuide> {
    let width = width.max(LEAST_WIDTH);
    let shown = Measure::ALL
        .into_iter()
        .filter(|m| m.value(foot).is_some() || *m == Measure::HeelWrap);
    let shown: Vec<Numbered> = (1..)
        .zip(shown)
        .map(|(number, measure)| Numbered { number, measure })
        .collect();
    let solid = body::Body::new(body)?;
    let side = side::side(body, &solid, &shown, (width, larger), words.decimal())?;
    let round = round::round(body, &solid, &shown, (width, larger))?;
    let tracing = tracing::tracing(foot, &shown, (width, larger), side.scale)?;
    let mut guide = MeasuringGuide {
        figures: Vec::new(),
        legend: Vec::new(),
        badges: Vec::new(),
    };
    for (figure, view) in [side, round, tracing].into_iter().enumerate() {
        let radius = view.sketch.radius();
        let badges = view.sketch.badges().iter();
        guide.badges.extend(badges.map(|(number, at)| Badge {
            figure,
            number: *number,
            at: *at,
            radius,
        }));
        guide.figures.push(view.figure(words));
    }
    guide.legend.extend(shown.iter().map(|shown| {
        let measure = shown.measure;
        (shown.number, measure.name(), measure.value(foot))
    }));
    Some(guide)
}

/// One drawing of the guide.
struct Seen {
    sketch: Sketch,
    scale: f64,
    /// Key of the sentence that tells what it shows.
    told: &'static str,
    /// The measures in it.
    shown: Vec<Numbered>,
}

impl Seen {
    fn figure(self, words: &Words) -> Figure {
        let measures = named(&self.shown, words);
        Figure {
            width: self.sketch.width(),
            height: self.sketch.height(),
            svg: self.sketch.svg(),
            alt: words.say(self.told, &[("measures", &measures)]),
            scale: self.scale,
        }
    }
}

/// The foot's own lines, thinner than the measures on it.
fn draw_foot(sketch: &mut Sketch, drawing: &LineDrawing) {
    for line in &drawing.lines {
        match line.kind {
            LineKind::Detail => {}
            _ if line.tag == body::RIM => sketch.line(&line.points, &line.path, sketch::INNER),
            LineKind::Outer => sketch.line(&line.points, &line.path, sketch::CONTOUR),
            _ => sketch.line(&line.points, &line.path, sketch::INNER),
        }
    }
}

/// `4 toe height, 5 instep height`.
fn named(shown: &[Numbered], words: &Words) -> String {
    let name = |measure: Measure| words.named("measures", measure.name());
    let named = shown
        .iter()
        .map(|shown| format!("{} {}", shown.number, name(shown.measure)));
    named.collect::<Vec<_>>().join(", ")
}
