//! Where the contour is open it runs on along the outline of what is seen, until it meets the contour
//! again: so every drawing closes, however its curves hid each other. Millimetres on paper.

use super::chain::{Chain, End, STEP};
use super::line_kind::LineKind;
use super::polyline::{distance_to, lengths, resampled, smoothed, tangents};
use super::{OPEN, SMOOTH_CONTOUR};
use kurbo::{BezPath, PathEl, Point};

/// An end is brought to an outline no farther from it than this.
const NEAR: f64 = 1.6;

/// It runs along it no farther than this.
const FARTHEST: f64 = 15.0;

/// The walk meets the contour where it comes as near as this: less than what counts as open.
const MEETS: f64 = 0.8 * OPEN;

/// How much of the line before the end is smoothed together with the way on.
const SMOOTHED: f64 = 3.0;

/// Lets open ends of the contour run on along `silhouette`, rings of straight lines.
pub(super) fn close(chains: &mut [Chain], silhouette: &BezPath) {
    let mut rings: Option<Vec<Vec<Point>>> = None;
    for number in 0..chains.len() {
        for end in End::BOTH {
            let chain = &chains[number];
            let contour = chain.kind == LineKind::Outer && !chain.closed;
            let tip = chain.end(end);
            if !contour || !is_open(tip, &chain.points, others(chains, number)) {
                continue;
            }
            let rings = rings.get_or_insert_with(|| rings_of(silhouette));
            let way = way_on(chains, number, end, rings);
            if let Some(way) = way.or_else(|| across(chains, number, end)) {
                run_on(&mut chains[number], end, &way);
            }
        }
    }
}

/// Whether the end at `tip` of an open line of the contour meets neither one of the `others` nor its own
/// other end.
pub(super) fn is_open<'a>(
    tip: Point,
    own: &[Point],
    others: impl Iterator<Item = &'a [Point]>,
) -> bool {
    let (Some(first), Some(last)) = (own.first(), own.last()) else {
        return false;
    };
    let distances = others.map(|other| distance_to(tip, other));
    distances.fold(first.distance(*last), f64::min) > OPEN
}

/// The other lines of the contour.
fn others(chains: &[Chain], number: usize) -> impl Iterator<Item = &[Point]> {
    let outer = chains.iter().enumerate();
    let outer = outer.filter(move |(i, other)| *i != number && other.kind == LineKind::Outer);
    outer.map(|(_, other)| other.points.as_slice())
}

/// The rings with samples a step apart, the first one not repeated.
fn rings_of(silhouette: &BezPath) -> Vec<Vec<Point>> {
    let mut rings: Vec<Vec<Point>> = Vec::new();
    for element in silhouette.elements() {
        match (element, rings.last_mut()) {
            (PathEl::MoveTo(point), _) => rings.push(vec![*point]),
            (PathEl::LineTo(point), Some(ring)) => ring.push(*point),
            _ => {}
        }
    }
    for ring in &mut rings {
        ring.extend(ring.first().copied());
        *ring = resampled(ring, STEP);
        ring.pop();
    }
    rings.retain(|ring| ring.len() > 2);
    rings
}

/// The way from an end along the nearest ring to where it meets the contour; `None` if no ring is
/// near or the way meets none.
fn way_on(chains: &[Chain], number: usize, end: End, rings: &[Vec<Point>]) -> Option<Vec<Point>> {
    let chain = &chains[number];
    let tip = chain.end(end);
    let samples = rings.iter().enumerate();
    let samples =
        samples.flat_map(|(r, ring)| ring.iter().enumerate().map(move |(i, p)| (r, i, p)));
    let far = |sample: &(usize, usize, &Point)| sample.2.distance(tip);
    let nearest = samples.min_by(|a, b| far(a).total_cmp(&far(b)))?;
    let off = far(&nearest);
    if off > NEAR {
        return None;
    }
    let (ring, at, _) = nearest;
    let ring = &rings[ring];
    let forward = tangents(ring)[at].dot(chain.outward(end)) >= 0.0;
    let mut way = Vec::new();
    let steps = ((FARTHEST / STEP) as usize).min(ring.len() - 1);
    for step in 1..=steps {
        let behind = if forward { step } else { ring.len() - step };
        let point = ring[(at + behind) % ring.len()];
        let own = [chain.end(other(end))];
        let lines = others(chains, number).flatten().chain(&own);
        let met = lines.min_by(|a, b| a.distance(point).total_cmp(&b.distance(point)))?;
        if met.distance(point) <= MEETS {
            way.push(*met);
            return Some(way);
        }
        // the first part leads over from the end to the ring
        if point.distance(tip) >= 2.0 * off {
            way.push(point);
        }
    }
    None
}

/// Straight over to the nearest point of the contour, where what parts them is too thin to be seen.
fn across(chains: &[Chain], number: usize, end: End) -> Option<Vec<Point>> {
    let tip = chains[number].end(end);
    let points = others(chains, number).flatten();
    let nearest = points.min_by(|a, b| a.distance(tip).total_cmp(&b.distance(tip)))?;
    (nearest.distance(tip) <= NEAR).then(|| vec![*nearest])
}

fn other(end: End) -> End {
    match end {
        End::First => End::Last,
        End::Last => End::First,
    }
}

/// Lengthens a chain by `way` and smooths where it was.
fn run_on(chain: &mut Chain, end: End, way: &[Point]) {
    if end == End::First {
        chain.reverse();
    }
    let along = lengths(&chain.points);
    let whole = along.last().copied().unwrap_or(0.0);
    let kept = along.iter().filter(|l| whole - **l > SMOOTHED).count();
    let mut tail = chain.points.split_off(kept);
    tail.extend(way);
    let even = resampled(&tail, STEP);
    chain
        .points
        .extend(smoothed(&even, SMOOTH_CONTOUR, STEP, false));
    if end == End::First {
        chain.reverse();
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may panic")]

    use super::*;
    use crate::figure::drawing::polygon;
    use std::f64::consts::TAU;

    const RADIUS: f64 = 20.0;

    fn arc(from: f64, to: f64, radius: f64) -> Vec<Point> {
        let count = ((to - from) * radius / STEP).ceil() as usize;
        let at = |i: usize| from + (to - from) * i as f64 / count as f64;
        let point = |a: f64| Point::new(30.0 + radius * a.cos(), 30.0 + radius * a.sin());
        (0..=count).map(|i| point(at(i))).collect()
    }

    fn contour(points: Vec<Point>) -> Chain {
        Chain {
            points,
            kind: LineKind::Outer,
            born: LineKind::Outer,
            gaps: [0.0; 2],
            closed: false,
            silhouette: true,
            curve: 0,
            tag: 0,
        }
    }

    fn open(chains: &[Chain]) -> usize {
        let tips = (0..chains.len()).flat_map(|number| End::BOTH.map(|end| (number, end)));
        let tip_open = |(number, end): &(usize, End)| {
            let chain = &chains[*number];
            is_open(chain.end(*end), &chain.points, others(chains, *number))
        };
        tips.filter(tip_open).count()
    }

    /// A circle of two arcs, 3 mm and 9 mm apart, is closed along the circle of what is seen, which lies
    /// 0.2 mm farther out; the circle is its own measure.
    #[test]
    fn gaps_close_along_the_silhouette() {
        let gap = |mm: f64| mm / RADIUS;
        let mut chains = vec![
            contour(arc(0.0, 3.0 - gap(3.0), RADIUS)),
            contour(arc(3.0, TAU - gap(9.0), RADIUS)),
        ];
        let mut silhouette = BezPath::from_vec(polygon(&arc(0.0, TAU, RADIUS + 0.2)));
        assert_eq!(open(&chains), 4);
        close(&mut chains, &silhouette);
        assert_eq!(open(&chains), 0);
        for point in chains.iter().flat_map(|chain| &chain.points) {
            let off = point.distance(Point::new(30.0, 30.0)) - RADIUS;
            assert!((-0.05..0.3).contains(&off), "{point}: {off}");
        }
        let whole: f64 = chains.iter().map(|c| super::super::length(&c.points)).sum();
        assert!((whole - TAU * RADIUS).abs() < 1.5, "{whole}");
        // without an outline beside it the gap stays, and is told
        silhouette = BezPath::from_vec(polygon(&arc(0.0, TAU, RADIUS + 5.0)));
        let mut chains = vec![contour(arc(0.0, TAU - gap(9.0), RADIUS))];
        close(&mut chains, &silhouette);
        assert_eq!(open(&chains), 2);
    }
}
