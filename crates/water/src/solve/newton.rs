//! The ways to levels at rest, each called when the one before it gives up.

use std::fmt::Debug;

use crate::network::Network;
use crate::solve::balance::{Rows, linearise, widened};
use crate::solve::dense::{Matrix, Vector, factor, solve};
use crate::solve::gauss_seidel::bisect;
use crate::solve::steady::{How, Settled, SteadyError};

/// No level moves further than this in one Newton step, m. Our judgement: a few times the head over a
/// crest, so that a step does not jump over the region in which the law bends.
const LONGEST_MOVE_M: f64 = 0.05;
/// m²/s added to the diagonal: a dry chamber that passes nothing then keeps its level instead of making
/// the matrix singular.
const DRY: f64 = 1e-12;

/// Solving of any width.
pub(crate) trait Work: Debug {
    fn settle(
        &mut self,
        network: &Network,
        held: &[bool],
        levels_m: &mut [f64],
        limit_m3_s: f64,
    ) -> Result<Settled, SteadyError>;

    fn slopes(
        &mut self,
        network: &Network,
        held: &[bool],
        levels_m: &[f64],
        tank: usize,
        slopes: &mut [f64],
    );
}

/// Levels with the net inflow there.
#[derive(Clone, Debug)]
struct Point<const W: usize> {
    /// By tank, m.
    levels: Vector<W>,
    /// By row, m³/s.
    inflow: Vector<W>,
    /// By row and column, m²/s.
    slope: Matrix<W>,
    /// Sum of the sizes of the inflows of free tanks, m³/s.
    residual: f64,
}

impl<const W: usize> Point<W> {
    const EMPTY: Self =
        Self { levels: [0.0; W], inflow: [0.0; W], slope: [[0.0; W]; W], residual: 0.0 };

    fn evaluate(&mut self, network: &Network, rows: &Rows<W>) {
        linearise(&network.elements, rows, &self.levels, &mut self.inflow, &mut self.slope);
        self.residual = size(&self.inflow, rows.count);
    }
}

fn size<const W: usize>(inflow: &Vector<W>, count: usize) -> f64 {
    inflow[..count].iter().map(|f| f.abs()).sum()
}

/// Everything that solving needs room for.
#[derive(Clone, Debug)]
pub(crate) struct Scratch<const W: usize> {
    here: Point<W>,
    next: Point<W>,
    matrix: Matrix<W>,
    direction: Vector<W>,
}

impl<const W: usize> Default for Scratch<W> {
    fn default() -> Self {
        Self { here: Point::EMPTY, next: Point::EMPTY, matrix: [[0.0; W]; W], direction: [0.0; W] }
    }
}

impl<const W: usize> Work for Scratch<W> {
    fn settle(
        &mut self,
        network: &Network,
        held: &[bool],
        levels_m: &mut [f64],
        limit: f64,
    ) -> Result<Settled, SteadyError> {
        let rows = Rows::free(held);
        self.here.levels = widened(levels_m);
        self.here.evaluate(network, &rows);
        let mut iterations = 0;
        let how = if self.newton(network, held, &rows, limit, &mut iterations) {
            How::Newton
        } else if self.relax(network, held, &rows, limit, &mut iterations) {
            How::Relaxed
        } else {
            let n = levels_m.len();
            iterations += bisect(network, held, &mut self.here.levels[..n], limit);
            self.here.evaluate(network, &rows);
            How::Bisected
        };
        levels_m.copy_from_slice(&self.here.levels[..levels_m.len()]);
        let residual_m3_s = self.here.residual;
        if residual_m3_s <= limit {
            Ok(Settled { how, iterations, residual_m3_s })
        } else {
            Err(SteadyError::NotBalanced { residual_m3_s, iterations, limit_m3_s: limit })
        }
    }

    fn slopes(
        &mut self,
        network: &Network,
        held: &[bool],
        levels_m: &[f64],
        tank: usize,
        slopes: &mut [f64],
    ) {
        // With the tank in question as the last of the free rows its column holds the answers to it.
        let mut freed = Rows::<W>::free(held);
        let free = freed.count;
        freed.free_last(tank);
        self.here.levels = widened(levels_m);
        self.here.evaluate(network, &freed);
        let right: Vector<W> =
            std::array::from_fn(|r| if r < free { self.here.slope[r][free] } else { 0.0 });
        let is_solved =
            direct(&self.here.slope, &right, free, |_| DRY, &mut self.matrix, &mut self.direction);
        for (i, slope) in slopes.iter_mut().enumerate() {
            *slope = if i == tank {
                1.0
            } else if held[i] || !is_solved {
                0.0
            } else {
                self.direction[freed.of(i)]
            };
        }
    }
}

impl<const W: usize> Scratch<W> {
    /// Newton's method; a step is shortened until the residual falls. Whether it ended in balance.
    fn newton(
        &mut self,
        network: &Network,
        held: &[bool],
        rows: &Rows<W>,
        limit: f64,
        iterations: &mut usize,
    ) -> bool {
        for _ in 0..30 {
            if self.here.residual <= limit {
                return true;
            }
            let Point { slope, inflow, .. } = &self.here;
            let (matrix, direction) = (&mut self.matrix, &mut self.direction);
            if !direct(slope, inflow, rows.count, |_| DRY, matrix, direction) {
                return false;
            }
            *iterations += 1;
            let mut share = shortened(&self.direction, rows.count);
            let mut is_better = false;
            for _ in 0..6 {
                self.next.levels = self.here.levels;
                step(&mut self.next.levels, held, rows, share, &self.direction);
                self.next.evaluate(network, rows);
                let enough = self.here.residual * (1.0 - 0.1 * share);
                is_better = self.next.residual < enough || self.next.residual <= limit;
                if is_better {
                    break;
                }
                share *= 0.4;
            }
            if !is_better {
                return false;
            }
            std::mem::swap(&mut self.here, &mut self.next);
        }
        self.here.residual <= limit
    }

    /// Implicit Euler in time, each step three times as long as the last. An exact step never raises the
    /// sum of the sizes of the inflows, whatever the start, because the exchange loses nothing.
    fn relax(
        &mut self,
        network: &Network,
        held: &[bool],
        rows: &Rows<W>,
        limit: f64,
        iterations: &mut usize,
    ) -> bool {
        let mut areas = [1.0; W];
        for (i, tank) in network.tanks.iter().enumerate().filter(|(i, _)| !held[*i]) {
            areas[rows.of(i)] = tank.volume(self.here.levels[i]).1;
        }
        let mut tau = 1.0; // s
        for _ in 0..400 {
            if self.here.residual <= limit {
                return true;
            }
            *iterations += 1;
            let is_solved = self.euler(network, held, rows, &areas, tau, limit);
            if is_solved && self.next.residual <= self.here.residual * 1.0001 {
                std::mem::swap(&mut self.here, &mut self.next);
                tau *= 3.0;
            } else {
                tau *= 0.2;
                if tau < 1e-9 {
                    return false;
                }
            }
        }
        self.here.residual <= limit
    }

    /// One implicit step of `tau` seconds from `here` to `next`: the root of `F(z) − A (z − z₀)/τ`.
    fn euler(
        &mut self,
        network: &Network,
        held: &[bool],
        rows: &Rows<W>,
        areas: &Vector<W>,
        tau: f64,
        limit: f64,
    ) -> bool {
        let mut moved = [0.0; W]; // by row, m
        self.next.clone_from(&self.here);
        let mut last = f64::INFINITY;
        for _ in 0..12 {
            let missing: Vector<W> =
                std::array::from_fn(|r| self.next.inflow[r] - areas[r] / tau * moved[r]);
            let left = size(&missing, rows.count);
            if left <= 1e-3 * self.here.residual + 0.1 * limit {
                return true;
            }
            if 2.0 * last < left {
                return false;
            }
            last = left;
            let shift = |r: usize| areas[r] / tau;
            let (matrix, direction) = (&mut self.matrix, &mut self.direction);
            if !direct(&self.next.slope, &missing, rows.count, shift, matrix, direction) {
                return false;
            }
            let share = shortened(&self.direction, rows.count);
            for (moved, d) in moved.iter_mut().zip(&self.direction).take(rows.count) {
                *moved += share * d;
            }
            self.next.levels = self.here.levels;
            step(&mut self.next.levels, held, rows, 1.0, &moved);
            self.next.evaluate(network, rows);
        }
        false
    }
}

/// Solves `(shift − slope) d = right`. Whether there is a finite answer.
fn direct<const W: usize>(
    slope: &Matrix<W>,
    right: &Vector<W>,
    count: usize,
    shift: impl Fn(usize) -> f64,
    matrix: &mut Matrix<W>,
    d: &mut Vector<W>,
) -> bool {
    for r in 0..count {
        for c in 0..count {
            matrix[r][c] = -slope[r][c];
        }
        matrix[r][r] += shift(r);
        d[r] = right[r];
    }
    if factor(matrix, count).is_none() {
        return false;
    }
    solve(matrix, count, d);
    d[..count].iter().all(|d| d.is_finite())
}

/// The share of a step at which no level moves too far.
fn shortened<const W: usize>(direction: &Vector<W>, count: usize) -> f64 {
    let longest = direction[..count].iter().fold(0.0_f64, |a, d| a.max(d.abs()));
    if LONGEST_MOVE_M < longest { LONGEST_MOVE_M / longest } else { 1.0 }
}

/// Moves the levels of free tanks by a share of a step.
fn step<const W: usize>(
    levels: &mut Vector<W>,
    held: &[bool],
    rows: &Rows<W>,
    share: f64,
    direction: &Vector<W>,
) {
    for (i, level) in levels.iter_mut().enumerate().take(held.len()) {
        if !held[i] {
            *level += share * direction[rows.of(i)];
        }
    }
}
