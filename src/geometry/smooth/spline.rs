//! A closed cubic B-spline with uniform knots; its parameter runs from 0 to 1 once round.

use kurbo::{BezPath, Point, Vec2};

/// Steps to either side in which the nearest place on the curve is looked for, in quarter spans.
const LOOKS: i32 = 8;

/// A closed uniform cubic B-spline.
#[derive(Debug, Clone)]
pub(super) struct Spline {
    coefficients: Vec<Vec2>,
}

/// The span that `parameter` lies in, and the weights of the four coefficients from it on.
pub(super) fn weights(parameter: f64, spans: usize) -> (usize, [f64; 4]) {
    let (span, t) = place(parameter, spans);
    let s = 1.0 - t;
    let weights = [
        s * s * s,
        3.0 * t * t * t - 6.0 * t * t + 4.0,
        3.0 * s * s * s - 6.0 * s * s + 4.0,
        t * t * t,
    ];
    (span, weights.map(|w| w / 6.0))
}

fn place(parameter: f64, spans: usize) -> (usize, f64) {
    let along = parameter.rem_euclid(1.0) * spans as f64;
    let span = (along.floor() as usize).min(spans - 1);
    (span, along - span as f64)
}

impl Spline {
    pub(super) fn new(coefficients: Vec<Vec2>) -> Self {
        Self { coefficients }
    }

    pub(super) fn spans(&self) -> usize {
        self.coefficients.len()
    }

    fn coefficient(&self, index: usize) -> Vec2 {
        self.coefficients[index % self.coefficients.len()]
    }

    /// Point, first and second derivative by the parameter.
    fn at(&self, parameter: f64) -> (Vec2, Vec2, Vec2) {
        let spans = self.spans();
        let (span, t) = place(parameter, spans);
        let s = 1.0 - t;
        let (_, weights) = weights(parameter, spans);
        let slopes = [
            -0.5 * s * s,
            1.5 * t * t - 2.0 * t,
            -1.5 * s * s + 2.0 * s,
            0.5 * t * t,
        ];
        let bends = [s, 3.0 * t - 2.0, 3.0 * s - 2.0, t];
        let sum = |w: [f64; 4]| {
            let terms = w.into_iter().enumerate();
            terms.fold(Vec2::ZERO, |sum, (i, w)| {
                sum + w * self.coefficient(span + i)
            })
        };
        let scale = spans as f64;
        (
            sum(weights),
            scale * sum(slopes),
            scale * scale * sum(bends),
        )
    }

    /// The point at `parameter`.
    pub(super) fn eval(&self, parameter: f64) -> Point {
        self.at(parameter).0.to_point()
    }

    /// The parameter of the place nearest to `point` within two spans of `parameter`.
    pub(super) fn projected(&self, point: Point, parameter: f64) -> f64 {
        let step = 0.25 / self.spans() as f64;
        let distance = |u: f64| self.eval(u).distance_squared(point);
        let mut best = parameter;
        for look in -LOOKS..=LOOKS {
            let candidate = parameter + f64::from(look) * step;
            if distance(candidate) < distance(best) {
                best = candidate;
            }
        }
        for _ in 0..6 {
            let (place, slope, bend) = self.at(best);
            let off = place - point.to_vec2();
            let (first, second) = (off.dot(slope), slope.hypot2() + off.dot(bend));
            if second <= 0.0 {
                break;
            }
            let next = best - (first / second).clamp(-step, step);
            if distance(next) >= distance(best) {
                break;
            }
            best = next;
        }
        best.rem_euclid(1.0)
    }

    /// The spline as it is, one cubic for each span.
    pub(super) fn path(&self) -> BezPath {
        let joint = |i: usize| {
            let sum = self.coefficient(i) + 4.0 * self.coefficient(i + 1) + self.coefficient(i + 2);
            (sum / 6.0).to_point()
        };
        let handle = |near: usize, far: usize| {
            ((2.0 * self.coefficient(near) + self.coefficient(far)) / 3.0).to_point()
        };
        let mut path = BezPath::new();
        path.move_to(joint(0));
        for span in 0..self.spans() {
            let end = if span + 1 == self.spans() {
                0
            } else {
                span + 1
            };
            path.curve_to(
                handle(span + 1, span + 2),
                handle(span + 2, span + 1),
                joint(end),
            );
        }
        path.close_path();
        path
    }
}
