//! Small dense matrices of fixed width, so that inner loops have a known length and vectorise.
//!
//! All matrices met here are M-matrices dominated by the diagonal of their columns: elimination without
//! pivoting is safe (Berman & Plemmons, Nonnegative Matrices in the Mathematical Sciences, ch. 6; from
//! memory).

/// One number for every tank.
pub(crate) type Vector<const W: usize> = [f64; W];
/// Rows of numbers.
pub(crate) type Matrix<const W: usize> = [Vector<W>; W];

/// A pivot below this is no pivot.
pub(crate) const NO_PIVOT: f64 = 1e-300;

/// `y += a x`.
#[inline]
pub(crate) fn add_scaled<const W: usize>(y: &mut Vector<W>, a: f64, x: &Vector<W>) {
    for (y, x) in y.iter_mut().zip(x) {
        *y += a * x;
    }
}

/// Splits the leading `n` rows and columns into triangles in place. `None` if the matrix is singular.
#[inline]
pub(crate) fn factor<const W: usize>(m: &mut Matrix<W>, n: usize) -> Option<()> {
    for k in 0..n {
        let pivot = m[k][k];
        let is_pivot = NO_PIVOT < pivot.abs();
        if !is_pivot {
            return None;
        }
        let inverse = 1.0 / pivot;
        m[k][k] = inverse;
        let (upper, lower) = m.split_at_mut(k + 1);
        let row = &upper[k];
        for other in lower.iter_mut().take(n - k - 1) {
            if 0.0 < other[k].abs() {
                let factor = other[k] * inverse;
                other[k] = factor;
                for c in k + 1..n {
                    other[c] -= factor * row[c];
                }
            }
        }
    }
    Some(())
}

/// Solves with the triangles of [`factor`], in place.
#[inline]
pub(crate) fn solve<const W: usize>(m: &Matrix<W>, n: usize, b: &mut Vector<W>) {
    for i in 1..n {
        let below: f64 = m[i][..i].iter().zip(&b[..i]).map(|(m, b)| m * b).sum();
        b[i] -= below;
    }
    for i in (0..n).rev() {
        let above: f64 = m[i][i + 1..n].iter().zip(&b[i + 1..n]).map(|(m, b)| m * b).sum();
        b[i] = (b[i] - above) * m[i][i];
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Dominated by the diagonal of its columns, signs of an M-matrix.
    fn m_matrix(entries: &[f64], n: usize) -> Matrix<8> {
        let mut m = [[0.0; 8]; 8];
        for (r, row) in m.iter_mut().enumerate().take(n) {
            for (c, entry) in row.iter_mut().enumerate().take(n) {
                *entry = if r == c { 0.0 } else { -entries[r * 8 + c] };
            }
        }
        for c in 0..n {
            let sum: f64 = m[..n].iter().map(|row| row[c]).sum();
            m[c][c] = 1e-3 - sum;
        }
        m
    }

    proptest! {
        #[test]
        fn triangles_solve_the_system(
            entries in prop::collection::vec(0.0..1.0_f64, 64),
            x in prop::array::uniform8(-1.0..1.0_f64),
            n in 1_usize..=8,
        ) {
            let m = m_matrix(&entries, n);
            let mut b = [0.0_f64; 8];
            for (b, row) in b.iter_mut().zip(&m).take(n) {
                *b = row[..n].iter().zip(&x).map(|(m, x)| m * x).sum();
            }
            let (mut triangles, mut solved) = (m, b);
            factor(&mut triangles, n).expect("not singular");
            solve(&triangles, n, &mut solved);
            for i in 0..n {
                prop_assert!((solved[i] - x[i]).abs() < 1e-10);
            }
        }
    }

    #[test]
    fn a_singular_matrix_is_said() {
        let mut m = [[1.0; 8]; 8];
        assert!(factor(&mut m, 2).is_none());
    }
}
