//! Deflection and moments at any place.

use crate::Along;
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

    /// Moments at a place, N·m/m: through the nodes around it, in each direction as many as nothing has a kink between.
    pub fn moment_at(&self, case: usize, at: [f64; 2]) -> Option<Moment> {
        let (i, j, s, t) = self.grid.locate(at)?;
        let moments = &self.fields.get(case)?.moments;
        let mut sum = Moment::default();
        for (corner, share) in
            [(1.0 - s) * (1.0 - t), (1.0 - s) * t, s * (1.0 - t), s * t].into_iter().enumerate()
        {
            sum.add(share, moments[self.grid.node(i + corner / 2, j + corner % 2)]);
        }
        // Linear between the nodes so far; what lines are bent more is added from the four sides of the cell.
        for (along, k, other, of_run, of_other) in [(Along::X, i, j, s, t), (Along::Y, j, i, t, s)]
        {
            for (line, share) in [(other, 1.0 - of_other), (other + 1, of_other)] {
                let run = self.run(along, k, line);
                let places = self.grid.places(along);
                let at = places[k] + of_run * (places[k + 1] - places[k]);
                for node in &run {
                    let own = places[*node];
                    let others = run.iter().filter(|other| *other != node);
                    let weight: f64 = others
                        .map(|other| (at - places[*other]) / (own - places[*other]))
                        .product();
                    let linear = match node.checked_sub(k) {
                        Some(0) => 1.0 - of_run,
                        Some(1) => of_run,
                        _ => 0.0,
                    };
                    let moment = moments[self.grid.node_on(along, *node, line)];
                    sum.add(share * (weight - linear), moment);
                }
            }
        }
        Some(sum)
    }

    /// The ends of step `k` on a line, with the nodes before and behind them if the moments go on there smoothly.
    fn run(&self, along: Along, k: usize, line: usize) -> Vec<usize> {
        let axis = usize::from(along == Along::Y);
        let is_smooth = |k: usize| !self.is_kink[axis][self.grid.node_on(along, k, line)];
        let is_live = |k: usize| self.grid.is_step_live(along, k, line);
        let mut run = vec![k, k + 1];
        if k > 0 && is_live(k - 1) && is_smooth(k) {
            run.push(k - 1);
        }
        if is_live(k + 1) && is_smooth(k + 1) {
            run.push(k + 2);
        }
        run
    }
}

impl Moment {
    fn add(&mut self, share: f64, other: Self) {
        self.x += share * other.x;
        self.y += share * other.y;
        self.xy += share * other.xy;
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
