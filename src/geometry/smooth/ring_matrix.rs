//! Symmetric matrices whose entries lie within three places of the diagonal, round a ring, and
//! their solution in a time that grows with their size only.

use nalgebra::{Cholesky, Const, Matrix3, Vector3};

/// Entries to either side of the diagonal.
const BAND: usize = 3;

/// A symmetric matrix of at least eight rows; entry (i, j) is zero unless i and j are at most
/// three apart round the ring.
#[derive(Debug, Clone)]
pub(super) struct RingMatrix {
    /// `rows[i][k]` is the entry (i, i + k) with i + k counted round the ring.
    rows: Vec<[f64; BAND + 1]>,
}

/// The Cholesky factor of all but the last three rows, with those as a border.
pub(super) struct Factor {
    /// `lower[i][k]` is the entry (i, i - k) of the factor.
    lower: Vec<[f64; BAND + 1]>,
    /// The factor's inverse times the border.
    border: Vec<Vector3<f64>>,
    corner: Cholesky<f64, Const<BAND>>,
}

impl RingMatrix {
    pub(super) fn zero(size: usize) -> Self {
        Self {
            rows: vec![[0.0; BAND + 1]; size],
        }
    }

    pub(super) fn size(&self) -> usize {
        self.rows.len()
    }

    /// Adds `value` to the entry (i, i + k) and its mirror image; `i` and `i + k` count round.
    pub(super) fn add(&mut self, i: usize, k: usize, value: f64) {
        let size = self.size();
        self.rows[i % size][k] += value;
    }

    pub(super) fn trace(&self) -> f64 {
        self.rows.iter().map(|row| row[0]).sum()
    }

    /// This matrix plus `weight` times `other`.
    pub(super) fn plus(&self, weight: f64, other: &RingMatrix) -> RingMatrix {
        let pairs = self.rows.iter().zip(&other.rows);
        let sum = |(a, b): (&[f64; 4], &[f64; 4])| {
            let mut row = *a;
            for (entry, more) in row.iter_mut().zip(b) {
                *entry += weight * more;
            }
            row
        };
        RingMatrix {
            rows: pairs.map(sum).collect(),
        }
    }

    /// The entry (i, j).
    fn entry(&self, i: usize, j: usize) -> f64 {
        let size = self.size();
        let ahead = (j + size - i) % size;
        let behind = (i + size - j) % size;
        if ahead <= BAND {
            self.rows[i][ahead]
        } else if behind <= BAND {
            self.rows[j][behind]
        } else {
            0.0
        }
    }

    /// Column `j`.
    pub(super) fn column(&self, j: usize) -> Vec<f64> {
        let size = self.size();
        let mut column = vec![0.0; size];
        for step in 0..=2 * BAND {
            let i = (j + size - BAND + step) % size;
            column[i] = self.entry(i, j);
        }
        column
    }

    /// The factor; `None` unless the matrix is positive definite.
    pub(super) fn factor(&self) -> Option<Factor> {
        let inner = self.size().checked_sub(BAND)?;
        let mut lower: Vec<[f64; BAND + 1]> = Vec::with_capacity(inner);
        for i in 0..inner {
            let mut row = [0.0; BAND + 1];
            for k in (0..=BAND.min(i)).rev() {
                let j = i - k;
                let known: f64 = (k + 1..=BAND.min(i))
                    .filter(|m| m - k <= BAND)
                    .map(|m| row[m] * if k == 0 { row[m] } else { lower[j][m - k] })
                    .sum();
                let value = self.rows[j][k] - known;
                row[k] = if k > 0 {
                    value / lower[j][0]
                } else if value > 0.0 {
                    value.sqrt()
                } else {
                    return None;
                };
            }
            lower.push(row);
        }
        let right = |i: usize| Vector3::from_fn(|c, _| self.entry(i, inner + c));
        let mut border: Vec<Vector3<f64>> = Vec::with_capacity(inner);
        let mut corner = Matrix3::from_fn(|r, c| self.entry(inner + r, inner + c));
        for (i, row) in lower.iter().enumerate() {
            let known: Vector3<f64> = (1..=BAND.min(i)).map(|k| row[k] * border[i - k]).sum();
            let solved = (right(i) - known) / row[0];
            corner -= solved * solved.transpose();
            border.push(solved);
        }
        let corner = Cholesky::new(corner)?;
        Some(Factor {
            lower,
            border,
            corner,
        })
    }
}

impl Factor {
    /// What the matrix, times the result, makes `right`.
    pub(super) fn solve(&self, right: &[f64]) -> Vec<f64> {
        let inner = self.lower.len();
        let mut solved: Vec<f64> = right.to_vec();
        let mut tail = Vector3::from_fn(|c, _| right[inner + c]);
        for i in 0..inner {
            let row = &self.lower[i];
            let known: f64 = (1..=BAND.min(i)).map(|k| row[k] * solved[i - k]).sum();
            solved[i] = (solved[i] - known) / row[0];
            tail -= solved[i] * self.border[i];
        }
        let tail = self.corner.solve(&tail);
        for i in (0..inner).rev() {
            let later = (1..=BAND).take_while(|k| i + k < inner);
            let known: f64 = later.map(|k| self.lower[i + k][k] * solved[i + k]).sum();
            solved[i] = (solved[i] - self.border[i].dot(&tail) - known) / self.lower[i][0];
        }
        for c in 0..BAND {
            solved[inner + c] = tail[c];
        }
        solved
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_times_the_matrix_gives_the_right_side() {
        let size = 11;
        let mut matrix = RingMatrix::zero(size);
        for i in 0..size {
            for (k, value) in [9.0, -2.0, 1.5, 0.7].into_iter().enumerate() {
                matrix.add(i, k, value + 0.1 * i as f64);
            }
        }
        let right: Vec<f64> = (0..size).map(|i| (i as f64).sin()).collect();
        let solved = matrix.factor().map(|f| f.solve(&right)).unwrap_or_default();
        for (i, expected) in right.iter().enumerate() {
            let sum: f64 = (0..size).map(|j| matrix.column(j)[i] * solved[j]).sum();
            assert!((sum - expected).abs() < 1e-12, "row {i}: {sum}");
        }
    }
}
