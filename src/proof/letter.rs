//! Letters as they stand on a page, and the runs they make: what is set in one go on one baseline.
//! Millimetres, y down; type in points.

use super::POINTS;
use kurbo::{Affine, Point, Rect, Vec2};
use std::sync::Arc;

/// Glyphs are given in thousandths of the em.
const EM: f64 = 1000.0;

/// A letter whose baseline lies off that of the one before by more than this, in em, begins another run.
const OFF_BASELINE: f64 = 0.1;

/// Letters further apart than this, in em, are of two runs.
const FAR_APART: f64 = 0.6;

/// Letters further apart than this, in em, have a space between them.
const SPACE: f64 = 0.14;

/// A letter, or several in one glyph.
#[derive(Debug, Clone, PartialEq)]
pub struct Letter {
    /// What it reads; empty if the file does not tell.
    pub text: Arc<str>,
    /// Its box in its own axes, thousandths of the em, y up.
    pub own: Rect,
    /// From its own axes to the page.
    pub place: Affine,
    /// Its box on the page, clips left aside.
    pub bounds: Rect,
    /// The part of that box that its clips and the page leave; without area if they leave nothing.
    pub seen: Rect,
    /// Whether it is dark and opaque enough to be read.
    pub plain: bool,
    /// Number in the order of painting.
    pub order: usize,
    /// Number of the marked content it belongs to.
    pub content: Option<i32>,
}

impl Letter {
    /// Size of its type, points.
    pub fn points(&self) -> f64 {
        self.em() * POINTS
    }

    /// Size of its type, mm.
    pub fn em(&self) -> f64 {
        self.place.determinant().abs().sqrt() * EM
    }

    /// Where it stands on its baseline.
    pub fn origin(&self) -> Point {
        self.place * Point::ZERO
    }

    /// Unit vector along its baseline; none if it has no extent.
    pub fn along(&self) -> Option<Vec2> {
        let along = self.place * Point::new(1.0, 0.0) - self.origin();
        Some(along / along.hypot()).filter(|v| v.is_finite())
    }

    /// Whether its baseline runs from left to right.
    pub fn is_upright(&self) -> bool {
        self.along().is_some_and(|along| along.x > 0.999)
    }

    /// Corners of its box made smaller about its middle: each side has `share` of its length.
    pub fn corners(&self, share: f64) -> [Point; 4] {
        self.corners_and(share, 0.0)
    }

    /// The same, then moved outwards by so many mm.
    pub fn corners_and(&self, share: f64, outwards: f64) -> [Point; 4] {
        let outwards = outwards * EM / self.em().max(1e-6);
        let more = |side: f64| side * (share - 1.0) / 2.0 + outwards;
        let Rect { x0, y0, x1, y1 } = self
            .own
            .inflate(more(self.own.width()), more(self.own.height()));
        [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(|p| self.place * Point::from(p))
    }

    /// Where it begins and ends along its baseline, from `from`.
    pub fn span(&self, from: Point, along: Vec2) -> (f64, f64) {
        let ends = self.corners(1.0).map(|corner| (corner - from).dot(along));
        let least = ends.into_iter().fold(f64::INFINITY, f64::min);
        (least, ends.into_iter().fold(f64::NEG_INFINITY, f64::max))
    }
}

/// Letters set in one go on one baseline.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// What they read.
    pub text: String,
    /// Box of them all.
    pub bounds: Rect,
    /// Size of the type, points.
    pub points: f64,
    /// Where its baseline begins.
    pub start: Point,
    /// Whether the baseline runs from left to right.
    pub upright: bool,
    /// Index of the first letter on the page.
    pub first: usize,
    /// Index after the last.
    pub end: usize,
}

impl Run {
    /// The number it reads, if it is one and nothing else.
    pub fn number(&self) -> Option<usize> {
        // figures of one width stand far apart beside a 1
        let text = self.text.replace(' ', "");
        let digits = !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
        digits.then(|| text.parse().ok()).flatten()
    }
}

/// The runs of a page, in the order of painting.
pub fn runs(letters: &[Letter]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    // the end of the last run, along its baseline
    let mut reach = 0.0;
    for (index, letter) in letters.iter().enumerate() {
        let Some(along) = letter.along() else {
            continue;
        };
        let joined = runs.last().and_then(|run| {
            let before = letters[run.end - 1].along()?;
            let across = (letter.origin() - run.start).cross(before).abs();
            let (begin, _) = letter.span(run.start, before);
            let em = letter.em();
            let goes_on = along.dot(before) > 0.999
                && across <= OFF_BASELINE * em
                && (begin - reach).abs() <= FAR_APART * em
                && (letter.points() - run.points).abs() <= 0.3 * run.points;
            goes_on.then_some((begin - reach) > SPACE * em)
        });
        match (joined, runs.last_mut()) {
            (Some(spaced), Some(run)) => {
                if spaced {
                    run.text.push(' ');
                }
                run.text.push_str(&letter.text);
                run.bounds = run.bounds.union(letter.bounds);
                run.end = index + 1;
                let along = letters[run.first].along().unwrap_or(along);
                reach = letter.span(run.start, along).1;
            }
            _ => {
                let start = letter.origin();
                reach = letter.span(start, along).1;
                runs.push(Run {
                    text: letter.text.to_string(),
                    bounds: letter.bounds,
                    points: letter.points(),
                    start,
                    upright: letter.is_upright(),
                    first: index,
                    end: index + 1,
                });
            }
        }
    }
    runs
}

/// Letters and figures of a text, in small letters, and nothing else: what is left of it however it is
/// broken into lines.
pub fn streamed(text: &str) -> String {
    let plain = text.chars().filter(|c| c.is_alphanumeric());
    plain.flat_map(char::to_lowercase).collect()
}
