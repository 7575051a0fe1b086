//! What leaves ink on a page: closed lines, boxes, and the colours of letters and lines. Millimetres of
//! the trimmed page.

use kurbo::{BezPath, ParamCurve, ParamCurveArclen, Point, Rect};
use std::fmt;

/// A line is looked at every so many mm.
const LOOK_EVERY: f64 = 5.0;

/// A line is looked at about this often at most.
const MOST_LOOKS: usize = 24;

/// A closed stroked line.
#[derive(Debug, Clone, PartialEq)]
pub struct DrawnLine {
    /// Its whole course, also where a clip hides it.
    pub path: BezPath,
    /// Exact box of the course, without the stroke.
    pub bounds: Rect,
    /// Width of the stroke, mm.
    pub width: f64,
    /// Whether it is dashed or dotted.
    pub dashed: bool,
    /// Lengths of its dashes and of the gaps between them in turn, mm; empty if it is solid.
    pub dashes: Vec<f64>,
    /// Red, green and blue, 0 to 1; black for a pattern.
    pub colour: [f32; 3],
    /// The part of the page in which it can be seen: the box of its clips on the trimmed page; empty
    /// if a clip is no upright rectangle, since what it hides is not followed.
    pub window: Rect,
    /// Number in the order of painting.
    pub order: usize,
}

/// The box of something that leaves ink, cut by its clips and the trimmed page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ink {
    /// What it is.
    pub kind: InkKind,
    /// Its box, strokes included.
    pub bounds: Rect,
}

/// Kinds of ink.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InkKind {
    /// A stroked path.
    Line,
    /// A filled path.
    Area,
    /// A glyph.
    Glyph,
    /// A picture.
    Picture,
}

impl fmt::Display for InkKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Line => "a line",
            Self::Area => "a filled shape",
            Self::Glyph => "a letter",
            Self::Picture => "a picture",
        })
    }
}

/// The colour of a letter or a line, and where to look what is under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Tone {
    /// A letter or a line.
    pub kind: InkKind,
    /// What is painted before this number lies under it.
    pub order: usize,
    /// Red, green and blue, 0 to 1.
    pub colour: [f32; 3],
    /// Opacity, 0 to 1.
    pub alpha: f32,
    /// The part of its box that can be seen, without the stroke.
    pub seen: Rect,
    /// Places on it that can be seen.
    pub points: Vec<Point>,
}

/// Places along a line, those in `window` only.
pub fn places(path: &BezPath, window: Rect) -> Vec<Point> {
    let mut all = Vec::new();
    for segment in path.segments() {
        let length = segment.arclen(0.1);
        let looks = (length / LOOK_EVERY).ceil().clamp(1.0, 1e4) as usize;
        let at = |i: usize| segment.eval((i as f64 + 0.5) / looks as f64);
        all.extend((0..looks).map(at).filter(|p| window.contains(*p)));
    }
    let step = all.len().div_ceil(MOST_LOOKS).max(1);
    all.into_iter().step_by(step).collect()
}
