//! One side of a foot: the outline from the toe to the heel, in mm on the foot's axes.

use crate::geometry::curve;
use kurbo::{BezPath, ParamCurve, ParamCurveExtrema, PathSeg, Point};

/// How far x may rise on the way from toe to heel, as a share of the foot's length: 0.14 mm on a
/// foot of 70 mm, less than a pencil line.
const RISE: f64 = 0.002;

/// Halvings of a parameter's range: to less than the precision of numbers.
const HALVINGS: usize = 54;

/// One side of the outline, from the toe's foremost point to the heel's hindmost.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Side {
    segments: Vec<PathSeg>,
}

/// A place on a side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct SidePlace {
    index: usize,
    t: f64,
    /// Where it lies.
    pub point: Point,
}

/// The inner and the outer side of a ring that runs from the toe by the inner side to the heel.
pub(super) fn parted(ring: &BezPath) -> Option<(Side, Side)> {
    let segments: Vec<PathSeg> = ring.segments().collect();
    let toe = furthest(&segments, 1.0)?;
    let heel = furthest(&segments, -1.0)?;
    let inner = between(&segments, toe, heel);
    let outer = between(&segments, heel, toe);
    let outer: Vec<PathSeg> = outer.iter().rev().map(PathSeg::reverse).collect();
    Some((Side { segments: inner }, Side { segments: outer }))
}

/// Both sides as one closed path, from the toe by the inner side.
pub(super) fn ring(inner: &Side, outer: &Side) -> BezPath {
    let back = outer.segments.iter().rev().map(PathSeg::reverse);
    let mut path = curve::chained(inner.segments.iter().copied().chain(back));
    path.close_path();
    path
}

/// Where x is greatest (`sign` 1) or least (`sign` -1).
fn furthest(segments: &[PathSeg], sign: f64) -> Option<(usize, f64)> {
    let mut best: Option<(f64, (usize, f64))> = None;
    for (index, segment) in segments.iter().enumerate() {
        for t in turning_points(segment) {
            let reach = sign * segment.eval(t).x;
            if best.is_none_or(|(b, _)| reach > b) {
                best = Some((reach, (index, t)));
            }
        }
    }
    best.map(|(_, place)| place)
}

/// The parameters at which a segment may be foremost or hindmost, in order.
fn turning_points(segment: &PathSeg) -> Vec<f64> {
    let mut points = vec![0.0];
    points.extend(segment.extrema());
    points.push(1.0);
    points
}

/// The first parameter at which a segment is at `x`: between its turning points x only rises or only
/// falls, so that halving finds it whatever the curve is.
fn first_at(segment: &PathSeg, x: f64) -> Option<f64> {
    turning_points(segment).windows(2).find_map(|pair| {
        let (mut low, mut high) = (pair[0], pair[1]);
        let beyond = |t: f64| segment.eval(t).x - x;
        let (first, last) = (beyond(low), beyond(high));
        if first * last > 0.0 {
            return None;
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if beyond(middle) * first > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(if first == 0.0 { pair[0] } else { high })
    })
}

/// The part of a ring of segments from one place on to another.
fn between(segments: &[PathSeg], from: (usize, f64), to: (usize, f64)) -> Vec<PathSeg> {
    let count = segments.len();
    let mut part = Vec::new();
    let mut add = |index: usize, start: f64, end: f64| {
        if end - start > 1e-9 {
            let whole = start == 0.0 && end == 1.0;
            let segment = segments[index];
            part.push(if whole {
                segment
            } else {
                segment.subsegment(start..end)
            });
        }
    };
    if from.0 == to.0 && from.1 <= to.1 {
        add(from.0, from.1, to.1);
        return part;
    }
    add(from.0, from.1, 1.0);
    let mut index = (from.0 + 1) % count;
    while index != to.0 {
        add(index, 0.0, 1.0);
        index = (index + 1) % count;
    }
    add(to.0, 0.0, to.1);
    part
}

impl Side {
    /// The toe's foremost point.
    pub(super) fn toe(&self) -> Point {
        self.segments.first().map_or(Point::ZERO, |s| s.start())
    }

    /// The side as an open path from toe to heel.
    pub(super) fn path(&self) -> BezPath {
        curve::chained(self.segments.iter().copied())
    }

    /// Where the side runs back towards the toe by more than [`RISE`] allows, if it does.
    pub(super) fn doubles_back(&self, length: f64) -> Option<Point> {
        let mut least = f64::INFINITY;
        for segment in &self.segments {
            for t in turning_points(segment) {
                let point = segment.eval(t);
                if point.x > least + RISE * length {
                    return Some(point);
                }
                least = least.min(point.x);
            }
        }
        None
    }

    /// The place at the distance `x` from the heel, the first on the way from the toe.
    pub(super) fn at(&self, x: f64) -> Option<SidePlace> {
        self.segments
            .iter()
            .enumerate()
            .find_map(|(index, segment)| {
                let t = first_at(segment, x)?;
                let point = segment.eval(t);
                Some(SidePlace { index, t, point })
            })
    }

    /// From the toe to `place`, and from there to the heel.
    pub(super) fn parted_at(&self, place: SidePlace) -> (Vec<PathSeg>, Vec<PathSeg>) {
        let (start, end) = ((0, 0.0), (self.segments.len() - 1, 1.0));
        let place = (place.index, place.t);
        (
            between(&self.segments, start, place),
            between(&self.segments, place, end),
        )
    }
}
