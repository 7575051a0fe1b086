//! The feather edge: the line along which the surface of a foot or a shoe meets the sole, as two
//! sides from toe to heel, each known by the distance from the toe. Millimetres, the foot's axes.

use kurbo::{BezPath, ParamCurve, ParamCurveArclen, Point};

/// Points on each side: on a foot of 100 mm one every 0.08 mm, so that chords lie within 1e-4 mm
/// of the curve.
const POINTS: usize = 1200;

/// A side of a foot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FootSide {
    /// Towards the other foot: y greater than 0.
    Inner,
    /// Away from the other foot.
    Outer,
}

impl FootSide {
    /// Both sides.
    pub const BOTH: [FootSide; 2] = [FootSide::Inner, FootSide::Outer];

    /// `inner` or `outer`.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            FootSide::Inner => "inner",
            FootSide::Outer => "outer",
        }
    }
}

/// Both sides of a sole's outline.
#[derive(Debug, Clone, PartialEq)]
pub struct FeatherEdge {
    inner: Run,
    outer: Run,
}

/// One side from the toe: points at all but equal distances, and how far each is along.
#[derive(Debug, Clone, PartialEq)]
struct Run {
    points: Vec<Point>,
    lengths: Vec<f64>,
}

impl FeatherEdge {
    /// From the two sides of an outline, each a path from the toe to the heel. `None` if one is
    /// empty or a point.
    #[must_use]
    pub fn new(inner: &BezPath, outer: &BezPath) -> Option<Self> {
        Some(Self {
            inner: Run::new(inner)?,
            outer: Run::new(outer)?,
        })
    }

    fn run(&self, side: FootSide) -> &Run {
        match side {
            FootSide::Inner => &self.inner,
            FootSide::Outer => &self.outer,
        }
    }

    /// From the toe to the heel along `side`, mm.
    #[must_use]
    pub fn length(&self, side: FootSide) -> f64 {
        self.run(side).lengths[POINTS - 1]
    }

    /// Length of the whole outline, mm.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        self.length(FootSide::Inner) + self.length(FootSide::Outer)
    }

    /// The point at `distance` mm from the toe along `side`, clamped to its ends.
    #[must_use]
    pub fn at(&self, side: FootSide, distance: f64) -> Point {
        let run = self.run(side);
        let index = run.lengths.partition_point(|l| *l <= distance);
        let index = index.clamp(1, POINTS - 1) - 1;
        let (from, to) = (run.lengths[index], run.lengths[index + 1]);
        let share = ((distance - from) / (to - from)).clamp(0.0, 1.0);
        run.points[index].lerp(run.points[index + 1], share)
    }

    /// The distance from the toe along `side` at which x is reached, mm; clamped to the ends.
    #[must_use]
    pub fn distance_at(&self, side: FootSide, x: f64) -> f64 {
        let run = self.run(side);
        let index = run.points.partition_point(|p| p.x >= x);
        let index = index.clamp(1, POINTS - 1) - 1;
        let (from, to) = (run.points[index].x, run.points[index + 1].x);
        let share = if from > to {
            ((from - x) / (from - to)).clamp(0.0, 1.0)
        } else {
            0.0
        };
        run.lengths[index] + share * (run.lengths[index + 1] - run.lengths[index])
    }

    /// y of `side` at x.
    #[must_use]
    pub fn across(&self, side: FootSide, x: f64) -> f64 {
        self.at(side, self.distance_at(side, x)).y
    }

    /// Width across the axis at x, mm.
    #[must_use]
    pub fn width(&self, x: f64) -> f64 {
        self.across(FootSide::Inner, x) - self.across(FootSide::Outer, x)
    }

    /// x of the hindmost point.
    #[must_use]
    pub fn back(&self) -> f64 {
        self.inner.points[POINTS - 1].x
    }

    /// x of the foremost point.
    #[must_use]
    pub fn front(&self) -> f64 {
        self.inner.points[0].x
    }
}

impl Run {
    fn new(path: &BezPath) -> Option<Self> {
        let mut dense: Vec<(f64, Point)> = Vec::new();
        let mut along = 0.0;
        for segment in path.segments() {
            let pieces = (segment.arclen(1e-3) / 0.1).ceil().clamp(16.0, 512.0) as usize;
            for piece in 0..=pieces {
                let point = segment.eval(piece as f64 / pieces as f64);
                let step = dense.last().map_or(0.0, |(_, last)| last.distance(point));
                if dense.is_empty() || step > 0.0 {
                    along += step;
                    dense.push((along, point));
                }
            }
        }
        // Also false for a length that is no number.
        let sound = along > 1e-6 && along.is_finite();
        if !sound {
            return None;
        }
        let mut points = Vec::with_capacity(POINTS);
        let mut index = 0;
        for number in 0..POINTS {
            let wanted = along * number as f64 / (POINTS - 1) as f64;
            while index + 2 < dense.len() && dense[index + 1].0 < wanted {
                index += 1;
            }
            let ((from, a), (to, b)) = (dense[index], dense[index + 1]);
            points.push(a.lerp(b, ((wanted - from) / (to - from)).clamp(0.0, 1.0)));
        }
        let mut lengths = vec![0.0; POINTS];
        for i in 1..POINTS {
            lengths[i] = lengths[i - 1] + points[i - 1].distance(points[i]).max(1e-12);
        }
        Some(Self { points, lengths })
    }
}
