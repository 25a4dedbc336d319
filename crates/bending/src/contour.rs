//! Lines of equal deflection, for drawings.

use std::collections::BTreeMap;

use crate::Bending;
use crate::sample::in_cell;

/// A line through points, m; closed if the last is the first.
pub type Polyline = Vec<[f64; 2]>;

/// A side between two sampled points: the number of its first point, and whether it runs along x.
type Side = (usize, bool);

impl Bending {
    /// Lines on which the deflection of a case has the value `level`, m, each cell of the grid divided into `parts`
    /// by `parts`; none in openings. Open lines come first; the same input gives the same lines in the same order.
    /// A case that is not there has none.
    pub fn contours(&self, case: usize, level: f64, parts: usize) -> Vec<Polyline> {
        let Some(field) = self.fields.get(case) else { return Vec::new() };
        let parts = parts.clamp(1, 16);
        let samples = Samples::new(self, &field.unknowns, parts);
        stitched(samples.crossings(level), |side| samples.place(side, level))
    }
}

#[derive(Debug)]
struct Samples {
    xs: Vec<f64>,
    ys: Vec<f64>,
    /// Deflection less nothing, `i * ys.len() + j`; not a number where there is no plate.
    w: Vec<f64>,
    /// Of each small cell, whether it is plate.
    live: Vec<bool>,
}

impl Samples {
    fn new(bending: &Bending, u: &[f64], parts: usize) -> Self {
        let grid = &bending.grid;
        let finer = |places: &[f64]| -> Vec<f64> {
            let steps = places.windows(2).flat_map(|step| {
                let at = move |k: usize| step[0] + k as f64 / parts as f64 * (step[1] - step[0]);
                (0..parts).map(at)
            });
            steps.chain(places.last().copied()).collect()
        };
        let (xs, ys) = (finer(&grid.xs), finer(&grid.ys));
        let mut w = vec![f64::NAN; xs.len() * ys.len()];
        let mut live = vec![false; (xs.len() - 1) * (ys.len() - 1)];
        for (i, j) in grid.cells() {
            for part in 0..(parts + 1) * (parts + 1) {
                let (a, b) = (part / (parts + 1), part % (parts + 1));
                let (x, y) = (i * parts + a, j * parts + b);
                let share = |k: usize| k as f64 / parts as f64;
                w[x * ys.len() + y] = in_cell(grid, u, (i, j), (share(a), share(b)));
                if a < parts && b < parts {
                    live[x * (ys.len() - 1) + y] = true;
                }
            }
        }
        Self { xs, ys, w, live }
    }

    /// Of each side that the level crosses, the sides to which the line goes on. Marching squares: where the level crosses all
    /// four sides of a cell, the mean of its corners decides.
    fn crossings(&self, level: f64) -> BTreeMap<Side, Vec<Side>> {
        let rows = self.ys.len();
        let mut next: BTreeMap<Side, Vec<Side>> = BTreeMap::new();
        let mut join = |a: Side, b: Side| {
            next.entry(a).or_default().push(b);
            next.entry(b).or_default().push(a);
        };
        for (cell, _) in self.live.iter().enumerate().filter(|(_, live)| **live) {
            let node = cell / (rows - 1) * rows + cell % (rows - 1);
            let corners = [node, node + rows, node + rows + 1, node + 1];
            let sides = [(node, true), (node + rows, false), (node + 1, true), (node, false)];
            let values = corners.map(|corner| self.w[corner]);
            let is_above = values.map(|w| w >= level);
            let crossed: Vec<usize> =
                (0..4).filter(|&k| is_above[k] != is_above[(k + 1) % 4]).collect();
            match crossed[..] {
                [a, b] => join(sides[a], sides[b]),
                [_, _, _, _] => {
                    let is_middle_above = values.iter().sum::<f64>() / 4.0 >= level;
                    // Either the first corner is cut off, with that across from it, or both others are.
                    let pairs = if is_middle_above == is_above[0] {
                        [(0, 1), (2, 3)]
                    } else {
                        [(3, 0), (1, 2)]
                    };
                    pairs.into_iter().for_each(|(a, b)| join(sides[a], sides[b]));
                }
                _ => {}
            }
        }
        next
    }

    /// Where the level crosses a side.
    fn place(&self, (node, is_along_x): Side, level: f64) -> [f64; 2] {
        let rows = self.ys.len();
        let other = if is_along_x { node + rows } else { node + 1 };
        let at = |node: usize| [self.xs[node / rows], self.ys[node % rows]];
        let share = (level - self.w[node]) / (self.w[other] - self.w[node]);
        let (a, b) = (at(node), at(other));
        [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]
    }
}

/// Follows every line from end to end, or around.
fn stitched(
    mut next: BTreeMap<Side, Vec<Side>>,
    place: impl Fn(Side) -> [f64; 2],
) -> Vec<Polyline> {
    let mut starts: Vec<(bool, Side)> =
        next.iter().map(|(side, others)| (others.len() != 1, *side)).collect();
    starts.sort_unstable();
    let mut lines = Vec::new();
    for (_, start) in starts {
        let mut line = vec![place(start)];
        let mut here = start;
        while let Some(there) = next.get_mut(&here).and_then(Vec::pop) {
            if let Some(back) = next.get_mut(&there)
                && let Some(at) = back.iter().position(|side| *side == here)
            {
                back.remove(at);
            }
            line.push(place(there));
            here = there;
        }
        if line.len() > 1 {
            lines.push(line);
        }
    }
    lines
}
