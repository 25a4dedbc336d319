//! Elimination of a matrix of which most is zero.
//!
//! Chambers stand in a ring with few ways between them, so a row has two or three entries. Which entries
//! there are, and which more elimination brings, is settled once for all steps between two events; the
//! order of elimination is the one that brings fewest (Markowitz, Management Science 3 (1957) 255). Among
//! equals the one that waits least for others goes first: a long chain of operations that wait for each
//! other takes more time than more operations side by side.
//!
//! What only collects has an empty column, so it is eliminated first and costs nothing.

use crate::solve::MAX_TANKS;
use crate::solve::dense::{Matrix, NO_PIVOT, Vector};

/// One step of elimination.
#[derive(Clone, Copy, Debug)]
struct Pivot {
    row: usize,
    /// Rows below with an entry in this column: a range of the list of lines.
    rows: (usize, usize),
    /// Columns to the right with an entry in this row: a range of the list of lines.
    columns: (usize, usize),
}

/// An order of elimination and the entries it meets.
#[derive(Clone, Debug, Default)]
pub(crate) struct Order {
    pivots: Vec<Pivot>,
    lines: Vec<u8>,
    /// Row and column of every entry, before and during elimination.
    entries: Vec<(u8, u8)>,
}

/// A set of rows or columns.
type Set = u128;
const _: () = assert!(MAX_TANKS <= 128, "a set has 128 bits");

impl Order {
    /// Finds the order for `n` rows. Each link `(a, b, feels_b)` brings entries in the rows of both, in the
    /// column of `a` and, if so said, in that of `b`.
    pub(crate) fn look(&mut self, n: usize, links: impl Iterator<Item = (usize, usize, bool)>) {
        // By row the columns with an entry, by column the rows.
        let mut columns: [Set; MAX_TANKS] = std::array::from_fn(|i| 1 << i);
        for (a, b, feels_b) in links {
            columns[b] |= 1 << a;
            if feels_b {
                columns[a] |= 1 << b;
            }
        }
        let mut rows = [0; MAX_TANKS];
        for (row, &set) in columns.iter().enumerate().take(n) {
            bits(set).for_each(|column| rows[column] |= 1 << row);
        }
        self.pivots.clear();
        self.lines.clear();
        self.entries.clear();
        let mut waits = [0_u32; MAX_TANKS];
        let mut left: Set = if n < MAX_TANKS { (1 << n) - 1 } else { Set::MAX };
        while left != 0 {
            let others = |set: Set, k: usize| (set & left & !(1 << k)).count_ones();
            let cost = |k: &usize| (others(rows[*k], *k) * others(columns[*k], *k), waits[*k]);
            let Some(k) = bits(left).min_by_key(cost) else { break };
            left &= !(1 << k);
            let (below, beside) = (rows[k] & left, columns[k] & left);
            self.push(k, below, beside);
            for row in bits(below) {
                columns[row] |= beside;
            }
            for column in bits(beside) {
                rows[column] |= below;
            }
            for other in bits(below | beside) {
                waits[other] = waits[other].max(waits[k] + 1);
            }
        }
    }

    fn push(&mut self, k: usize, below: Set, beside: Set) {
        let begin = self.lines.len();
        self.lines.extend(bits(below).map(byte));
        let middle = self.lines.len();
        self.lines.extend(bits(beside).map(byte));
        let end = self.lines.len();
        self.pivots.push(Pivot { row: k, rows: (begin, middle), columns: (middle, end) });
        self.entries.push((byte(k), byte(k)));
        self.entries.extend(bits(below).map(|row| (byte(row), byte(k))));
        self.entries.extend(bits(beside).map(|column| (byte(k), byte(column))));
    }

    /// Row and column of every entry.
    #[inline]
    pub(crate) fn entries(&self) -> impl Iterator<Item = (usize, usize)> {
        self.entries.iter().map(|&(row, column)| (usize::from(row), usize::from(column)))
    }

    /// Splits the matrix into triangles. `None` if it is singular.
    #[inline]
    pub(crate) fn factor<const W: usize>(&self, triangles: &mut Triangles<W>) -> Option<()> {
        let Triangles { matrix: m, below, inverse, beside } = triangles;
        below.clear();
        beside.clear();
        for pivot in &self.pivots {
            let k = pivot.row;
            let is_pivot = NO_PIVOT < m[k][k].abs();
            if !is_pivot {
                return None;
            }
            inverse[k] = 1.0 / m[k][k];
            let row = m[k];
            for &line in &self.lines[pivot.rows.0..pivot.rows.1] {
                let other = &mut m[usize::from(line)];
                let factor = other[k] * inverse[k];
                // What is dry just now has entries of zero.
                if 0.0 < factor.abs() {
                    below.push((line, byte(k), factor));
                    for &column in &self.lines[pivot.columns.0..pivot.columns.1] {
                        other[usize::from(column)] -= factor * row[usize::from(column)];
                    }
                }
            }
        }
        for pivot in self.pivots.iter().rev() {
            let k = pivot.row;
            for &column in &self.lines[pivot.columns.0..pivot.columns.1] {
                let factor = m[k][usize::from(column)] * inverse[k];
                if 0.0 < factor.abs() {
                    beside.push((byte(k), column, factor));
                }
            }
        }
        Some(())
    }
}

/// A matrix and its triangles, as the operations with which they solve.
#[derive(Debug)]
pub(crate) struct Triangles<const W: usize> {
    /// To be filled at the entries of the order; what elimination leaves of it afterwards.
    pub(crate) matrix: Matrix<W>,
    /// Row, column and entry of the lower triangle, in the order of elimination.
    below: Vec<(u8, u8, f64)>,
    /// One over each pivot.
    inverse: Vector<W>,
    /// The same of the upper triangle over its pivots, in the opposite order.
    beside: Vec<(u8, u8, f64)>,
}

impl<const W: usize> Triangles<W> {
    /// Room for them.
    pub(crate) fn new() -> Self {
        let (below, beside) = (Vec::new(), Vec::new());
        Self { matrix: [[0.0; W]; W], below, inverse: [0.0; W], beside }
    }

    /// Solves, in place.
    #[inline]
    pub(crate) fn solve(&self, b: &mut Vector<W>) {
        for &(row, column, factor) in &self.below {
            b[usize::from(row)] -= factor * b[usize::from(column)];
        }
        for (b, inverse) in b.iter_mut().zip(&self.inverse) {
            *b *= inverse;
        }
        for &(row, column, factor) in &self.beside {
            b[usize::from(row)] -= factor * b[usize::from(column)];
        }
    }
}

/// The members of a set, lowest first.
fn bits(mut set: Set) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        (set != 0).then(|| {
            let lowest = set.trailing_zeros();
            set &= set - 1;
            lowest as usize
        })
    })
}

#[expect(clippy::cast_possible_truncation, reason = "below MAX_TANKS")]
fn byte(index: usize) -> u8 {
    index as u8
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::solve::dense;

    proptest! {
        #[test]
        fn solves_as_the_full_matrix_does(
            links in prop::collection::vec((0_usize..8, 0_usize..8, any::<bool>(), 0.0..1.0_f64, 0.0..1.0_f64), 0..20),
            b in prop::array::uniform8(-1.0..1.0_f64),
        ) {
            let links: Vec<_> = links.into_iter().filter(|l| l.0 != l.1).collect();
            let mut m = [[0.0; 8]; 8];
            for (i, row) in m.iter_mut().enumerate() {
                row[i] = 0.01;
            }
            for &(a, b, feels_b, by_a, by_b) in &links {
                m[a][a] += by_a;
                m[b][a] -= by_a;
                if feels_b {
                    m[a][b] -= by_b;
                    m[b][b] += by_b;
                }
            }
            let mut order = Order::default();
            order.look(8, links.iter().map(|l| (l.0, l.1, l.2)));
            let (mut sparse, mut full) = (Triangles { matrix: m, ..Triangles::new() }, m);
            let (mut x, mut y) = (b, b);
            order.factor(&mut sparse).expect("not singular");
            sparse.solve(&mut x);
            dense::factor(&mut full, 8).expect("not singular");
            dense::solve(&full, 8, &mut y);
            for i in 0..8 {
                prop_assert!((x[i] - y[i]).abs() < 1e-10, "{} and {}", x[i], y[i]);
            }
        }
    }

    /// A ring of twelve with a sink beside: every chamber is met with few entries.
    #[test]
    fn a_ring_fills_in_little() {
        let ring = (0..12).map(|i| (i, (i + 1) % 12, true));
        let mut order = Order::default();
        order.look(13, ring.chain([(3, 12, false)]));
        assert_eq!(order.pivots[0].row, 12, "what only collects goes first");
        assert!(order.entries.len() <= 13 + 25 + 20, "{} entries", order.entries.len());
    }

    #[test]
    fn a_singular_matrix_is_said() {
        let mut order = Order::default();
        order.look(2, [(0, 1, true)].into_iter());
        let mut ones = Triangles { matrix: [[1.0; 8]; 8], ..Triangles::new() };
        assert!(order.factor(&mut ones).is_none());
    }
}
