//! Deflection and moments at any place.

use crate::assembly::{PAIRS, unknowns};
use crate::grid::Grid;
use crate::hermite::shapes;
use crate::recover::Moment;
use crate::solve::Bending;

impl Bending {
    /// Deflection at a place, m; `None` outside the plate, in openings, and of a case that is not there.
    pub fn deflection_at(&self, case: usize, at: [f64; 2]) -> Option<f64> {
        let (i, j, s, t) = self.grid.locate(at)?;
        Some(in_cell(&self.grid, &self.fields.get(case)?.unknowns, (i, j), (s, t)))
    }

    /// Moments at a place, N·m/m, linear between the nodes of the grid.
    pub fn moment_at(&self, case: usize, at: [f64; 2]) -> Option<Moment> {
        let (i, j, s, t) = self.grid.locate(at)?;
        let moments = &self.fields.get(case)?.moments;
        let mut sum = Moment::default();
        for (corner, share) in
            [(1.0 - s) * (1.0 - t), (1.0 - s) * t, s * (1.0 - t), s * t].into_iter().enumerate()
        {
            let Moment { x, y, xy } = moments[self.grid.node(i + corner / 2, j + corner % 2)];
            sum.x += share * x;
            sum.y += share * y;
            sum.xy += share * xy;
        }
        Some(sum)
    }
}

/// Deflection in a cell at shares of its width and height.
pub(crate) fn in_cell(grid: &Grid, u: &[f64], (i, j): (usize, usize), (s, t): (f64, f64)) -> f64 {
    let x = shapes(s, grid.xs[i + 1] - grid.xs[i])[0];
    let y = shapes(t, grid.ys[j + 1] - grid.ys[j])[0];
    unknowns(grid, i, j)
        .into_iter()
        .zip(PAIRS)
        .map(|(unknown, (a, b))| u[unknown] * x[a] * y[b])
        .sum()
}
