//! Chains of points: their length, even spacing, runs of samples, smoothing. Plain numbers.

use super::sample::Sample;
use crate::geometry::space::Vec3;
use kurbo::{Line, ParamCurveNearest, Point, Vec2};

/// A point of a chain.
pub(in crate::figure) trait Along: Copy {
    /// Distance.
    fn apart(self, other: Self) -> f64;
    /// The point a `share` of the way to `other`.
    fn between(self, other: Self, share: f64) -> Self;
}

impl Along for Point {
    fn apart(self, other: Self) -> f64 {
        self.distance(other)
    }
    fn between(self, other: Self, share: f64) -> Self {
        self.lerp(other, share)
    }
}

impl Along for Sample {
    fn apart(self, other: Self) -> f64 {
        self.at.distance(other.at)
    }
    fn between(self, other: Self, share: f64) -> Self {
        Self {
            at: self.at.lerp(other.at, share),
            normal: self.normal.lerp(other.normal, share),
        }
    }
}

impl Along for Vec3 {
    fn apart(self, other: Self) -> f64 {
        self.distance(other)
    }
    fn between(self, other: Self, share: f64) -> Self {
        self.lerp(other, share)
    }
}

/// Length along the chain up to each point.
pub(in crate::figure) fn lengths<T: Along>(points: &[T]) -> Vec<f64> {
    let mut along = 0.0;
    let mut lengths = Vec::with_capacity(points.len());
    for (index, point) in points.iter().enumerate() {
        if index > 0 {
            along += points[index - 1].apart(*point);
        }
        lengths.push(along);
    }
    lengths
}

/// Length of the whole chain.
pub(in crate::figure) fn length<T: Along>(points: &[T]) -> f64 {
    points.windows(2).map(|w| w[0].apart(w[1])).sum()
}

/// The point at `wanted` along a chain whose `lengths` are known, `after` being the number of the
/// first point beyond it; clamped to its ends. A chain without points has none.
fn at_length<T: Along>(points: &[T], lengths: &[f64], wanted: f64, after: usize) -> Option<T> {
    if after == 0 || after >= points.len() {
        return if after == 0 {
            points.first().copied()
        } else {
            points.last().copied()
        };
    }
    let (from, to) = (lengths[after - 1], lengths[after]);
    let share = (wanted - from) / (to - from);
    Some(points[after - 1].between(points[after], share))
}

/// `count` + 1 points at equal distances between two lengths of the chain.
pub(in crate::figure) fn spread<T: Along>(
    points: &[T],
    from: f64,
    to: f64,
    count: usize,
) -> Vec<T> {
    let lengths = lengths(points);
    let mut after = 0;
    (0..=count)
        .filter_map(|i| {
            let wanted = from + (to - from) * i as f64 / count as f64;
            // One place lies near the one before.
            while after > 0 && lengths[after - 1] > wanted {
                after -= 1;
            }
            while after < lengths.len() && lengths[after] <= wanted {
                after += 1;
            }
            at_length(points, &lengths, wanted, after)
        })
        .collect()
}

/// The chain with points at equal distances of at most `step`, at least two spans.
pub(in crate::figure) fn resampled<T: Along>(points: &[T], step: f64) -> Vec<T> {
    let whole = length(points);
    if whole < 1e-9 {
        return points.to_vec();
    }
    let count = ((whole / step).ceil() as usize).max(2);
    spread(points, 0.0, whole, count)
}

/// Unit tangents by central differences.
pub(in crate::figure) fn tangents(points: &[Point]) -> Vec<Vec2> {
    let last = points.len().saturating_sub(1);
    (0..points.len())
        .map(|i| unit(points[(i + 1).min(last)] - points[i.saturating_sub(1)]))
        .collect()
}

/// Same direction, length 1; all but zero stays so.
pub(in crate::figure) fn unit(vector: Vec2) -> Vec2 {
    vector / (vector.hypot() + 1e-12)
}

/// Distance from `point` to the chain.
pub(in crate::figure) fn distance_to(point: Point, chain: &[Point]) -> f64 {
    let mut least = chain.first().map_or(f64::INFINITY, |p| p.distance(point));
    for pair in chain.windows(2) {
        let (way, off) = (pair[1] - pair[0], point - pair[0]);
        let square = way.hypot2();
        let share = if square > 0.0 {
            (off.dot(way) / square).clamp(0.0, 1.0)
        } else {
            0.0
        };
        least = least.min((off - way * share).hypot());
    }
    least
}

/// Distance from `point` to a chain in space.
pub(in crate::figure) fn distance_in_space(point: Vec3, chain: &[Vec3]) -> f64 {
    let mut least = f64::INFINITY;
    for pair in chain.windows(2) {
        let (way, off) = (pair[1] - pair[0], point - pair[0]);
        let square = way.dot(way);
        let share = if square > 0.0 {
            (off.dot(way) / square).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let beside = off - way * share;
        least = least.min(beside.dot(beside));
    }
    least.sqrt()
}

/// A stretch of samples that are all on or all off: from `from` up to but without `to`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::figure) struct Run {
    pub(in crate::figure) from: usize,
    pub(in crate::figure) to: usize,
    pub(in crate::figure) on: bool,
}

/// The stretches of `samples`.
pub(in crate::figure) fn runs(samples: &[bool]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (index, on) in samples.iter().copied().enumerate() {
        match runs.last_mut() {
            Some(run) if run.on == on => run.to = index + 1,
            _ => runs.push(Run {
                from: index,
                to: index + 1,
                on,
            }),
        }
    }
    runs
}

/// `samples` without short stretches: those that are off between two that are on go if they have
/// fewer than `least_off` samples, then those that are on and have fewer than `least_on`.
pub(in crate::figure) fn cleaned(
    mut samples: Vec<bool>,
    least_on: f64,
    least_off: f64,
) -> Vec<bool> {
    for (on, least) in [(false, least_off), (true, least_on)] {
        for run in runs(&samples) {
            let short = ((run.to - run.from) as f64) < least - 1e-9;
            let inside = run.from > 0 && run.to < samples.len();
            if run.on == on && short && (on || inside) {
                samples[run.from..run.to].fill(!on);
            }
        }
    }
    samples
}

/// The chain smoothed by a Gaussian of deviation `sigma`, points `step` apart. A closed chain, its
/// last point the first again, is smoothed round; the ends of an open one stay, the chain being
/// continued by its reflection in the end points.
pub(in crate::figure) fn smoothed(
    points: &[Point],
    sigma: f64,
    step: f64,
    closed: bool,
) -> Vec<Point> {
    let count = points.len();
    let reach = ((3.0 * sigma / step).ceil() as usize).min(count.saturating_sub(2));
    if count < 5 || reach < 1 {
        return points.to_vec();
    }
    let weight = |offset: usize| (-0.5 * (offset as f64 * step / sigma).powi(2)).exp();
    let weights: Vec<f64> = (0..=reach).map(weight).collect();
    let sum = weights[0] + 2.0 * weights[1..].iter().sum::<f64>();
    let last = count - 1;
    let pick = |index: isize| -> Vec2 {
        let end = last as isize;
        if closed {
            return points[index.rem_euclid(end) as usize].to_vec2();
        }
        if index < 0 {
            2.0 * points[0].to_vec2() - points[index.unsigned_abs()].to_vec2()
        } else if index > end {
            2.0 * points[last].to_vec2() - points[(2 * end - index) as usize].to_vec2()
        } else {
            points[index as usize].to_vec2()
        }
    };
    (0..count as isize)
        .map(|i| {
            let mut total = weights[0] * pick(i);
            for (offset, weight) in weights.iter().enumerate().skip(1) {
                let offset = offset as isize;
                total += *weight * (pick(i - offset) + pick(i + offset));
            }
            (total / sum).to_point()
        })
        .collect()
}

/// A chain with as few of its points as keep it within `tolerance` mm, first and last among them (after
/// Douglas and Peucker 1973).
pub(in crate::figure) fn thinned(points: &[Point], tolerance: f64) -> Vec<Point> {
    let Some(last) = points.len().checked_sub(1) else {
        return Vec::new();
    };
    let mut kept = vec![false; points.len()];
    let mut spans = vec![[0, last]];
    while let Some([from, to]) = spans.pop() {
        (kept[from], kept[to]) = (true, true);
        let side = Line::new(points[from], points[to]);
        let apart = |i: usize| side.nearest(points[i], 1e-9).distance_sq;
        let inner = (from + 1..to).map(|i| (apart(i), i));
        let farthest = inner.max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((_, at)) = farthest.filter(|(apart, _)| *apart > tolerance * tolerance) {
            spans.extend([[from, at], [at, to]]);
        }
    }
    let kept = points.iter().zip(kept).filter(|(_, kept)| *kept);
    kept.map(|(point, _)| *point).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_stretches_go_holes_first() {
        let text = |samples: Vec<bool>| -> String {
            samples.iter().map(|s| if *s { 'x' } else { '.' }).collect()
        };
        let read = |text: &str| text.chars().map(|c| c == 'x').collect::<Vec<bool>>();
        assert_eq!(
            text(cleaned(read("xx.xx..x...xxxx"), 3.0, 2.0)),
            "xxxxx......xxxx"
        );
        assert_eq!(text(cleaned(read(".xxx."), 3.0, 2.0)), ".xxx.");
    }

    #[test]
    fn smoothing_keeps_ends_and_straight_lines() {
        let line: Vec<Point> = (0..20)
            .map(|i| Point::new(f64::from(i) * 0.2, 1.0))
            .collect();
        for (a, b) in line.iter().zip(smoothed(&line, 0.6, 0.2, false)) {
            assert!(a.distance(b) < 1e-12);
        }
    }

    #[test]
    fn points_stand_at_equal_distances() {
        let corner = [
            Point::new(0.0, 0.0),
            Point::new(1.0, 0.0),
            Point::new(1.0, 2.0),
        ];
        let points = resampled(&corner, 0.5);
        assert_eq!(points.len(), 7);
        assert!(points[4].distance(Point::new(1.0, 1.0)) < 1e-12);
        assert!((distance_to(Point::new(3.0, 1.0), &corner) - 2.0).abs() < 1e-12);
    }
}
