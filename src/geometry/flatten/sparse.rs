//! Symmetric positive definite systems with few entries a row, factored once and solved often.

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::llt::factor::{LltParams, LltRegularization};
use faer::sparse::linalg::SupernodalThreshold;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholeskyRaw, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::{SparseColMat, Triplet};
use faer::{Par, Side};

/// One entry of the upper triangle: row, column, value; entries of one place add up.
pub(super) type Entry = Triplet<usize, usize, f64>;

/// The factor L of a matrix A = L Lᵀ whose rows were put in another order.
pub(super) struct Factor {
    /// Row of A that stands at each place of the factor.
    order: Vec<usize>,
    /// Where each column begins in `rows` and `values`; its first entry is the diagonal.
    columns: Vec<usize>,
    rows: Vec<u32>,
    values: Vec<f64>,
}

impl Factor {
    /// The sparse Cholesky factor of a matrix of `size` rows, ordered by approximate minimum degree
    /// (Amestoy, Davis & Duff 1996). `None` unless it is positive definite. One thread, so that the
    /// same matrix always gives the same factor.
    pub(super) fn new(size: usize, upper: &[Entry]) -> Option<Self> {
        let matrix = SparseColMat::try_new_from_triplets(size, size, upper).ok()?;
        let parameters = CholeskySymbolicParams {
            supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SIMPLICIAL,
            ..Default::default()
        };
        let symbolic = factorize_symbolic_cholesky(
            matrix.symbolic(),
            Side::Upper,
            SymmetricOrdering::Amd,
            parameters,
        )
        .ok()?;
        let mut values = vec![0.0; symbolic.len_val()];
        let dense = faer::Spec::<LltParams, f64>::default();
        let scratch = symbolic.factorize_numeric_llt_scratch::<f64>(Par::Seq, dense);
        let mut memory = MemBuffer::try_new(scratch).ok()?;
        symbolic
            .factorize_numeric_llt::<f64>(
                &mut values,
                matrix.as_ref(),
                Side::Upper,
                LltRegularization::default(),
                Par::Seq,
                MemStack::new(&mut memory),
                dense,
            )
            .ok()?;
        let order = symbolic.perm()?.arrays().0.to_vec();
        let SymbolicCholeskyRaw::Simplicial(structure) = symbolic.raw() else {
            return None;
        };
        Some(Self {
            order,
            columns: structure.col_ptr().to_vec(),
            rows: structure.row_idx().iter().map(|row| *row as u32).collect(),
            values,
        })
    }

    /// Row of the matrix that stands at each place of the factor.
    pub(super) fn order(&self) -> &[usize] {
        &self.order
    }

    /// Solves the system for `N` right sides at once, in place.
    pub(super) fn solve<const N: usize>(&self, right: &mut [[f64; N]]) {
        let mut work: Vec<[f64; N]> = self.order.iter().map(|row| right[*row]).collect();
        self.solve_ordered(&mut work);
        for (row, solved) in self.order.iter().zip(work) {
            right[*row] = solved;
        }
    }

    /// The same for right sides whose rows stand in the factor's order.
    pub(super) fn solve_ordered<const N: usize>(&self, work: &mut [[f64; N]]) {
        let size = work.len();
        for column in 0..size {
            let (first, end) = (self.columns[column], self.columns[column + 1]);
            let pivot = work[column].map(|v| v / self.values[first]);
            work[column] = pivot;
            let below = self.rows[first + 1..end].iter();
            for (row, value) in below.zip(&self.values[first + 1..end]) {
                let target = &mut work[*row as usize];
                for k in 0..N {
                    target[k] -= value * pivot[k];
                }
            }
        }
        for column in (0..size).rev() {
            let (first, end) = (self.columns[column], self.columns[column + 1]);
            let mut sum = work[column];
            let below = self.rows[first + 1..end].iter();
            for (row, value) in below.zip(&self.values[first + 1..end]) {
                let known = &work[*row as usize];
                for k in 0..N {
                    sum[k] -= value * known[k];
                }
            }
            work[column] = sum.map(|v| v / self.values[first]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_times_the_matrix_gives_the_right_side() {
        let size = 30;
        let mut entries = Vec::new();
        for i in 0..size {
            entries.push(Entry::new(i, i, 6.0 + 0.1 * i as f64));
            for step in [1, 7] {
                if i + step < size {
                    entries.push(Entry::new(i, i + step, -1.0 - 0.01 * i as f64));
                }
            }
        }
        let right: Vec<[f64; 2]> = (0..size).map(|i| [i as f64, (i as f64).cos()]).collect();
        let mut solved = right.clone();
        Factor::new(size, &entries).unwrap().solve(&mut solved);
        let mut product = vec![[0.0; 2]; size];
        for entry in &entries {
            for k in 0..2 {
                product[entry.row][k] += entry.val * solved[entry.col][k];
                if entry.row != entry.col {
                    product[entry.col][k] += entry.val * solved[entry.row][k];
                }
            }
        }
        for (got, wanted) in product.iter().zip(&right) {
            assert!((got[0] - wanted[0]).abs() < 1e-9 && (got[1] - wanted[1]).abs() < 1e-9);
        }
    }

    #[test]
    fn an_indefinite_matrix_has_no_factor() {
        let entries = [
            Entry::new(0, 0, 1.0),
            Entry::new(0, 1, 2.0),
            Entry::new(1, 1, 1.0),
        ];
        assert!(Factor::new(2, &entries).is_none());
    }
}
