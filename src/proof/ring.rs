//! A closed curve, ready to be laid over another: how far do the two deviate, and where must one
//! be moved and turned to lie on the other. Millimetres, y down. Never mirrors anything.

use kurbo::{
    Affine, BezPath, CubicBez, ParamCurve, ParamCurveArclen, ParamCurveNearest, PathEl, PathSeg,
    Point, Rect, Shape, Vec2,
};

/// Points taken along a curve at equal distances to measure a deviation. The deviation between
/// two of them is missed; on the curves of pieces (no detail under 1 mm, perimeter under 2 m) it
/// is found to a few percent.
pub const SAMPLES: usize = 400;

/// Points for a first look, and for finding the best place.
const FEW_SAMPLES: usize = 48;

/// Accuracy of a nearest point and of arc lengths along a curve, mm: a hundredth of what the proof
/// reports.
const ACCURACY: f64 = 1e-6;

/// Segments shorter than this, mm, are left out before control points are compared: writers of
/// PDFs add or drop a closing line of no length.
const NOTHING: f64 = 1e-5;

/// Control points that lie further apart than this, mm, are not those of the same curve.
const SAME_CONTROLS: f64 = 0.05;

/// The bound from control points is taken for the deviation up to this, mm. Beyond it could be
/// more than twice the deviation itself, which is then measured.
const BOUND_TO: f64 = 1e-3;

/// Ends that lie nearer than this, mm, close a path.
const CLOSED_WITHIN: f64 = 1e-3;

/// Another turn must be better by this, mm, to be taken: a shape with several axes fits in several
/// turns alike, and the rounding of a PDF's numbers must not turn one of its sheets over.
const SAME_FIT: f64 = 2e-4;

/// Rounds in which the place is bettered before it is measured.
const ROUNDS: usize = 6;

/// A closed curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Ring {
    segments: Vec<PathSeg>,
    boxes: Vec<Rect>,
    bounds: Rect,
}

/// How one ring lies on another: turned by `turns` quarter turns about the origin, clockwise as
/// seen on the page, then moved by `shift`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// Quarter turns, 0 to 3.
    pub turns: u8,
    /// Then moved by this, mm.
    pub shift: Vec2,
    /// Greatest distance of a point of either curve to the other, mm.
    pub deviation: f64,
}

impl Placement {
    /// The placement as a map from the first ring's axes to the second's.
    pub fn to_affine(self) -> Affine {
        Affine::translate(self.shift) * quarter_turns(self.turns)
    }
}

/// Quarter turns about the origin, clockwise as seen on the page, exact.
pub fn quarter_turns(turns: u8) -> Affine {
    match turns % 4 {
        0 => Affine::IDENTITY,
        1 => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
        2 => Affine::new([-1.0, 0.0, 0.0, -1.0, 0.0, 0.0]),
        _ => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]),
    }
}

impl Ring {
    /// The ring of a path that is one closed, finite subpath.
    pub fn new(path: &BezPath) -> Option<Self> {
        let moves = path
            .elements()
            .iter()
            .filter(|e| matches!(e, PathEl::MoveTo(_)))
            .count();
        if moves != 1 || !path.is_finite() {
            return None;
        }
        let all: Vec<PathSeg> = path.segments().collect();
        let (first, last) = (all.first()?, all.last()?);
        if first.start().distance(last.end()) > CLOSED_WITHIN {
            return None;
        }
        let size = |s: &PathSeg| s.bounding_box().width().max(s.bounding_box().height());
        let segments: Vec<PathSeg> = all.into_iter().filter(|s| size(s) > NOTHING).collect();
        (!segments.is_empty()).then(|| Self::from_segments(segments))
    }

    fn from_segments(segments: Vec<PathSeg>) -> Self {
        let boxes: Vec<Rect> = segments.iter().map(Shape::bounding_box).collect();
        let bounds = boxes
            .iter()
            .copied()
            .reduce(|a, b| a.union(b))
            .unwrap_or_default();
        Self {
            segments,
            boxes,
            bounds,
        }
    }

    /// The smallest upright rectangle round it.
    pub fn bounds(&self) -> Rect {
        self.bounds
    }

    /// The ring moved, turned or mirrored by `transform`.
    pub fn transformed(&self, transform: Affine) -> Self {
        Self::from_segments(self.segments.iter().map(|s| transform * *s).collect())
    }

    /// `count` points at equal distances along the ring.
    pub fn samples(&self, count: usize) -> Vec<Point> {
        let lengths: Vec<f64> = self.segments.iter().map(|s| s.arclen(ACCURACY)).collect();
        let step = lengths.iter().sum::<f64>() / count.max(1) as f64;
        let mut points = Vec::with_capacity(count);
        let mut before = 0.0;
        for (segment, length) in self.segments.iter().zip(&lengths) {
            while points.len() < count && points.len() as f64 * step < before + length {
                let along = points.len() as f64 * step - before;
                points.push(segment.eval(segment.inv_arclen(along, ACCURACY)));
            }
            before += length;
        }
        points
    }

    /// Points along the ring no further apart than about `spacing` mm, corners included.
    pub fn fine_points(&self, spacing: f64) -> Vec<Point> {
        let mut points = Vec::new();
        for segment in &self.segments {
            let steps = (curve_reach(segment) / spacing).ceil().clamp(1.0, 1e5) as usize;
            points.extend((0..steps).map(|i| segment.eval(i as f64 / steps as f64)));
        }
        points
    }

    /// The point of the ring nearest to `point`, with its distance.
    fn nearest(&self, point: Point) -> (Point, f64) {
        let far = |area: &Rect| {
            let dx = (area.x0 - point.x).max(point.x - area.x1).max(0.0);
            let dy = (area.y0 - point.y).max(point.y - area.y1).max(0.0);
            dx * dx + dy * dy
        };
        let mut best = (f64::INFINITY, point);
        let mut look = |index: usize| {
            let segment = &self.segments[index];
            let nearest = segment.nearest(point, ACCURACY);
            if nearest.distance_sq < best.0 {
                best = (nearest.distance_sq, segment.eval(nearest.t));
            }
            best.0
        };
        let mut reach = f64::INFINITY;
        let closest = (0..self.boxes.len())
            .map(|i| (far(&self.boxes[i]), i))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, first)) = closest {
            reach = look(first);
        }
        for (index, area) in self.boxes.iter().enumerate() {
            if far(area) < reach {
                reach = look(index);
            }
        }
        (best.1, best.0.sqrt())
    }

    /// Distance of `point` from the ring, mm.
    pub fn distance(&self, point: Point) -> f64 {
        self.nearest(point).1
    }

    fn farthest(&self, points: &[Point]) -> f64 {
        points
            .iter()
            .map(|p| self.nearest(*p).1)
            .fold(0.0, f64::max)
    }

    /// Greatest distance of points of either ring to the other ring, mm: [`SAMPLES`] points at
    /// equal distances, and the ends of all segments, since corners deviate most.
    pub fn deviation(&self, other: &Ring) -> f64 {
        let points = |ring: &Ring| {
            let mut points = ring.samples(SAMPLES);
            points.extend(ring.segments.iter().map(ParamCurve::start));
            points
        };
        other
            .farthest(&points(self))
            .max(self.farthest(&points(other)))
    }

    /// Where this ring must be laid to lie on `drawn`, if it can be laid so that neither box nor
    /// curve is off by more than `reach` mm. Of several ways (a circle has four) the best; of ways as
    /// good the one with the fewest turns.
    ///
    /// The move is the best in the mean square; the deviation is then either a bound from the
    /// control points (two Bézier curves lie nowhere further apart than their control points do)
    /// or, where these do not correspond closely, measured by [`Ring::deviation`].
    pub fn placed_on(&self, drawn: &Ring, reach: f64) -> Option<Placement> {
        let mut best: Option<Placement> = None;
        for turns in 0..4 {
            let turned = self.transformed(quarter_turns(turns));
            let (own, other) = (turned.bounds, drawn.bounds);
            let off = |a: f64, b: f64| (a - b).abs() > reach;
            if off(own.width(), other.width()) || off(own.height(), other.height()) {
                continue;
            }
            let shift = other.center() - own.center();
            let fit = turned
                .by_controls(drawn, shift)
                .filter(|(_, bound)| *bound <= BOUND_TO)
                .or_else(|| turned.by_samples(drawn, shift, reach));
            if let Some((shift, deviation)) = fit
                && best.is_none_or(|b| deviation < b.deviation - SAME_FIT)
            {
                best = Some(Placement {
                    turns,
                    shift,
                    deviation,
                });
            }
        }
        best
    }

    /// Shift and deviation if the two rings have the same control points, whichever segment the
    /// ring begins with and whichever way round it runs.
    fn by_controls(&self, drawn: &Ring, shift: Vec2) -> Option<(Vec2, f64)> {
        if self.segments.len() != drawn.segments.len() {
            return None;
        }
        let own: Vec<CubicBez> = self.segments.iter().map(PathSeg::to_cubic).collect();
        let forward: Vec<CubicBez> = drawn.segments.iter().map(PathSeg::to_cubic).collect();
        let turn = |c: &CubicBez| CubicBez::new(c.p3, c.p2, c.p1, c.p0);
        let backward: Vec<CubicBez> = forward.iter().rev().map(turn).collect();
        [forward, backward].iter().find_map(|other| {
            (0..other.len()).find_map(|start| corresponding(&own, other, start, shift))
        })
    }

    /// Shift and deviation by laying samples onto the curve: each round moves by the mean distance
    /// to the nearest points (Besl and McKay, 1992, without the turn).
    fn by_samples(&self, drawn: &Ring, shift: Vec2, reach: f64) -> Option<(Vec2, f64)> {
        let own = self.samples(FEW_SAMPLES);
        let mut shift = shift;
        for round in 0..ROUNDS {
            let mut sum = Vec2::ZERO;
            let mut worst: f64 = 0.0;
            for point in &own {
                let (nearest, distance) = drawn.nearest(*point + shift);
                sum += nearest - (*point + shift);
                worst = worst.max(distance);
            }
            if round == 0 && worst > 2.0 * reach {
                return None;
            }
            let step = sum / own.len().max(1) as f64;
            shift += step;
            if step.hypot() < ACCURACY {
                break;
            }
        }
        let deviation = self.transformed(Affine::translate(shift)).deviation(drawn);
        (deviation <= reach).then_some((shift, deviation))
    }
}

fn curve_reach(segment: &PathSeg) -> f64 {
    let c = segment.to_cubic();
    c.p0.distance(c.p1) + c.p1.distance(c.p2) + c.p2.distance(c.p3)
}

fn corresponding(
    own: &[CubicBez],
    other: &[CubicBez],
    start: usize,
    shift: Vec2,
) -> Option<(Vec2, f64)> {
    let controls = |c: &CubicBez| [c.p0, c.p1, c.p2, c.p3];
    let mut residues = Vec::with_capacity(own.len() * 4);
    for (index, cubic) in own.iter().enumerate() {
        let partner = &other[(start + index) % other.len()];
        for (a, b) in controls(cubic).into_iter().zip(controls(partner)) {
            let residue = b - (a + shift);
            if residue.hypot() > SAME_CONTROLS {
                return None;
            }
            residues.push(residue);
        }
    }
    let mean = residues.iter().fold(Vec2::ZERO, |sum, r| sum + *r) / residues.len().max(1) as f64;
    let worst = residues.iter().map(|r| (*r - mean).hypot());
    Some((shift + mean, worst.fold(0.0, f64::max)))
}
