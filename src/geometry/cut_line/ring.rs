//! The raw ring: the parallel curves of all edges with their corners, as strands that remember
//! which edge they belong to. It may cross itself.

use super::corner::{Bridge, Turn, Way};
use super::{Corner, MITRE_LIMIT, corner, fold, hook, parallel, trim};
use crate::geometry::curve::{self, closed, starting_at};
use kurbo::{BezPath, Line, ParamCurve, PathSeg, Point, Vec2};

/// Ends of strands nearer than this, mm, are one point; a hundredth of the finest tolerance used.
const SAME: f64 = 1e-9;

/// Strand ends that differ by less than this share of the tolerance are welded.
const WELD: f64 = 0.1;

/// An edge's seam line with its allowance.
#[derive(Debug, Clone)]
pub(in crate::geometry) struct Seam {
    /// The segments in order.
    pub segments: Vec<PathSeg>,
    /// Distance outward, mm, ≥ 0.
    pub allowance: f64,
    /// Index of the edge.
    pub edge: usize,
}

/// One segment of a ring, with where it comes from.
#[derive(Debug, Clone, Copy)]
pub(in crate::geometry) struct Strand {
    /// The curve.
    pub segment: PathSeg,
    /// Index of the edge it runs beside.
    pub edge: usize,
    /// Whether it lies at the edge's distance (else it belongs to a corner).
    pub parallel: bool,
}

/// The raw ring of `seams`, which follow one another round a ring; `corners[i]` is where seam `i`
/// begins. It starts where the first seam's parallel does. A seam of no length is passed over: the edges
/// beside it meet in a corner of their own.
pub(in crate::geometry) fn parallel_ring(
    seams: &[Seam],
    corners: &[Corner],
    tolerance: f64,
) -> Vec<Strand> {
    let is_solid = |seam: &Seam| !seam.segments.iter().all(segment_is_point);
    let solid = seams.iter().zip(corners).filter(|(seam, _)| is_solid(seam));
    let (seams, corners): (Vec<Seam>, Vec<Corner>) =
        solid.map(|(seam, corner)| (seam.clone(), *corner)).unzip();
    let seams = seams.as_slice();
    let mut sides: Vec<Vec<PathSeg>> = seams.iter().map(|s| side(s, tolerance)).collect();
    let mut bridges = Vec::new();
    for (next, corner) in corners.iter().enumerate().take(seams.len()) {
        let before = (next + seams.len() - 1) % seams.len();
        bridges.push(bridge(seams, &mut sides, before, next, *corner, tolerance));
    }
    let mut strands = Strands::new(tolerance);
    for (index, seam) in seams.iter().enumerate() {
        strands.add(&bridges[index].after, seam.edge, false);
        strands.add(&sides[index], seam.edge, true);
        let following = &bridges[(index + 1) % seams.len()];
        strands.add(&following.before, seam.edge, false);
    }
    strands.closed()
}

/// The ring as one closed path; neighbouring lines in one direction become one.
pub(in crate::geometry) fn path(strands: &[Strand]) -> BezPath {
    let mut lines_joined: Vec<PathSeg> = Vec::new();
    for strand in strands {
        match (lines_joined.last_mut(), strand.segment) {
            (Some(PathSeg::Line(last)), PathSeg::Line(line)) if runs_on(last, &line) => {
                last.p1 = line.p1;
            }
            (_, segment) => lines_joined.push(segment),
        }
    }
    if let [PathSeg::Line(first), .., PathSeg::Line(last)] = lines_joined.as_mut_slice()
        && runs_on(last, first)
    {
        first.p0 = last.p0;
        lines_joined.pop();
    }
    closed(&lines_joined)
}

/// The ring as one closed path, strand for strand.
pub(super) fn path_of_strands(strands: &[Strand]) -> BezPath {
    let segments: Vec<PathSeg> = strands.iter().map(|s| s.segment).collect();
    closed(&segments)
}

/// Whether `second` goes straight on from `first`, to within rounding.
fn runs_on(first: &Line, second: &Line) -> bool {
    let (a, b) = (first.p1 - first.p0, second.p1 - second.p0);
    a.dot(b) > 0.0 && a.cross(b).abs() <= 1e-7 * a.hypot() * b.hypot().max(1e-3)
}

/// The parallel of one edge, with mitres at corners inside it.
fn side(seam: &Seam, tolerance: f64) -> Vec<PathSeg> {
    let mut side: Vec<PathSeg> = Vec::new();
    let mut before: Option<usize> = None;
    for (number, segment) in seam.segments.iter().enumerate() {
        if segment_is_point(segment) {
            continue;
        }
        if let Some(before) = before {
            let parts = (&seam.segments[..=before], &seam.segments[number..]);
            let turn = turn_between(parts, seam.allowance, seam.allowance);
            let mitre = Corner::Mitre { limit: MITRE_LIMIT };
            let joined = corner::bridge(&turn, mitre, tolerance);
            side.extend(joined.before);
            side.extend(joined.after);
        }
        side.extend(parallel::parallel(segment, seam.allowance, tolerance));
        before = Some(number);
    }
    side
}

fn segment_is_point(segment: &PathSeg) -> bool {
    curve::tangent(segment, 0.0) == Vec2::ZERO
}

/// The turn between two runs of segments of which the last of the first and the first of the second are no
/// points.
fn turn_between((before, after): (&[PathSeg], &[PathSeg]), allowance: f64, next: f64) -> Turn {
    let tangent = |segment: Option<&PathSeg>, t: f64| {
        segment.map_or(Vec2::ZERO, |segment| curve::tangent(segment, t))
    };
    let mut turn = Turn {
        vertex: after.first().map_or(Point::ZERO, PathSeg::start),
        before: tangent(before.last(), 1.0),
        after: tangent(after.first(), 0.0),
        width_before: allowance,
        width_after: next,
        is_hooked: false,
    };
    turn.is_hooked = turn.way() == Way::Closing && !hook::turns_inward_without(before, after);
    turn
}

/// The corner between seams `before` and `next`; may cut back the sides that meet there.
fn bridge(
    seams: &[Seam],
    sides: &mut [Vec<PathSeg>],
    before: usize,
    next: usize,
    treatment: Corner,
    tolerance: f64,
) -> Bridge {
    let solid = |segment: &PathSeg| !segment_is_point(segment);
    let (first, second) = (&seams[before].segments, &seams[next].segments);
    let (Some(end), Some(start)) = (first.iter().rposition(solid), second.iter().position(solid))
    else {
        return Bridge::default();
    };
    let turn = turn_between(
        (&first[..=end], &second[start..]),
        seams[before].allowance,
        seams[next].allowance,
    );
    if let Some(bridge) = trim::at_bare_edge(&turn, sides, before, next) {
        return bridge;
    }
    let Corner::Folded { hem_begins } = treatment else {
        return corner::bridge(&turn, treatment, tolerance);
    };
    fold::bridge(&turn, hem_begins, sides, before, next)
        .unwrap_or_else(|| corner::bridge(&turn, Corner::Mitre { limit: MITRE_LIMIT }, tolerance))
}

/// Strands being strung together: small gaps are welded, others closed by a line.
struct Strands {
    list: Vec<Strand>,
    weld: f64,
}

impl Strands {
    fn new(tolerance: f64) -> Self {
        let list = Vec::new();
        let weld = (WELD * tolerance).max(SAME);
        Self { list, weld }
    }

    fn add(&mut self, segments: &[PathSeg], edge: usize, parallel: bool) {
        for segment in segments {
            let segment = match self.list.last() {
                Some(last) => self.attached(last.segment.end(), *segment, edge),
                None => *segment,
            };
            self.push(segment, edge, parallel);
        }
    }

    /// `segment` made to begin at `end`: moved if it nearly does, else after a line to its start.
    fn attached(&mut self, end: Point, segment: PathSeg, edge: usize) -> PathSeg {
        let gap = end.distance(segment.start());
        if gap <= self.weld {
            return starting_at(segment, end);
        }
        self.push(Line::new(end, segment.start()).into(), edge, false);
        segment
    }

    fn push(&mut self, segment: PathSeg, edge: usize, parallel: bool) {
        let is_point = match segment {
            PathSeg::Line(line) => line.p0.distance(line.p1) <= SAME,
            _ => segment_is_point(&segment),
        };
        if is_point {
            return;
        }
        if let (Some(last), PathSeg::Line(line)) = (self.list.last_mut(), segment)
            && let PathSeg::Line(before) = &mut last.segment
            && last.edge == edge
            && runs_on(before, &line)
        {
            before.p1 = line.p1;
            last.parallel |= parallel;
            return;
        }
        self.list.push(Strand {
            segment,
            edge,
            parallel,
        });
    }

    fn closed(mut self) -> Vec<Strand> {
        let (Some(first), Some(last)) = (self.list.first().copied(), self.list.last().copied())
        else {
            return self.list;
        };
        let (end, start) = (last.segment.end(), first.segment.start());
        if end.distance(start) <= self.weld {
            self.list[0].segment = starting_at(first.segment, end);
        } else {
            self.push(Line::new(end, start).into(), last.edge, false);
        }
        self.list
    }
}
