//! Smooth interpolation of a table that keeps its shape: where the values rise, the curve rises,
//! and it never overshoots. Piecewise cubic, tangent-continuous.

/// A table of values with the slopes that make it a smooth curve.
#[derive(Debug, Clone, PartialEq)]
pub struct Pchip {
    knots: Vec<f64>,
    values: Vec<f64>,
    slopes: Vec<f64>,
}

impl Pchip {
    /// The curve through `(x, value)` pairs (Fritsch & Carlson 1980; inner slopes as weighted
    /// harmonic means after Fritsch & Butland 1984, one-sided three-point slopes at the ends).
    /// `None` for fewer than two pairs, for numbers that are not finite, or unless x rises.
    #[must_use]
    pub fn new(pairs: &[(f64, f64)]) -> Option<Self> {
        let finite = pairs.iter().all(|(x, v)| x.is_finite() && v.is_finite());
        let rising = pairs.windows(2).all(|w| w[0].0 < w[1].0);
        if pairs.len() < 2 || !finite || !rising {
            return None;
        }
        Some(Self {
            knots: pairs.iter().map(|p| p.0).collect(),
            values: pairs.iter().map(|p| p.1).collect(),
            slopes: slopes(pairs),
        })
    }

    /// The value at `x`; beyond the ends, the end's value.
    #[must_use]
    pub fn at(&self, x: f64) -> f64 {
        let last = self.knots.len() - 1;
        let x = x.clamp(self.knots[0], self.knots[last]);
        let above = self.knots.partition_point(|k| *k <= x);
        let i = above.saturating_sub(1).min(last - 1);
        let width = self.knots[i + 1] - self.knots[i];
        let t = (x - self.knots[i]) / width;
        let (rest, square) = (1.0 - t, t * t);
        let from = (1.0 + 2.0 * t) * rest * rest;
        let to = square * (3.0 - 2.0 * t);
        from * self.values[i] + to * self.values[i + 1] + width * t * rest * rest * self.slopes[i]
            - width * square * rest * self.slopes[i + 1]
    }

    /// The pairs it was made from.
    #[must_use]
    pub fn pairs(&self) -> Vec<(f64, f64)> {
        let pairs = self.knots.iter().zip(&self.values);
        pairs.map(|(x, v)| (*x, *v)).collect()
    }
}

fn slopes(pairs: &[(f64, f64)]) -> Vec<f64> {
    let widths: Vec<f64> = pairs.windows(2).map(|w| w[1].0 - w[0].0).collect();
    let rises = pairs.windows(2).zip(&widths);
    let rises: Vec<f64> = rises.map(|(w, h)| (w[1].1 - w[0].1) / h).collect();
    let last = rises.len() - 1;
    if last == 0 {
        return vec![rises[0]; 2];
    }
    let mut slopes = vec![end_slope(widths[0], widths[1], rises[0], rises[1])];
    for i in 1..=last {
        let (before, after) = (rises[i - 1], rises[i]);
        slopes.push(if before * after <= 0.0 {
            0.0
        } else {
            let (w, v) = (
                2.0 * widths[i] + widths[i - 1],
                widths[i] + 2.0 * widths[i - 1],
            );
            (w + v) / (w / before + v / after)
        });
    }
    slopes.push(end_slope(
        widths[last],
        widths[last - 1],
        rises[last],
        rises[last - 1],
    ));
    slopes
}

/// The three-point slope at an end, held back so that the curve stays monotone.
fn end_slope(near: f64, far: f64, rise: f64, next: f64) -> f64 {
    let slope = ((2.0 * near + far) * rise - near * next) / (near + far);
    if slope * rise <= 0.0 {
        0.0
    } else if rise * next <= 0.0 && slope.abs() > 3.0 * rise.abs() {
        3.0 * rise
    } else {
        slope
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of a reference library's interpolator (SciPy 1.17, `PchipInterpolator`).
    #[test]
    fn values_agree_with_a_reference_library() {
        let table = [(0.0, 1.0), (1.0, 3.0), (2.5, 2.0), (4.0, 2.5), (7.0, 9.0)];
        let curve = Pchip::new(&table).unwrap();
        for (x, expected) in REFERENCE {
            let value = curve.at(x);
            assert!(
                (value - expected).abs() < 1e-12,
                "{x}: {value} for {expected}"
            );
        }
    }

    const REFERENCE: [(f64, f64); 5] = [
        (0.25, 1.74375),
        (0.8, 2.890133333333333),
        (1.7, 2.5499259259259257),
        (3.3, 2.168588533739219),
        (6.1, 6.202472602739724),
    ];

    #[test]
    fn a_table_that_does_not_rise_is_refused() {
        assert!(Pchip::new(&[(0.0, 1.0)]).is_none());
        assert!(Pchip::new(&[(0.0, 1.0), (0.0, 2.0)]).is_none());
        assert!(Pchip::new(&[(0.0, f64::NAN), (1.0, 2.0)]).is_none());
    }
}
