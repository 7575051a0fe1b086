//! From a raw ring that crosses itself to rings that do not: winding numbers decide what is inside
//! (linesweeper), and the rings that come out are put together again from the raw strands, so that
//! lines stay lines, curves are cut only where rings cross, and every strand knows its edge.

use super::ring::{self, Strand};
use crate::geometry::curve::{ending_with, starting_at};
use crate::geometry::winding::{CRUMB, UNSOUND, closed_in_parts, swept, windings};
use kurbo::{Affine, BezPath, ParamCurve, ParamCurveNearest, PathSeg, Rect, Shape};

/// A boundary lies on the strand it comes from to within this, mm: the sweep moves points by a few
/// times its own tolerance, and at shallow crossings by somewhat more.
const ON_STRAND: f64 = 1e-4;

/// Whether `strands` run clockwise and do not cross themselves.
pub(in crate::geometry) fn is_simple(strands: &[Strand]) -> bool {
    let path = ring::path_of_strands(strands);
    path.area() > 0.0 && windings(&path) == Some(0..=1)
}

/// The outer boundaries, clockwise, of what `inside` says of the winding numbers of `strands`.
///
/// Where curves meet at a shallow angle the sweep may take one for another, and a boundary comes out that lies
/// on no strand. Then it is made once more with every strand in parts and all of it turned, which is another
/// problem to the sweep and the same to us.
pub(in crate::geometry) fn outer_rings(
    strands: &[Strand],
    inside: impl Fn(i32) -> bool,
) -> Vec<Vec<Strand>> {
    let segments: Vec<PathSeg> = strands.iter().map(|strand| strand.segment).collect();
    let mut rings = Vec::new();
    for (parts, angle) in TRIES {
        let turn = Affine::rotate(angle);
        let Some(topology) = swept(&(turn * closed_in_parts(&segments, parts))) else {
            continue;
        };
        let contours = topology.contours(|winding| inside(*winding));
        let outer = contours.contours().filter(|contour| contour.outer);
        let found: Vec<Vec<Found>> = outer
            .map(|contour| found(&(turn.inverse() * contour.path.clone()), strands))
            .collect();
        let is_sound = found.iter().flatten().all(|part| !part.is_astray());
        rings = found
            .iter()
            .map(|found| rebuilt(found, strands))
            .filter(|ring| !ring.is_empty())
            .collect();
        if is_sound {
            break;
        }
    }
    rings
}

/// In how many parts strands are handed to the sweep, and turned by which angle, radians; one try after the
/// other.
const TRIES: [(usize, f64); 4] = [(1, 0.0), (2, 0.0), (3, 0.7), (7, 2.0)];

/// The ring of a swept path, from the raw strands it lies on; should the parts cross at a joint
/// after all, from the swept segments themselves.
fn rebuilt(found: &[Found], strands: &[Strand]) -> Vec<Strand> {
    let ring = fastened(merged(found, strands));
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

impl Found {
    /// Whether it lies on no strand and is too long for a place where strands all but touch.
    fn is_astray(&self) -> bool {
        self.strand == usize::MAX && self.swept.start().distance(self.swept.end()) > UNSOUND
    }

    /// Whether it runs over this parameter of its strand.
    fn holds(&self, t: f64) -> bool {
        let (low, high) = (self.from.min(self.to), self.from.max(self.to));
        low < t && t < high
    }
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
    without_steps(&mut stretches, strands);
    stretches
        .iter()
        .map(|f| cut(f, strands))
        .filter(|strand| !is_crumb(&strand.segment))
        .collect()
}

/// Takes out short stretches on no strand where the sweep has missed a shallow crossing by some hundredths of a
/// millimetre along it: the strand behind then begins beside the end of the one before.
fn without_steps(stretches: &mut Vec<Found>, strands: &[Strand]) {
    let mut index = 0;
    while index < stretches.len() && stretches.len() > 3 {
        let count = stretches.len();
        let (before, after) = ((index + count - 1) % count, (index + 1) % count);
        let on = |i: usize| strands.get(stretches[i].strand).map(|s| s.segment);
        let step = &stretches[index];
        let is_step = step.strand == usize::MAX && !step.is_astray();
        if let (true, Some(first), Some(second)) = (is_step, on(before), on(after)) {
            let (end, start) = (
                first.eval(stretches[before].to),
                second.eval(stretches[after].from),
            );
            let ahead = second.nearest(end, 1e-10);
            let back = first.nearest(start, 1e-10);
            if ahead.distance_sq < STEP * STEP && stretches[after].holds(ahead.t) {
                stretches[after].from = ahead.t;
            } else if back.distance_sq < STEP * STEP && stretches[before].holds(back.t) {
                stretches[before].to = back.t;
            } else {
                index += 1;
                continue;
            }
            stretches.remove(index);
        } else {
            index += 1;
        }
    }
}

/// Strands that the sweep takes for crossing lie this near to each other there, mm.
const STEP: f64 = 1e-3;

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
