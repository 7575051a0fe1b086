//! Tints of regions: which cloth shows its wrong side or its lining. Tints of lines and dots keep on
//! a copier; greys are there for screens. Millimetres on paper.

use super::polyline::distance_to;
use super::regions::Region;
use super::scene::Face;
pub(super) use crate::figure::tint::DOT;
use crate::figure::tint::{DOT_PITCH, GRID_PITCH, HATCH_PITCH};
use kurbo::{BezPath, Line, ParamCurve, Point, Rect, Shape};

/// How faces are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Tints {
    /// Dots and hatching.
    #[default]
    Lines,
    /// Greys that survive a copier.
    Greys,
    /// Not at all.
    None,
}

/// Hatching of the wrong side, at 45 degrees.
const HATCH: f64 = 0.12;
/// A shorter stroke of hatching, mm, is a crumb: the region is no wider than a line there.
const CRUMB: f64 = 0.8;
/// Grid of the stiffener.
const GRID: f64 = 0.1;

/// Dots keep this far from the region's edge, so that none sits on a line.
const DOT_CLEAR: f64 = 0.45;

/// Curves are flattened within this for clipping.
const FLAT: f64 = 0.05;

/// The grey of a face.
pub(super) fn grey(face: Face) -> &'static str {
    match face {
        Face::Right => "#ffffff",
        Face::Wrong => "#d9dee2",
        Face::Lining => "#eceae4",
        Face::Insole => "#f6f4ef",
        Face::Stiffener => "#cfc4b0",
    }
}

/// What a tint is drawn with.
pub(super) enum Pattern {
    /// Lines of a width.
    Strokes(BezPath, f64),
    /// Round dots.
    Dots(Vec<Point>),
}

/// The line tint of a region; the right side and the insole have none.
pub(super) fn pattern(region: &Region) -> Option<Pattern> {
    let rings = rings(&region.path);
    let bounds = region.path.bounding_box();
    match region.face {
        Face::Right | Face::Insole => None,
        Face::Lining => Some(Pattern::Dots(dots(&rings, bounds))),
        Face::Wrong => Some(Pattern::Strokes(hatching(&rings, bounds), HATCH)),
        Face::Stiffener => Some(Pattern::Strokes(grid(&rings, bounds), GRID)),
    }
}

fn rings(path: &BezPath) -> Vec<Vec<Point>> {
    let mut rings: Vec<Vec<Point>> = Vec::new();
    kurbo::flatten(path, FLAT, |element| match element {
        kurbo::PathEl::MoveTo(p) => rings.push(vec![p]),
        kurbo::PathEl::LineTo(p) => {
            if let Some(ring) = rings.last_mut() {
                ring.push(p);
            }
        }
        _ => {
            if let Some(ring) = rings.last_mut()
                && let Some(first) = ring.first().copied()
            {
                ring.push(first);
            }
        }
    });
    rings
}

/// The stretches of `line` inside the rings (even-odd).
fn inside(line: Line, rings: &[Vec<Point>]) -> Vec<Line> {
    let way = line.p1 - line.p0;
    let mut crossings = Vec::new();
    for side in rings.iter().flat_map(|ring| ring.windows(2)) {
        let (a, b) = (way.cross(side[0] - line.p0), way.cross(side[1] - line.p0));
        if (a > 0.0) != (b > 0.0) {
            let point = side[0].lerp(side[1], a / (a - b));
            crossings.push((point - line.p0).dot(way) / way.hypot2());
        }
    }
    crossings.sort_by(f64::total_cmp);
    let pairs = crossings.chunks_exact(2);
    pairs
        .map(|pair| Line::new(line.eval(pair[0]), line.eval(pair[1])))
        .collect()
}

fn drawn(lines: impl Iterator<Item = Line>) -> BezPath {
    let mut path = BezPath::new();
    for line in lines {
        path.move_to(line.p0);
        path.line_to(line.p1);
    }
    path
}

/// Multiples of `pitch` between two numbers.
fn multiples(from: f64, to: f64, pitch: f64) -> impl Iterator<Item = f64> {
    let first = (from / pitch).ceil() as i64;
    let last = (to / pitch).floor() as i64;
    (first..=last).map(move |i| i as f64 * pitch)
}

fn hatching(rings: &[Vec<Point>], bounds: Rect) -> BezPath {
    let pitch = HATCH_PITCH * std::f64::consts::SQRT_2;
    // The line x + y = sum rises to the right.
    let sums = multiples(bounds.x0 + bounds.y0, bounds.x1 + bounds.y1, pitch);
    let lines = sums.map(|sum| {
        let (low, high) = (bounds.y1 + 1.0, bounds.y0 - 1.0);
        Line::new((sum - low, low), (sum - high, high))
    });
    let within = lines.flat_map(|line| inside(line, rings));
    drawn(within.filter(|line| line.p0.distance(line.p1) >= CRUMB))
}

fn grid(rings: &[Vec<Point>], bounds: Rect) -> BezPath {
    let bounds = bounds.inset(1.0);
    let upright = multiples(bounds.x0, bounds.x1, GRID_PITCH)
        .map(|x| Line::new((x, bounds.y0), (x, bounds.y1)));
    let level = multiples(bounds.y0, bounds.y1, GRID_PITCH)
        .map(|y| Line::new((bounds.x0, y), (bounds.x1, y)));
    drawn(upright.chain(level).flat_map(|line| inside(line, rings)))
}

/// Dots in rows, every second row moved by half the pitch.
fn dots(rings: &[Vec<Point>], bounds: Rect) -> Vec<Point> {
    let mut dots = Vec::new();
    let rows = multiples(bounds.y0, bounds.y1, DOT_PITCH * 0.866);
    for (number, y) in rows.enumerate() {
        let line = Line::new((bounds.x0 - 1.0, y), (bounds.x1 + 1.0, y));
        let shift = if number % 2 == 1 {
            0.5 * DOT_PITCH
        } else {
            0.0
        };
        for stretch in inside(line, rings) {
            for x in multiples(stretch.p0.x - shift, stretch.p1.x - shift, DOT_PITCH) {
                let dot = Point::new(x + shift, y);
                if rings.iter().all(|ring| distance_to(dot, ring) > DOT_CLEAR) {
                    dots.push(dot);
                }
            }
        }
    }
    dots
}
