//! Cholesky's factors of a symmetric matrix that is stored row by row from its first entry on.
//!
//! Rows are taken four by four: so each number that is loaded is used four times, and sums go on side by side. On all panels of
//! the largest demo that is more than twice as fast as one row after the other, in factoring and in solving. Four rows
//! begin at the same column, a multiple of four; what that adds is noughts.
//!
//! Our own, and not a crate: on the equations of plates with 1400 to 4800 unknowns `faer` 0.24 (sparse
//! `LLᵀ`, symbolic and numeric, one thread) took 1.8 ms down to 4.2 ms where even one row after the other took 0.6 ms
//! up to 5.4 ms. A panel has 500 to 2500 unknowns; with many more a sparse crate would win.

/// Rows that are taken together.
const WIDE: usize = 4;

/// One column of four rows.
type Column = [f64; WIDE];

/// A symmetric matrix: of every four rows, all from the first entry of any to the diagonal.
#[derive(Clone, Debug)]
pub(crate) struct Skyline {
    rows: usize,
    /// Of every four rows, the first column, in fours.
    first: Vec<usize>,
    /// Where that column is stored.
    start: Vec<usize>,
    columns: Vec<Column>,
}

/// The row at which a pivot is not safely positive: what it stands for can move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Loose(pub(crate) usize);

/// A pivot below this share of its diagonal is nothing: rounding leaves about 1e-13 of it, while the softest
/// panel that still stands (a strip 40 cells long, held at one end) keeps 1e-6.
const NO_PIVOT: f64 = 1e-11;

/// Of every four rows, the first column that is used in any of them, in fours.
fn in_fours(first: &[usize]) -> impl Iterator<Item = usize> + '_ {
    let least = |four: &[usize]| four.iter().copied().min().unwrap_or(0) / WIDE;
    first.chunks(WIDE).map(least)
}

impl Skyline {
    /// A matrix of noughts; `first[row]` is the first column that is ever used in `row`.
    pub(crate) fn new(first: &[usize]) -> Self {
        let rows = first.len();
        let first: Vec<usize> = in_fours(first).collect();
        let mut start = Vec::with_capacity(first.len());
        let mut stored = 0;
        for (four, first) in first.iter().enumerate() {
            start.push(stored);
            stored += WIDE * (four + 1 - first);
        }
        let mut matrix = Self { rows, first, start, columns: vec![[0.0; WIDE]; stored] };
        // Rows that fill up the last four stand for themselves alone.
        for row in rows..WIDE * matrix.first.len() {
            matrix.add(row, row, 1.0);
        }
        matrix
    }

    /// How many entries a matrix with such rows stores.
    pub(crate) fn entries_of(first: &[usize]) -> usize {
        let of_four = |(four, first): (usize, usize)| WIDE * WIDE * (four + 1 - first);
        in_fours(first).enumerate().map(of_four).sum()
    }

    /// Adds to an entry; the upper half is the lower one.
    pub(crate) fn add(&mut self, row: usize, column: usize, value: f64) {
        let (row, column) = if column <= row { (row, column) } else { (column, row) };
        let four = row / WIDE;
        self.columns[self.start[four] + column - WIDE * self.first[four]][row % WIDE] += value;
    }

    /// `K = L·Lᵀ`.
    pub(crate) fn factor(mut self) -> Result<Factor, Loose> {
        for i in 0..self.first.len() {
            let (first, start) = (self.first[i], self.start[i]);
            let (done, rest) = self.columns.split_at_mut(start);
            let rows = &mut rest[..WIDE * (i + 1 - first)];
            for j in first..i {
                let above = &done[self.start[j]..self.start[j] + WIDE * (j + 1 - self.first[j])];
                let from = first.max(self.first[j]);
                let (known, diagonal) =
                    above[WIDE * (from - self.first[j])..].split_at(WIDE * (j - from));
                let (left, here) = rows[WIDE * (from - first)..].split_at_mut(known.len());
                let (Some(here), Some(diagonal)) = (here.first_chunk_mut(), diagonal.first_chunk())
                else {
                    continue;
                };
                less_products(here, left, known);
                divide(here, diagonal);
            }
            let (left, here) = rows.split_at_mut(WIDE * (i - first));
            if let Some(here) = here.first_chunk_mut() {
                let diagonal: Column = std::array::from_fn(|k| here[k][k]);
                less_products(here, left, left);
                root(here, diagonal).map_err(|k| Loose(WIDE * i + k))?;
            }
        }
        Ok(Factor(self))
    }
}

/// `C − A·Bᵀ`, each by its columns.
#[inline]
fn less_products(c: &mut [Column; WIDE], a: &[Column], b: &[Column]) {
    let mut sums = [[0.0; WIDE]; WIDE];
    for (a, b) in a.iter().zip(b) {
        for (sums, b) in sums.iter_mut().zip(b) {
            for (sum, a) in sums.iter_mut().zip(a) {
                *sum += a * b;
            }
        }
    }
    for (c, sums) in c.iter_mut().zip(&sums) {
        c.iter_mut().zip(sums).for_each(|(c, sum)| *c -= sum);
    }
}

/// `X` of `X·Lᵀ = C`, in place of `C`; `lower` is `L` by its columns.
fn divide(c: &mut [Column; WIDE], lower: &[Column; WIDE]) {
    for k in 0..WIDE {
        let (known, rest) = c.split_at_mut(k);
        let Some(here) = rest.first_mut() else { continue };
        for (known, lower) in known.iter().zip(lower) {
            here.iter_mut().zip(known).for_each(|(x, y)| *x -= lower[k] * y);
        }
        here.iter_mut().for_each(|x| *x /= lower[k][k]);
    }
}

/// `L` of `L·Lᵀ = C`, in place of `C`, with noughts above the diagonal; `whole` is the diagonal before anything was taken
/// from it. Else which pivot is none.
fn root(c: &mut [Column; WIDE], whole: Column) -> Result<(), usize> {
    for k in 0..WIDE {
        let (known, rest) = c.split_at_mut(k);
        let Some(here) = rest.first_mut() else { continue };
        for known in known.iter() {
            let factor = known[k];
            here.iter_mut().zip(known).skip(k).for_each(|(x, y)| *x -= factor * y);
        }
        let pivot = here[k];
        if pivot.is_nan() || pivot <= NO_PIVOT * whole[k] {
            return Err(k);
        }
        let root = pivot.sqrt();
        here[..k].fill(0.0);
        here[k..].iter_mut().for_each(|x| *x /= root);
    }
    Ok(())
}

/// The lower factor of a matrix.
#[derive(Clone, Debug)]
pub(crate) struct Factor(Skyline);

impl Factor {
    /// Solves in place for `cases` right sides, which lie side by side in each row.
    pub(crate) fn solve(&self, rows: &mut [f64], cases: usize) {
        let mut from = 0;
        while from < cases {
            from += match cases - from {
                1 | 2 => self.solve_some::<2>(rows, cases, from),
                3 | 4 => self.solve_some::<4>(rows, cases, from),
                _ => self.solve_some::<6>(rows, cases, from),
            };
        }
    }

    /// Solves for up to `N` of the right sides, from one on.
    fn solve_some<const N: usize>(&self, rows: &mut [f64], cases: usize, from: usize) -> usize {
        let some = N.min(cases - from);
        let mut all = vec![[0.0; N]; WIDE * self.0.first.len()];
        for (x, row) in all.iter_mut().zip(rows.chunks_exact(cases)) {
            x[..some].copy_from_slice(&row[from..from + some]);
        }
        self.forwards(&mut all);
        self.backwards(&mut all);
        for (x, row) in all.iter().zip(rows.chunks_exact_mut(cases)).take(self.0.rows) {
            row[from..from + some].copy_from_slice(&x[..some]);
        }
        some
    }

    /// The columns of four rows before their diagonal, and those of the diagonal.
    fn four(&self, i: usize) -> (&[Column], &[Column]) {
        let Skyline { first, start, columns, .. } = &self.0;
        let before = WIDE * (i - first[i]);
        columns[start[i]..start[i] + before + WIDE].split_at(before)
    }

    fn forwards<const N: usize>(&self, all: &mut [[f64; N]]) {
        for i in 0..self.0.first.len() {
            let (left, diagonal) = self.four(i);
            let (known, rest) = all.split_at_mut(WIDE * i);
            let known = &known[WIDE * self.0.first[i]..];
            let mut sums = [[0.0; N]; WIDE];
            for (column, known) in left.iter().zip(known) {
                for (sums, factor) in sums.iter_mut().zip(column) {
                    sums.iter_mut().zip(known).for_each(|(sum, y)| *sum += factor * y);
                }
            }
            for (x, sums) in rest.iter_mut().zip(&sums) {
                x.iter_mut().zip(sums).for_each(|(x, sum)| *x -= sum);
            }
            for (k, column) in diagonal.iter().enumerate() {
                let (here, below) = rest[k..WIDE].split_at_mut(1);
                let Some(here) = here.first_mut() else { continue };
                here.iter_mut().for_each(|x| *x /= column[k]);
                for (x, factor) in below.iter_mut().zip(&column[k + 1..]) {
                    x.iter_mut().zip(here.iter()).for_each(|(x, y)| *x -= factor * y);
                }
            }
        }
    }

    fn backwards<const N: usize>(&self, all: &mut [[f64; N]]) {
        for i in (0..self.0.first.len()).rev() {
            let (left, diagonal) = self.four(i);
            let (before, rest) = all.split_at_mut(WIDE * i);
            let Some(own) = rest.first_chunk_mut::<WIDE>() else { continue };
            for (k, column) in diagonal.iter().enumerate().rev() {
                let (here, below) = own[k..].split_at_mut(1);
                let Some(here) = here.first_mut() else { continue };
                for (y, factor) in below.iter().zip(&column[k + 1..]) {
                    here.iter_mut().zip(y).for_each(|(x, y)| *x -= factor * y);
                }
                here.iter_mut().for_each(|x| *x /= column[k]);
            }
            let own = *own;
            for (column, x) in left.iter().zip(&mut before[WIDE * self.0.first[i]..]) {
                for (y, factor) in own.iter().zip(column) {
                    x.iter_mut().zip(y).for_each(|(x, y)| *x -= factor * y);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests;
