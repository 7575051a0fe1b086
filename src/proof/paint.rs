//! Paint on a page in the order in which it was laid on: whether it hides a line under it, and half
//! rings, which mark where sheets join. Millimetres of the trimmed page.

use super::ink::DrawnLine;
use super::ring::Ring;
use kurbo::{BezPath, ParamCurve, ParamCurveNearest, PathEl, PathSeg, Point, Rect, Shape, Vec2};

/// Paint from this opacity on hides what lies under it, or leaves so little of it that no buyer sees it.
pub const OPAQUE: f32 = 0.3;

/// Paint as dark as the line under it hides nothing unless it is larger than this, mm: notches and
/// arrowheads stand on lines in the same ink.
const SMALL_MARK: f64 = 6.0;

/// Paint lighter than a line by more than this (of 1) does not count as the same ink.
const LIGHTER: f32 = 0.1;

/// A line is looked at every so many mm to see whether it is hidden.
const LOOK_EVERY: f64 = 0.25;

/// A line may be hidden for less than this, mm: the white that bares the paper under a fold ends a
/// little beyond its corners.
const HIDDEN_FROM: f64 = 1.0;

/// Something painted that can be seen, white paint too.
#[derive(Debug, Clone, PartialEq)]
pub struct Paint {
    /// Number in the order of painting.
    pub order: usize,
    /// The filled or stroked path.
    pub path: BezPath,
    /// Width of the stroke, mm; `None` for a fill.
    pub stroke: Option<f64>,
    /// Whether a fill has holes where its path goes round twice.
    pub even_odd: bool,
    /// Its colour; `None` for a pattern or a picture.
    pub colour: Option<[f32; 3]>,
    /// Its opacity, 0 to 1.
    pub alpha: f32,
    /// The part of its box that can be seen.
    pub seen: Rect,
}

impl Paint {
    /// Whether it lies over `point`.
    pub fn covers(&self, point: Point) -> bool {
        let near = self.seen.inflate(1e-6, 1e-6);
        if !near.contains(point) {
            return false;
        }
        match self.stroke {
            Some(width) => self
                .path
                .segments()
                .any(|s| is_beside(&s, point, width / 2.0)),
            None if self.even_odd => winding(&self.path, point) % 2 != 0,
            None => winding(&self.path, point) != 0,
        }
    }

    /// Whether a line of this colour cannot be seen under it.
    fn hides(&self, line: [f32; 3]) -> bool {
        let bounds = self.path.bounding_box();
        let size = self
            .stroke
            .unwrap_or_else(|| bounds.width().max(bounds.height()));
        let as_dark = self
            .colour
            .is_some_and(|colour| lightness(colour) <= lightness(line) + LIGHTER);
        !as_dark || size > SMALL_MARK
    }
}

/// A curve is looked at as straight lines that lie this near to it, mm.
const FLAT: f64 = 2e-3;

/// How often the path runs round `point`. It is asked of straight lines: kurbo's formula goes astray beside
/// symmetrical curves.
#[allow(clippy::disallowed_methods, reason = "sound for straight lines")]
fn winding(path: &BezPath, point: Point) -> i32 {
    let mut lines = BezPath::new();
    kurbo::flatten(path, FLAT, |element| lines.push(element));
    lines.winding(point)
}

/// Whether `point` lies within `reach` of a segment, beside it and not beyond its ends.
fn is_beside(segment: &PathSeg, point: Point, reach: f64) -> bool {
    let near = segment.nearest(point, 1e-6);
    if near.distance_sq > reach * reach {
        return false;
    }
    let beyond = |t: f64, ahead: f64| {
        let chord = segment.eval(ahead) - segment.eval(t);
        near.t == t && (point - segment.eval(t)).dot(chord) < -1e-6
    };
    !beyond(0.0, 0.01) && !beyond(1.0, 0.99)
}

/// Relative luminance without gamma, 0 for black to 1 for white (ITU-R BT.709 weights).
pub fn lightness([red, green, blue]: [f32; 3]) -> f32 {
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// A point of `line`, whose course is `ring`, at which later paint begins to hide it for a
/// millimetre or more. What is painted last at a place is what is seen there.
pub fn hidden_at(line: &DrawnLine, ring: &Ring, paint: &[Paint]) -> Option<Point> {
    let later: Vec<&Paint> = paint
        .iter()
        .filter(|p| p.order > line.order && p.alpha >= OPAQUE)
        .filter(|p| p.seen.inflate(1.0, 1.0).overlaps(line.bounds))
        .collect();
    if !later.iter().any(|p| p.hides(line.colour)) {
        return None;
    }
    let hidden = |point: &Point| {
        let top = later.iter().rev().find(|p| p.covers(*point));
        line.window.contains(*point) && top.is_some_and(|p| p.hides(line.colour))
    };
    let mut began: Option<(Point, Point, f64)> = None;
    for point in ring.fine_points(LOOK_EVERY) {
        began = match began {
            _ if !hidden(&point) => None,
            None => Some((point, point, 0.0)),
            Some((first, last, length)) => Some((first, point, length + last.distance(point))),
        };
        if let Some((first, _, length)) = began
            && length >= HIDDEN_FROM
        {
            return Some(first);
        }
    }
    None
}

/// Half rings of these radii, mm, mark joins.
const RADII: std::ops::RangeInclusive<f64> = 3.0..=8.0;

/// A half ring's points lie this near its circle, mm.
const ROUND_WITHIN: f64 = 0.02;

/// Half a ring, drawn open.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HalfRing {
    /// Its centre, in the middle between its ends.
    pub centre: Point,
    /// Unit vector from the centre to the middle of the arc.
    pub into: Vec2,
}

impl HalfRing {
    /// The half ring that `path` is, if it is one.
    pub fn of(path: &BezPath) -> Option<Self> {
        let curved = |e: &PathEl| matches!(e, PathEl::CurveTo(..));
        let (first, rest) = path.elements().split_first()?;
        if !matches!(first, PathEl::MoveTo(_))
            || !(1..=4).contains(&rest.len())
            || !rest.iter().all(curved)
        {
            return None;
        }
        let segments: Vec<PathSeg> = path.segments().collect();
        let (start, end) = (segments.first()?.start(), segments.last()?.end());
        let (centre, radius) = (start.midpoint(end), start.distance(end) / 2.0);
        if !RADII.contains(&radius) {
            return None;
        }
        let points: Vec<Point> = segments
            .iter()
            .flat_map(|s| (0..=8).map(|i| s.eval(f64::from(i) / 8.0)))
            .collect();
        let sum = points.iter().fold(Vec2::ZERO, |sum, p| sum + (*p - centre));
        let into = sum.normalize();
        let on_half = |p: &Point| {
            let from = *p - centre;
            (from.hypot() - radius).abs() <= ROUND_WITHIN && from.dot(into) >= -ROUND_WITHIN
        };
        (into.is_finite() && points.iter().all(on_half)).then_some(Self { centre, into })
    }
}
