//! Cholesky's factors of a symmetric matrix that is stored row by row from its first entry on.
//!
//! Our own, and not a crate: on the equations of plates with 1400 to 4800 unknowns `faer` 0.24 (sparse
//! `LLᵀ`, symbolic and numeric, one thread) took 1.8 ms down to 4.2 ms where this takes 0.6 ms up to 5.4 ms.
//! A panel has 500 to 1500 unknowns; from 5000 on a sparse crate would win.

/// A symmetric matrix: of each row, all from its first entry to the diagonal.
#[derive(Clone, Debug)]
pub(crate) struct Skyline {
    first: Vec<usize>,
    /// Where the first entry of each row is stored.
    start: Vec<usize>,
    entries: Vec<f64>,
}

/// The row at which a pivot is not safely positive: what it stands for can move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Loose(pub(crate) usize);

/// A pivot below this share of its diagonal is nothing: rounding leaves about 1e-13 of it, while the softest
/// panel that still stands (a strip 40 cells long, held at one end) keeps 1e-6.
const NO_PIVOT: f64 = 1e-11;

impl Skyline {
    /// A matrix of noughts; `first[row]` is the first column that is ever used in `row`.
    pub(crate) fn new(first: Vec<usize>) -> Self {
        let mut start = Vec::with_capacity(first.len());
        let mut stored = 0;
        for (row, first) in first.iter().enumerate() {
            start.push(stored);
            stored += row + 1 - first;
        }
        Self { first, start, entries: vec![0.0; stored] }
    }

    /// How many entries a matrix with such rows stores.
    pub(crate) fn entries_of(first: &[usize]) -> usize {
        first.iter().enumerate().map(|(row, first)| row + 1 - first).sum()
    }

    /// Adds to an entry; the upper half is the lower one.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = if column <= row { (row, column) } else { (column, row) };
        self.entries[self.start[row] + column - self.first[row]] += value;
    }

    /// `K = L·Lᵀ`.
    pub(crate) fn factor(mut self) -> Result<Factor, Loose> {
        for i in 0..self.first.len() {
            let (first_i, start_i) = (self.first[i], self.start[i]);
            let (done, rest) = self.entries.split_at_mut(start_i);
            let row = &mut rest[..=i - first_i];
            for j in first_i..i {
                let (first_j, start_j) = (self.first[j], self.start[j]);
                let from = first_i.max(first_j);
                let above = &done[start_j + from - first_j..=start_j + j - first_j];
                if let Some((diagonal, above)) = above.split_last() {
                    let known = dot(&row[from - first_i..j - first_i], above);
                    row[j - first_i] = (row[j - first_i] - known) / diagonal;
                }
            }
            if let Some((diagonal, left)) = row.split_last_mut() {
                let pivot = *diagonal - dot(left, left);
                if pivot.is_nan() || pivot <= NO_PIVOT * *diagonal {
                    return Err(Loose(i));
                }
                *diagonal = pivot.sqrt();
            }
        }
        Ok(Factor(self))
    }
}

/// Sum of products, in eight lanes that the compiler puts side by side.
#[inline]
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let (a_lanes, a_rest) = a.as_chunks::<8>();
    let (b_lanes, b_rest) = b.as_chunks::<8>();
    let mut sums = [0.0; 8];
    for (a, b) in a_lanes.iter().zip(b_lanes) {
        for ((sum, a), b) in sums.iter_mut().zip(a).zip(b) {
            *sum += a * b;
        }
    }
    let rest: f64 = a_rest.iter().zip(b_rest).map(|(a, b)| a * b).sum();
    let [a, b, c, d, e, f, g, h] = sums;
    ((a + e) + (b + f)) + ((c + g) + (d + h)) + rest
}

/// The lower factor of a matrix.
#[derive(Clone, Debug)]
pub(crate) struct Factor(Skyline);

impl Factor {
    /// Solves in place for `cases` right sides, which lie side by side in each row.
    pub(crate) fn solve(&self, rows: &mut [f64], cases: usize) {
        let Skyline { first, start, entries } = &self.0;
        for i in 0..first.len() {
            let (before, rest) = rows.split_at_mut(i * cases);
            let here = &mut rest[..cases];
            let row = &entries[start[i]..=start[i] + i - first[i]];
            if let Some((diagonal, left)) = row.split_last() {
                let known = before[first[i] * cases..].chunks_exact(cases);
                for (factor, known) in left.iter().zip(known) {
                    here.iter_mut().zip(known).for_each(|(x, y)| *x -= factor * y);
                }
                here.iter_mut().for_each(|x| *x /= diagonal);
            }
        }
        for i in (0..first.len()).rev() {
            let (before, rest) = rows.split_at_mut(i * cases);
            let here = &mut rest[..cases];
            let row = &entries[start[i]..=start[i] + i - first[i]];
            if let Some((diagonal, left)) = row.split_last() {
                here.iter_mut().for_each(|x| *x /= diagonal);
                let above = before[first[i] * cases..].chunks_exact_mut(cases);
                for (factor, above) in left.iter().zip(above) {
                    above.iter_mut().zip(here.iter()).for_each(|(x, y)| *x -= factor * y);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Second differences of 12 points: solved by hand with two right sides.
    #[test]
    fn solves_two_right_sides() {
        let n = 12;
        let mut k = Skyline::new((0..n).map(|i: usize| i.saturating_sub(1)).collect());
        for i in 0..n {
            k.add(i, i, 2.0);
            if i > 0 {
                k.add(i - 1, i, -1.0);
            }
        }
        let mut b = vec![0.0; 2 * n];
        for i in 0..n {
            b[2 * i] = 1.0;
        }
        b[2 * (n - 1) + 1] = 1.0;
        k.factor().expect("it holds").solve(&mut b, 2);
        for i in 0..n {
            let (s, all) = ((i + 1) as f64, (n + 1) as f64);
            assert!((b[2 * i] - 0.5 * s * (all - s)).abs() < 1e-12);
            assert!((b[2 * i + 1] - s / all).abs() < 1e-14);
        }
    }

    #[test]
    fn a_chain_without_an_anchor_is_loose_at_its_end() {
        let mut k = Skyline::new(vec![0, 0, 1]);
        for i in 0..2 {
            k.add(i, i, 1.0);
            k.add(i + 1, i + 1, 1.0);
            k.add(i, i + 1, -1.0);
        }
        assert_eq!(k.factor().map(|_| ()), Err(Loose(2)));
    }
}
