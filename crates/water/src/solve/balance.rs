//! Net inflow and how it answers to the levels, written into arrays of fixed width.

use crate::network::Element;
use crate::solve::dense::{Matrix, Vector};

/// Which row of the arrays each tank has.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rows<const W: usize> {
    row: [usize; W],
    /// How many rows count. One more may be written: that of everything held.
    pub(crate) count: usize,
}

impl<const W: usize> Rows<W> {
    /// Rows for free tanks only; all held tanks share one row behind them, which nobody reads. There is
    /// room for it, because what is held is not free.
    pub(crate) fn free(held: &[bool]) -> Self {
        let count = held.iter().filter(|held| !**held).count();
        let mut row = [count.min(W - 1); W];
        let free = row.iter_mut().zip(held).filter(|(_, held)| !**held);
        for (next, (row, _)) in free.enumerate() {
            *row = next;
        }
        Self { row, count }
    }

    /// Gives one held tank a row of its own behind the free ones.
    pub(crate) fn free_last(&mut self, tank: usize) {
        let last = self.count;
        self.count += 1;
        for row in self.row.iter_mut().filter(|row| **row == last) {
            *row = self.count.min(W - 1);
        }
        self.row[tank] = last;
    }

    /// The row of a tank.
    #[inline]
    pub(crate) fn of(&self, tank: usize) -> usize {
        self.row[tank]
    }
}

/// Net inflow and its derivatives by the levels: `j[row][column]`, off the diagonal never negative, the
/// sum of every column zero if nothing is held.
#[inline]
pub(crate) fn linearise<const W: usize>(
    elements: &[Element],
    rows: &Rows<W>,
    levels: &Vector<W>,
    f: &mut Vector<W>,
    j: &mut Matrix<W>,
) {
    f.fill(0.0);
    let used = (rows.count + 1).min(W);
    for row in &mut j[..used] {
        row.fill(0.0);
    }
    for e in elements.iter().filter(|e| e.is_open()) {
        let flow = e.flow(levels[e.up], levels[e.down]);
        let (up, down) = (rows.of(e.up), rows.of(e.down));
        f[up] -= flow.q;
        f[down] += flow.q;
        j[up][up] -= flow.up;
        j[down][up] += flow.up;
        j[up][down] -= flow.down;
        j[down][down] += flow.down;
    }
}

/// A list of at most `W` numbers as an array, with zeros behind.
pub(crate) fn widened<const W: usize>(values: &[f64]) -> Vector<W> {
    std::array::from_fn(|i| values.get(i).copied().unwrap_or(0.0))
}
