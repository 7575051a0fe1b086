//! Few cubic Béziers through many points of an open curve, in mm, smooth at their joints, with the
//! end tangents and the length that the caller wants.

use kurbo::{
    BezPath, CubicBez, ParamCurve, ParamCurveArclen, ParamCurveDeriv, PathEl, Point, Vec2,
};

#[cfg(test)]
mod tests;

/// Rounds of fitting and finding the points' places anew; fewer while joints are sought.
const ROUNDS: usize = 30;
const TRIAL_ROUNDS: usize = 5;

/// Lengths are made true to this, mm.
const TRUE: f64 = 1e-7;

/// A curve whose greatest distance from its chord is below this, mm, cannot be made longer without
/// a visible bend.
const FLAT: f64 = 0.25;

/// What a fit must keep to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FitRule {
    /// Greatest distance from a point to the curve that is good enough, mm.
    pub tolerance: f64,
    /// Fewest segments. From two on, segments are added in pairs, so that a joint stays in the
    /// middle.
    pub fewest: usize,
    /// Most segments.
    pub most: usize,
    /// Unit tangents at the start and at the end, both in the direction of the curve, if they are
    /// given.
    pub tangents: [Option<Vec2>; 2],
}

/// A smooth chain of cubics.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// Its segments, each beginning where the last ended.
    pub segments: Vec<CubicBez>,
    /// Greatest distance from a fitted point to it, mm.
    pub error: f64,
    /// The points at which its segments meet, ends included, as indices.
    pub joints: Vec<usize>,
}

impl Chain {
    /// The chain of fewest segments within the rule's tolerance of `points`, or the best one within
    /// its greatest number. Least squares for the lengths of the handles (Schneider 1990); tangents
    /// at joints and free ends from a quadratic through the points nearby. `None` for fewer than
    /// four points, or a rule without segments.
    #[must_use]
    pub fn fit(points: &[Point], rule: FitRule) -> Option<Self> {
        let along = lengths(points)?;
        let mut best: Option<Chain> = None;
        let step = if rule.fewest > 1 { 2 } else { 1 };
        for count in (rule.fewest.max(1)..=rule.most).step_by(step) {
            let fit = |joints: &[usize], rounds: usize| {
                with_joints(points, &along, joints, rule.tangents, rounds)
            };
            let trials = joints(&along, count);
            let tried = trials.into_iter().map(|joints| fit(&joints, TRIAL_ROUNDS));
            let Some(found) = tried.min_by(|a, b| a.error.total_cmp(&b.error)) else {
                continue;
            };
            let found = fit(&found.joints, ROUNDS);
            if best.as_ref().is_none_or(|b| found.error < b.error) {
                best = Some(found);
            }
            if best.as_ref().is_some_and(|b| b.error <= rule.tolerance) {
                break;
            }
        }
        best
    }

    /// The chain through the same points with the same joints and these end tangents.
    #[must_use]
    pub fn with_tangents(&self, points: &[Point], tangents: [Vec2; 2]) -> Option<Self> {
        let along = lengths(points)?;
        let fits = self.joints.last().is_some_and(|last| *last < points.len());
        let given = tangents.map(Some);
        fits.then(|| with_joints(points, &along, &self.joints, given, ROUNDS))
    }

    /// Arc length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.segments.iter().map(|s| s.arclen(1e-9)).sum()
    }

    /// The chain as an open path.
    #[must_use]
    pub fn path(&self) -> BezPath {
        let start = self.segments.first().map(|s| PathEl::MoveTo(s.p0));
        let curves = self
            .segments
            .iter()
            .map(|s| PathEl::CurveTo(s.p1, s.p2, s.p3));
        BezPath::from_vec(start.into_iter().chain(curves).collect())
    }

    /// Unit tangent at the start, in the direction of the chain.
    #[must_use]
    pub fn start_tangent(&self) -> Vec2 {
        self.segments
            .first()
            .map_or(Vec2::ZERO, |s| unit(s.p1 - s.p0))
    }

    /// Unit tangent at the end, in the direction of the chain.
    #[must_use]
    pub fn end_tangent(&self) -> Vec2 {
        self.segments
            .last()
            .map_or(Vec2::ZERO, |s| unit(s.p3 - s.p2))
    }

    /// The chain scaled across the chord between its ends, which stay, until it is `target` mm long.
    /// One that is all but straight is left as it is.
    #[must_use]
    pub fn with_length(self, target: f64) -> Self {
        let (Some(first), Some(last)) = (self.segments.first(), self.segments.last()) else {
            return self;
        };
        let (start, chord) = (first.p0, unit(last.p3 - first.p0));
        let across = Vec2::new(-chord.y, chord.x);
        let sag = self
            .segments
            .iter()
            .flat_map(|s| (0..=8).map(move |i| s.eval(f64::from(i) / 8.0)));
        let sag = sag
            .map(|p| (p - start).dot(across).abs())
            .fold(0.0, f64::max);
        if sag < FLAT {
            return self;
        }
        let scaled = |share: f64| {
            let move_point = |p: Point| p + share * (p - start).dot(across) * across;
            let segments = self.segments.iter().map(|s| {
                CubicBez::new(
                    move_point(s.p0),
                    move_point(s.p1),
                    move_point(s.p2),
                    move_point(s.p3),
                )
            });
            Chain {
                segments: segments.collect(),
                error: self.error,
                joints: self.joints.clone(),
            }
        };
        let (mut before, mut now) = (0.0, 0.01);
        let (mut off_before, mut off) = (self.length() - target, scaled(now).length() - target);
        for _ in 0..30 {
            if off.abs() < TRUE || off == off_before {
                break;
            }
            let next = now - off * (now - before) / (off - off_before);
            (before, off_before) = (now, off);
            now = next.clamp(-0.5, 0.5);
            off = scaled(now).length() - target;
        }
        scaled(now)
    }
}

fn unit(v: Vec2) -> Vec2 {
    let length = v.hypot();
    if length > 0.0 { v / length } else { v }
}

fn lengths(points: &[Point]) -> Option<Vec<f64>> {
    let mut along = vec![0.0];
    for pair in points.windows(2) {
        along.push(along[along.len() - 1] + pair[0].distance(pair[1]));
    }
    // Also false for what is no number.
    let sound = points.len() >= 4 && along[along.len() - 1] > 0.0;
    sound.then_some(along)
}

/// The joints that are tried for so many segments, as indices of points.
fn joints(along: &[f64], count: usize) -> Vec<Vec<usize>> {
    let whole = along[along.len() - 1];
    let nearest = |share: f64| {
        let wanted = share * whole;
        let above = along.partition_point(|a| *a < wanted);
        let above = above.clamp(1, along.len() - 1);
        let lower_is_nearer = wanted - along[above - 1] <= along[above] - wanted;
        if lower_is_nearer { above - 1 } else { above }
    };
    let even = (0..=count).map(|i| i as f64 / count as f64).collect();
    let tried: Vec<Vec<f64>> = if count == 4 {
        let inner = (0..11).map(|i| 0.25 + 0.05 * f64::from(i));
        inner
            .map(|f| vec![0.0, 0.5 * f, 0.5, 1.0 - 0.5 * f, 1.0])
            .collect()
    } else {
        vec![even]
    };
    let places = tried
        .iter()
        .map(|shares| shares.iter().map(|s| nearest(*s)).collect::<Vec<usize>>());
    places
        .filter(|places| places.windows(2).all(|w| w[1] >= w[0] + 3))
        .collect()
}

fn with_joints(
    points: &[Point],
    along: &[f64],
    joints: &[usize],
    given: [Option<Vec2>; 2],
    rounds: usize,
) -> Chain {
    let reach = 0.05 * along[along.len() - 1];
    let mut tangents: Vec<Vec2> = joints
        .iter()
        .map(|place| local_tangent(points, along, *place, reach))
        .collect();
    let last = tangents.len() - 1;
    tangents[0] = given[0].unwrap_or(tangents[0]);
    tangents[last] = given[1].unwrap_or(tangents[last]);
    let mut chain = Chain {
        segments: Vec::new(),
        error: 0.0,
        joints: joints.to_vec(),
    };
    for (n, pair) in joints.windows(2).enumerate() {
        let (from, to) = (pair[0], pair[1]);
        let ends = [tangents[n], tangents[n + 1]];
        let (cubic, error) = fit_one(&points[from..=to], &along[from..=to], ends, rounds);
        chain.segments.push(cubic);
        chain.error = chain.error.max(error);
    }
    chain
}

/// The direction at a point, from a quadratic in arc length through the points within `reach`, the
/// point itself counting twenty times.
fn local_tangent(points: &[Point], along: &[f64], place: usize, reach: f64) -> Vec2 {
    use nalgebra::{Matrix3, Vector3};
    let mut reach = reach;
    let near = |reach: f64| {
        let close = |i: &usize| (along[*i] - along[place]).abs() <= reach;
        (0..points.len()).filter(close).collect::<Vec<usize>>()
    };
    let mut chosen = near(reach);
    while chosen.len() < 4 {
        reach *= 1.3;
        chosen = near(reach);
    }
    let mut square = Matrix3::zeros();
    let mut right = [Vector3::zeros(), Vector3::zeros()];
    for i in chosen {
        let t = along[i] - along[place];
        let weight = if i == place { 400.0 } else { 1.0 };
        let row = Vector3::new(1.0, t, t * t);
        square += weight * row * row.transpose();
        right[0] += weight * points[i].x * row;
        right[1] += weight * points[i].y * row;
    }
    let Some(factor) = square.cholesky() else {
        return Vec2::ZERO;
    };
    let slope = |r: &Vector3<f64>| factor.solve(r)[1];
    unit(Vec2::new(slope(&right[0]), slope(&right[1])))
}

/// One cubic with given end tangents: least squares for its two handles, then every point's place
/// by one step of Newton's method, until the places rest (Schneider 1990).
fn fit_one(points: &[Point], along: &[f64], tangents: [Vec2; 2], rounds: usize) -> (CubicBez, f64) {
    let (first, last) = (points[0], points[points.len() - 1]);
    let whole = along[along.len() - 1] - along[0];
    let mut places: Vec<f64> = along.iter().map(|a| (a - along[0]) / whole).collect();
    let mut cubic = CubicBez::new(first, first, last, last);
    for _ in 0..rounds {
        let handles = handles(points, &places, tangents, whole);
        cubic = CubicBez::new(
            first,
            first + handles[0] * tangents[0],
            last - handles[1] * tangents[1],
            last,
        );
        let slope = cubic.deriv();
        let mut moved = 0.0_f64;
        let mut floor = 0.0_f64;
        let inner = 1..places.len() - 1;
        for i in inner {
            let (at, way) = (cubic.eval(places[i]), slope.eval(places[i]).to_vec2());
            let step = (at - points[i]).dot(way) / way.hypot2().max(1e-12);
            let next = (places[i] - step).clamp(0.0, 1.0);
            moved = moved.max((next - places[i]).abs());
            floor = floor.max(next);
            places[i] = floor;
        }
        if moved < 1e-6 {
            break;
        }
    }
    let off = places
        .iter()
        .zip(points)
        .map(|(t, p)| cubic.eval(*t).distance(*p));
    (cubic, off.fold(0.0, f64::max))
}

/// The best lengths of the two handles.
fn handles(points: &[Point], places: &[f64], tangents: [Vec2; 2], whole: f64) -> [f64; 2] {
    let (first, last) = (points[0], points[points.len() - 1]);
    let [mut aa, mut ab, mut bb, mut ra, mut rb] = [0.0; 5];
    for (t, point) in places.iter().zip(points) {
        let s = 1.0 - t;
        let (b0, b1, b2, b3) = (s * s * s, 3.0 * t * s * s, 3.0 * t * t * s, t * t * t);
        let (a, b) = (b1 * tangents[0], -b2 * tangents[1]);
        let rest = point.to_vec2() - (b0 + b1) * first.to_vec2() - (b2 + b3) * last.to_vec2();
        aa += a.hypot2();
        ab += a.dot(b);
        bb += b.hypot2();
        ra += a.dot(rest);
        rb += b.dot(rest);
    }
    let determinant = aa * bb - ab * ab;
    let found = [
        (ra * bb - rb * ab) / determinant,
        (rb * aa - ra * ab) / determinant,
    ];
    found.map(|length| {
        let length = if length.is_finite() {
            length
        } else {
            whole / 3.0
        };
        length.clamp(0.05 * whole, 0.9 * whole)
    })
}
