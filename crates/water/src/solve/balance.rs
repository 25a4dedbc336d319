//! Net inflow and how it answers to the levels, written into arrays of fixed width.

use crate::network::{Element, Network};
use crate::solve::dense::{Matrix, Vector};

/// Which row of the arrays each tank has.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rows<const W: usize> {
    row: [usize; W],
    /// How many rows count. One more may be written: that of everything held.
    pub(crate) count: usize,
}

impl<const W: usize> Rows<W> {
    /// Every tank its own row.
    pub(crate) fn all(tanks: usize) -> Self {
        Self { row: std::array::from_fn(|i| i), count: tanks }
    }

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

/// Net inflow of every row at these levels of tanks.
#[inline]
pub(crate) fn inflow<const W: usize>(
    elements: &[Element],
    rows: &Rows<W>,
    levels: &Vector<W>,
    f: &mut Vector<W>,
) {
    f.fill(0.0);
    for e in elements.iter().filter(|e| e.is_open()) {
        let q = e.flow(levels[e.up], levels[e.down]).q;
        f[rows.of(e.up)] -= q;
        f[rows.of(e.down)] += q;
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

/// Levels (m) of all tanks at these volumes (m³), and one over the areas there (1/m²).
#[inline]
pub(crate) fn levels<const W: usize>(
    network: &Network,
    volumes: &Vector<W>,
    levels: &mut Vector<W>,
    inverse_areas: &mut Vector<W>,
) {
    for (i, tank) in network.tanks.iter().enumerate() {
        let (z, area) = tank.level(volumes[i]);
        levels[i] = z;
        inverse_areas[i] = 1.0 / area;
    }
}

/// A list of at most `W` numbers as an array, with zeros behind.
pub(crate) fn widened<const W: usize>(values: &[f64]) -> Vector<W> {
    std::array::from_fn(|i| values.get(i).copied().unwrap_or(0.0))
}
