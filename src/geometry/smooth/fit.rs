//! Penalised least squares for the spline, with the penalty chosen by cross validation.

use super::ring_matrix::RingMatrix;
use super::spline::{Spline, weights};
use kurbo::{Point, Vec2};

/// Free parameters count this much in cross validation (Kim & Gu 2004).
const GAMMA: f64 = 1.4;

/// Weights of the penalty that are tried: powers of ten between these, in half steps.
const POWERS: (i32, i32) = (-12, 12);

/// The normal equations of one fit.
struct Equations {
    /// Sums of products of weights.
    normal: RingMatrix,
    /// Sums of weights times coordinates.
    right: Vec<Vec2>,
    /// For each point its span, the weights there and its coordinates.
    rows: Vec<(usize, [f64; 4], Vec2)>,
    penalty: RingMatrix,
    /// Mean sum of squared weights per knot; makes penalties independent of the number of points.
    scale: f64,
}

/// What comes of one weight of the penalty.
struct Solution {
    coefficients: Vec<Vec2>,
    /// The cross validation score; infinite if too many parameters are free.
    score: f64,
}

/// The spline of `knots` spans that fits `points` at `parameters`, and the power of ten that weighs
/// its penalty; powers near `guess` are tried if there is one.
pub(super) fn fit(
    points: &[Point],
    parameters: &[f64],
    knots: usize,
    guess: Option<f64>,
) -> (Spline, f64) {
    let middle = points.iter().fold(Vec2::ZERO, |sum, p| sum + p.to_vec2()) / points.len() as f64;
    let equations = Equations::new(points, parameters, knots, middle);
    let tried: Vec<f64> = match guess {
        None => (POWERS.0..=POWERS.1)
            .map(|half| 0.5 * f64::from(half))
            .collect(),
        Some(power) => (-4..=4).map(|q| power + 0.25 * f64::from(q)).collect(),
    };
    let mut best: Option<(Solution, f64)> = None;
    for power in tried {
        if let Some(solution) = equations.solved(power)
            && best.as_ref().is_none_or(|(b, _)| solution.score < b.score)
        {
            best = Some((solution, power));
        }
    }
    let (coefficients, power) = match best {
        Some((solution, power)) => (solution.coefficients, power),
        None => (equations.right, 0.0),
    };
    let moved = coefficients.into_iter().map(|c| c + middle);
    (Spline::new(moved.collect()), power)
}

impl Equations {
    fn new(points: &[Point], parameters: &[f64], knots: usize, middle: Vec2) -> Self {
        let mut normal = RingMatrix::zero(knots);
        let mut right = vec![Vec2::ZERO; knots];
        let mut rows = Vec::with_capacity(points.len());
        for (point, parameter) in points.iter().zip(parameters) {
            let value = point.to_vec2() - middle;
            let (span, weights) = weights(*parameter, knots);
            rows.push((span, weights, value));
            for (i, first) in weights.iter().enumerate() {
                right[(span + i) % knots] += *first * value;
                for (k, second) in weights[i..].iter().enumerate() {
                    normal.add(span + i, k, first * second);
                }
            }
        }
        let scale = normal.trace() / knots as f64;
        Self {
            normal,
            right,
            rows,
            penalty: third_differences(knots),
            scale,
        }
    }

    fn solved(&self, power: f64) -> Option<Solution> {
        let weight = self.scale * 10_f64.powf(power);
        let factor = self.normal.plus(weight, &self.penalty).factor()?;
        let solve = |part: fn(&Vec2) -> f64| {
            let right: Vec<f64> = self.right.iter().map(part).collect();
            factor.solve(&right)
        };
        let (xs, ys) = (solve(|v| v.x), solve(|v| v.y));
        let coefficients: Vec<Vec2> = xs.into_iter().zip(ys).map(Vec2::from).collect();
        let free: f64 = (0..self.normal.size())
            .map(|j| factor.solve(&self.normal.column(j))[j])
            .sum();
        let count = self.rows.len() as f64;
        let left = count - GAMMA * free;
        let score = if left > 0.02 * count {
            count * self.residual(&coefficients) / (left * left)
        } else {
            f64::INFINITY
        };
        Some(Solution {
            coefficients,
            score,
        })
    }

    /// Sum of the squared distances of the points from the spline at their parameters.
    fn residual(&self, coefficients: &[Vec2]) -> f64 {
        let rows = self.rows.iter().map(|(span, weights, value)| {
            let weighted = weights.iter().enumerate();
            let sum = weighted.fold(Vec2::ZERO, |sum, (i, weight)| {
                sum + *weight * coefficients[(span + i) % coefficients.len()]
            });
            (sum - *value).hypot2()
        });
        rows.sum()
    }
}

/// The squares of the third differences of coefficients that go round in a ring.
fn third_differences(knots: usize) -> RingMatrix {
    let pattern = [-1.0, 3.0, -3.0, 1.0];
    let mut penalty = RingMatrix::zero(knots);
    for first in 0..knots {
        for (i, a) in pattern.iter().enumerate() {
            for (k, b) in pattern[i..].iter().enumerate() {
                penalty.add(first + i, k, a * b);
            }
        }
    }
    penalty
}
