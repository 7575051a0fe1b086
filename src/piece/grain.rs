//! The grain line: direction from the design, length and place from the outline, clear of the marks.

use super::model::{Mark, MarkKind};
use crate::design::GrainSpec;
use crate::geometry::Outline;
use crate::geometry::probe::{is_inside, meetings};
use kurbo::{BezPath, Line, ParamCurve, ParamCurveNearest, PathEl, Point, Shape, Vec2};

/// Share of the piece's own length along the grain that the line takes (common practice: long
/// enough to lay a rule along).
const SHARE: f64 = 0.6;

/// Shares that are tried where a mark lies on the usual line and there is no room for one so long.
const SHARES: [f64; 3] = [SHARE, 0.45, 0.3];

/// What the line keeps from marks and from the seam line, mm: half its arrowhead and a pencil line.
const CLEAR: f64 = 2.5;

/// Lines that meet the grain line at more than this, as a sine, cross it and are not taken for it: 25°.
const CROSSING: f64 = 0.42;

/// Places aside that are tried on either side, and places along the grain.
const ASIDE: i32 = 24;
const ALONG: i32 = 6;

/// Tolerance of the curves that are looked at, mm: far below what the line keeps from them.
const FLAT: f64 = 0.05;

/// The grain line of a piece, through the middle of its longest stretch along the grain that
/// passes near the centre of its bounds; beside it, as near as may be, where a mark lies there.
pub(super) fn line(outline: &Outline, grain: GrainSpec, marks: &[Mark]) -> Option<[Point; 2]> {
    let GrainSpec::Angle(degrees) = grain else {
        return None;
    };
    let (sin, cos) = degrees.to_radians().sin_cos();
    let along = Vec2::new(sin, -cos);
    let centre = outline.bounds().center();
    let usual = of_stretch(stretch(outline, centre, along)?, along, SHARE, 0.0);
    if !is_covered(usual, marks) {
        return Some(usual);
    }
    Some(beside(outline, (centre, along), marks).unwrap_or(usual))
}

/// The part of a stretch that the line takes, moved along it by a share of what it leaves free.
fn of_stretch((from, to): (Point, Point), along: Vec2, share: f64, by: f64) -> [Point; 2] {
    let length = from.distance(to);
    let middle = from.midpoint(to) + along * (by * (1.0 - share) * length / 2.0);
    let half = along * (length * share / 2.0);
    [middle + half, middle - half]
}

/// The nearest place for the line, as long as may be, on which no mark lies.
fn beside(outline: &Outline, (centre, along): (Point, Vec2), marks: &[Mark]) -> Option<[Point; 2]> {
    let bounds = outline.bounds();
    let aside = Vec2::new(-along.y, along.x);
    let reach = aside.x.abs() * bounds.width() / 2.0 + aside.y.abs() * bounds.height() / 2.0;
    let seam = straight(&outline.path());
    let steps = |most: i32| (-most..=most).map(move |step| f64::from(step) / f64::from(most));
    SHARES.iter().find_map(|share| {
        let mut best: Option<(f64, [Point; 2])> = None;
        for off in steps(ASIDE) {
            let through = centre + aside * (off * reach);
            let Some(found) = stretch(outline, through, along) else {
                continue;
            };
            for by in steps(ALONG) {
                let line = of_stretch(found, along, *share, by);
                let far = line[0].midpoint(line[1]).distance(centre);
                let is_nearer = best.is_none_or(|(least, _)| far < least - 1e-9);
                if is_nearer && !is_covered(line, marks) && keeps_inside(line, &seam) {
                    best = Some((far, line));
                }
            }
        }
        best.map(|(_, line)| line)
    })
}

/// Whether the line keeps clear of the seam line all along.
fn keeps_inside([from, to]: [Point; 2], seam: &[Line]) -> bool {
    let line = Line::new(from, to);
    let far = |point: Point| {
        let all = seam.iter().map(|s| s.nearest(point, FLAT).distance_sq);
        all.fold(f64::INFINITY, f64::min).sqrt()
    };
    (0..=8).all(|step| far(line.eval(f64::from(step) / 8.0)) >= CLEAR)
}

/// A path as straight lines.
fn straight(path: &BezPath) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let mut at = Point::ZERO;
    let mut start = Point::ZERO;
    kurbo::flatten(path, FLAT, |element| match element {
        PathEl::MoveTo(to) => (at, start) = (to, to),
        PathEl::ClosePath => lines.push(Line::new(at, start)),
        PathEl::LineTo(to) => {
            lines.push(Line::new(at, to));
            at = to;
        }
        // a flattened path has no curves
        PathEl::QuadTo(..) | PathEl::CurveTo(..) => {}
    });
    lines
}

/// Whether a mark lies on the line, or runs along it so near that one is taken for the other.
fn is_covered([from, to]: [Point; 2], marks: &[Mark]) -> bool {
    let line = Line::new(from, to);
    let far = |point: Point| line.nearest(point, FLAT).distance_sq.sqrt();
    marks.iter().any(|mark| match &mark.kind {
        MarkKind::Hole { at, diameter }
        | MarkKind::Eyelet { at, diameter }
        | MarkKind::Button { at, diameter } => far(*at) < diameter / 2.0 + CLEAR,
        // a slit is cut: nothing may be drawn over it, whichever way it lies
        MarkKind::Buttonhole { from, to } => {
            let slit = Line::new(*from, *to);
            looked_at(slit.p0.distance(slit.p1)).any(|share| far(slit.eval(share)) < CLEAR)
        }
        MarkKind::Line { path, .. } => runs_along(path, to - from, &far),
    })
}

/// Whether a stretch of the path lies near the line and has nearly its direction.
fn runs_along(path: &BezPath, along: Vec2, far: &dyn Fn(Point) -> f64) -> bool {
    let along = along.normalize();
    path.segments().any(|segment| {
        let bounds = segment.bounding_box();
        let places = looked_at(bounds.width() + bounds.height()).map(|share| segment.eval(share));
        let places: Vec<Point> = places.collect();
        places.windows(2).any(|pair| {
            let way = pair[1] - pair[0];
            let alike = way.cross(along).abs() < CROSSING * way.hypot();
            alike && far(pair[0].midpoint(pair[1])) < CLEAR
        })
    })
}

/// Shares of a line so long at which it is looked at: every half millimetre, or a hundred of them.
fn looked_at(length: f64) -> impl Iterator<Item = f64> {
    let count = (2.0 * length).clamp(4.0, 100.0) as u32;
    (0..=count).map(move |step| f64::from(step) / f64::from(count))
}

/// The stretch of the line through `centre` that lies inside the outline: the one that holds the
/// centre, or the longest.
fn stretch(outline: &Outline, centre: Point, along: Vec2) -> Option<(Point, Point)> {
    let bounds = outline.bounds();
    let reach = along * (bounds.width() + bounds.height() + 1.0);
    let ray = Line::new(centre - reach, centre + reach);
    let path = outline.path();
    let mut shares: Vec<f64> = path
        .segments()
        .flat_map(|s| meetings(&s, ray))
        .map(|crossing| crossing.share)
        .collect();
    shares.sort_by(f64::total_cmp);
    shares.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
    let inside = |pair: &&[f64]| is_inside(&path, ray.eval(f64::midpoint(pair[0], pair[1])));
    let stretches: Vec<&[f64]> = shares.windows(2).filter(|pair| inside(pair)).collect();
    let central = stretches
        .iter()
        .find(|pair| pair[0] <= 0.5 && 0.5 <= pair[1]);
    let longest = stretches
        .iter()
        .max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])));
    let pair = central.or(longest)?;
    Some((ray.eval(pair[0]), ray.eval(pair[1])))
}

#[cfg(test)]
mod tests;
