//! From a raw ring that crosses itself to rings that do not: winding numbers decide what is inside
//! (linesweeper), and the rings that come out are put together again from the raw strands, so that
//! lines stay lines, curves are cut only where rings cross, and every strand knows its edge.

use super::ring::{self, Strand, ending_with, starting_at};
use kurbo::{BezPath, ParamCurve, ParamCurveNearest, PathSeg, Point, Rect, Shape};
use linesweeper::topology::Topology;
use std::ops::RangeInclusive;

/// Points nearer than this, mm, count as one while winding numbers are computed.
const SWEEP: f64 = 1e-6;

/// A boundary lies on the strand it comes from to within this, mm: the sweep moves points by a few
/// times [`SWEEP`], and at shallow crossings by somewhat more.
const ON_STRAND: f64 = 1e-4;

/// Segments shorter than this, mm, are left by the sweep where curves all but touch.
const CRUMB: f64 = 2e-5;

/// The least and greatest winding number in the plane of a closed path; `None` if the path cannot
/// be read as closed.
pub(in crate::geometry) fn windings(path: &BezPath) -> Option<RangeInclusive<i32>> {
    let topology = Topology::<i32>::from_path(path, SWEEP).ok()?;
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
const UNSOUND: f64 = 0.02;

/// A point where a closed path crosses itself, if there is one: a meeting of more than two
/// stretches on the boundary of what is not once inside or outside. A path that cannot be read as
/// closed crosses at its start.
pub(in crate::geometry) fn crossing(path: &BezPath) -> Option<Point> {
    let Ok(topology) = Topology::<i32>::from_path(path, SWEEP) else {
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

/// Whether `strands` run clockwise and do not cross themselves.
pub(in crate::geometry) fn is_simple(strands: &[Strand]) -> bool {
    let path = ring::path_of_strands(strands);
    path.area() > 0.0 && windings(&path) == Some(0..=1)
}

/// The outer boundaries, clockwise, of what `inside` says of the winding numbers of `strands`.
pub(in crate::geometry) fn outer_rings(
    strands: &[Strand],
    inside: impl Fn(i32) -> bool,
) -> Vec<Vec<Strand>> {
    let path = ring::path_of_strands(strands);
    let Ok(topology) = Topology::<i32>::from_path(&path, SWEEP) else {
        return Vec::new();
    };
    let contours = topology.contours(|winding| inside(*winding));
    contours
        .contours()
        .filter(|contour| contour.outer)
        .map(|contour| rebuilt(&contour.path, strands))
        .filter(|ring| !ring.is_empty())
        .collect()
}

/// The ring of a swept path, from the raw strands it lies on; should the parts cross at a joint
/// after all, from the swept segments themselves.
fn rebuilt(path: &BezPath, strands: &[Strand]) -> Vec<Strand> {
    let found = found(path, strands);
    let ring = fastened(merged(&found, strands));
    if is_simple(&ring) {
        return ring;
    }
    let swept = |f: &Found| Strand {
        segment: f.swept,
        edge: f.edge,
        parallel: strands.get(f.strand).is_some_and(|s| s.parallel),
    };
    fastened(found.iter().map(swept).collect())
}

/// A stretch of a raw strand.
#[derive(Clone)]
struct Found {
    strand: usize,
    from: f64,
    to: f64,
    /// Edge of the strand, or of the nearest one.
    edge: usize,
    /// As it came out of the sweep, for what lies on no strand.
    swept: PathSeg,
}

/// For each segment of a swept path, the raw strand it lies on.
fn found(path: &BezPath, strands: &[Strand]) -> Vec<Found> {
    let boxes: Vec<Rect> = strands
        .iter()
        .map(|s| s.segment.bounding_box().inflate(ON_STRAND, ON_STRAND))
        .collect();
    path.segments()
        .filter(|swept| !is_crumb(swept))
        .map(|swept| find(&swept, strands, &boxes))
        .collect()
}

/// Whether a segment is shorter than what the sweep may have moved its ends by.
fn is_crumb(segment: &PathSeg) -> bool {
    let (start, middle, end) = (segment.start(), segment.eval(0.5), segment.end());
    start.distance(middle) + middle.distance(end) <= CRUMB
}

/// Stretches that continue one another on a strand as one, cut from their strands.
fn merged(found: &[Found], strands: &[Strand]) -> Vec<Strand> {
    let mut stretches: Vec<Found> = Vec::new();
    for next in found {
        match stretches.last_mut() {
            Some(last) if continues(last, next) => last.to = next.to,
            _ => stretches.push(next.clone()),
        }
    }
    if stretches.len() > 2
        && let (Some(last), Some(first)) = (stretches.last(), stretches.first())
        && continues(last, first)
    {
        stretches[0].from = last.from;
        stretches.pop();
    }
    stretches
        .iter()
        .map(|f| cut(f, strands))
        .filter(|strand| !is_crumb(&strand.segment))
        .collect()
}

fn continues(last: &Found, next: &Found) -> bool {
    last.strand != usize::MAX
        && last.strand == next.strand
        && (last.to - next.from).abs() < 1e-4
        && (last.to - last.from) * (next.to - next.from) > 0.0
}

/// The raw strand that a swept segment lies on.
fn find(swept: &PathSeg, strands: &[Strand], boxes: &[Rect]) -> Found {
    let probes = [swept.start(), swept.eval(0.5), swept.end()];
    let near = |strand: &Strand| probes.map(|p| strand.segment.nearest(p, 1e-10));
    let mut best = (ON_STRAND, usize::MAX, 0.0, 1.0);
    for (index, strand) in strands.iter().enumerate() {
        if probes.iter().any(|p| !boxes[index].contains(*p)) {
            continue;
        }
        let near = near(strand);
        let distance = near
            .iter()
            .map(|n| n.distance_sq.sqrt())
            .fold(0.0, f64::max);
        if distance < best.0 {
            best = (distance, index, near[0].t, near[2].t);
        }
    }
    let edge = match strands.get(best.1) {
        Some(strand) => strand.edge,
        None => strands
            .iter()
            .min_by(|a, b| near(a)[1].distance_sq.total_cmp(&near(b)[1].distance_sq))
            .map_or(0, |strand| strand.edge),
    };
    Found {
        strand: best.1,
        from: best.2,
        to: best.3,
        edge,
        swept: *swept,
    }
}

/// `ring` with the ends of its strands made to meet exactly, half-way.
fn fastened(mut ring: Vec<Strand>) -> Vec<Strand> {
    for index in 0..ring.len() {
        let next = (index + 1) % ring.len();
        let (end, start) = (ring[index].segment.end(), ring[next].segment.start());
        let meeting = end.midpoint(start);
        ring[index].segment = ending_with(ring[index].segment, meeting);
        ring[next].segment = starting_at(ring[next].segment, meeting);
    }
    ring
}

fn cut(found: &Found, strands: &[Strand]) -> Strand {
    let Some(strand) = strands.get(found.strand) else {
        return Strand {
            segment: found.swept,
            edge: found.edge,
            parallel: false,
        };
    };
    let snapped = |t: f64| {
        if t < 1e-7 {
            0.0
        } else if t > 1.0 - 1e-7 {
            1.0
        } else {
            t
        }
    };
    let (low, high) = (found.from.min(found.to), found.from.max(found.to));
    let part = match (snapped(low), snapped(high)) {
        (0.0, 1.0) => strand.segment,
        (low, high) => strand.segment.subsegment(low..high),
    };
    let segment = if found.from <= found.to {
        part
    } else {
        part.reverse()
    };
    Strand { segment, ..*strand }
}
