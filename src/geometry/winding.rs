//! Winding numbers of closed paths, by a sweep over the plane (linesweeper): how often each part of it
//! is inside, and where a path crosses itself. Millimetres.

use super::curve::closed;
use crate::diagnostic::guard::guarded;
use kurbo::{BezPath, ParamCurve, PathSeg, Point, Shape};
use linesweeper::topology::Topology;
use std::ops::RangeInclusive;

/// Points nearer than this, mm, count as one while winding numbers are computed.
const SWEEP: f64 = 1e-6;

/// Segments shorter than this, mm, are left by the sweep where curves all but touch.
pub(super) const CRUMB: f64 = 2e-5;

/// The plane of a closed path, parted by winding numbers; `None` if it cannot be read as closed, or if the
/// sweep breaks off over it, as it may where curves touch along a stretch.
pub(super) fn swept(path: &BezPath) -> Option<Topology<i32>> {
    let topology = guarded(|| Topology::<i32>::from_path(path, SWEEP));
    topology.ok()?.ok()
}

/// The least and greatest winding number in the plane of a closed path; `None` if the path cannot
/// be read as closed.
pub(super) fn windings(path: &BezPath) -> Option<RangeInclusive<i32>> {
    let topology = swept(path)?;
    let (mut least, mut greatest) = (0, 0);
    for index in topology.segment_indices() {
        let half = index.first_half();
        let sides = [
            *topology.winding_clockwise(half),
            *topology.winding_counter_clockwise(half),
        ];
        least = least.min(sides[0]).min(sides[1]);
        greatest = greatest.max(sides[0]).max(sides[1]);
    }
    Some(least..=greatest)
}

/// A region that is not once inside or outside and reaches no further than this, mm, is no
/// crossing but the sweep's own doing: where both sides of a joint leave it level, [`SWEEP`] in
/// height is some thousandths of a millimetre in width.
pub(super) const UNSOUND: f64 = 0.02;

/// A point where a closed path crosses itself, if there is one: a meeting of more than two
/// stretches on the boundary of what is not once inside or outside. A path that cannot be read as
/// closed crosses at its start. It is asked twice, of whole segments and of parts, because the sweep may
/// overlook that curves cross at a shallow angle.
pub(super) fn crossing(path: &BezPath) -> Option<Point> {
    let segments: Vec<PathSeg> = path.segments().collect();
    [1, 2]
        .into_iter()
        .find_map(|parts| crossing_seen(&closed_in_parts(&segments, parts)))
}

fn crossing_seen(path: &BezPath) -> Option<Point> {
    let Some(topology) = swept(path) else {
        return path.segments().next().map(|s| s.start());
    };
    let contours = topology.contours(|winding| !(0..=1).contains(winding));
    let faults: Vec<&BezPath> = contours
        .contours()
        .map(|contour| &contour.path)
        .filter(|ring| {
            let bounds = ring.bounding_box();
            bounds.width().max(bounds.height()) > UNSOUND
        })
        .collect();
    let corners = || {
        faults
            .iter()
            .flat_map(|ring| ring.segments())
            .map(|s| s.start())
    };
    let mut ends: Vec<Point> = Vec::new();
    for index in topology.segment_indices() {
        let points = [index.first_half(), index.second_half()].map(|half| {
            let point = topology.point(half);
            Point::new(point.x, point.y)
        });
        // A crumb has both its ends in one place, and would make a plain joint look like a meeting.
        if points[0].distance(points[1]) > CRUMB {
            ends.extend(points);
        }
    }
    let meet = |p: &Point| ends.iter().filter(|e| e.distance(*p) <= CRUMB).count() > 2;
    corners().find(meet).or_else(|| corners().next())
}

/// `segments`, which follow one another, as one closed path, each in so many parts.
pub(super) fn closed_in_parts(segments: &[PathSeg], parts: usize) -> BezPath {
    if parts == 1 {
        return closed(segments);
    }
    let at = |part: usize| part as f64 / parts as f64;
    let whole = segments
        .iter()
        .flat_map(|segment| (0..parts).map(move |part| segment.subsegment(at(part)..at(part + 1))));
    closed(&whole.collect::<Vec<_>>())
}
