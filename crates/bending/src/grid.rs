//! Lines across the plate in both directions, through every support and every side of an opening.

use crate::plate::{Along, Line, Mesh, Plate, Rect};

/// The grid a plate was computed on.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    /// Places of the lines along x, m.
    pub xs: Vec<f64>,
    /// Places of the lines along y, m.
    pub ys: Vec<f64>,
    /// Of each cell, `i * (ys.len() − 1) + j`, whether it is material.
    live: Vec<bool>,
}

/// A node on a line, and how far along the line it is, m.
#[derive(Clone, Copy, Debug)]
pub(crate) struct OnLine {
    pub(crate) node: usize,
    pub(crate) s: f64,
}

impl Grid {
    /// `keep` are rectangles through whose sides lines must run though they are no openings.
    pub(crate) fn new(plate: &Plate, keep: &[Rect]) -> Self {
        let openings: Vec<Rect> = plate.openings.iter().map(|opening| opening.rect).collect();
        let (mut must_x, mut must_y) = (Vec::new(), Vec::new());
        for rect in openings.iter().chain(keep) {
            must_x.extend(rect.x);
            must_y.extend(rect.y);
        }
        for line in &plate.lines {
            let (run, other) = match line.along {
                Along::X => (&mut must_x, &mut must_y),
                Along::Y => (&mut must_y, &mut must_x),
            };
            run.extend(line.span);
            other.push(line.at);
        }
        for point in &plate.points {
            must_x.push(point.at[0]);
            must_y.push(point.at[1]);
        }
        let fine = |pick: fn(&Rect) -> [f64; 2]| -> Vec<[f64; 2]> {
            openings.iter().chain(keep).map(pick).collect()
        };
        let [a, b] = plate.size;
        let across = plate.mesh.across as f64;
        let largest = |length: f64| (a.min(b) / across).max(length / (3.0 * across));
        let (snap, mesh) = (plate.snap(), plate.mesh);
        let xs = divided(a, must_x, &fine(|rect| rect.x), snap, largest(a), mesh);
        let ys = divided(b, must_y, &fine(|rect| rect.y), snap, largest(b), mesh);

        let mut live = Vec::with_capacity((xs.len() - 1) * (ys.len() - 1));
        for x in xs.windows(2) {
            for y in ys.windows(2) {
                let (x, y) = (0.5 * (x[0] + x[1]), 0.5 * (y[0] + y[1]));
                let is_in = |r: &Rect| r.x[0] < x && x < r.x[1] && r.y[0] < y && y < r.y[1];
                live.push(!openings.iter().any(is_in));
            }
        }
        Self { xs, ys, live }
    }

    /// Number of nodes.
    pub fn nodes(&self) -> usize {
        self.xs.len() * self.ys.len()
    }

    /// The node at line `i` along x and line `j` along y.
    pub fn node(&self, i: usize, j: usize) -> usize {
        i * self.ys.len() + j
    }

    /// Where a node is, m.
    pub fn place(&self, node: usize) -> [f64; 2] {
        [self.xs[node / self.ys.len()], self.ys[node % self.ys.len()]]
    }

    /// Whether a cell is material; outside the grid none is.
    pub fn is_live(&self, i: usize, j: usize) -> bool {
        let rows = self.ys.len() - 1;
        i < self.xs.len() - 1 && j < rows && self.live[i * rows + j]
    }

    /// All cells that are material.
    pub fn cells(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        let rows = self.ys.len() - 1;
        (0..self.live.len()).filter(|&cell| self.live[cell]).map(move |c| (c / rows, c % rows))
    }

    /// Which of the four cells around a node are material: lower left, upper left, lower right, upper right.
    pub(crate) fn around(&self, node: usize) -> [bool; 4] {
        let (i, j) = (node / self.ys.len(), node % self.ys.len());
        let (left, below) = (i.wrapping_sub(1), j.wrapping_sub(1));
        [(left, below), (left, j), (i, below), (i, j)].map(|(i, j)| self.is_live(i, j))
    }

    /// Whether the step from line `k` to line `k + 1`, on line `other` of the other direction, borders material.
    pub(crate) fn is_step_live(&self, along: Along, k: usize, other: usize) -> bool {
        let before = other.wrapping_sub(1);
        match along {
            Along::X => self.is_live(k, before) || self.is_live(k, other),
            Along::Y => self.is_live(before, k) || self.is_live(other, k),
        }
    }

    /// Places of the lines that cross a line which runs along `along`.
    pub(crate) fn places(&self, along: Along) -> &[f64] {
        if along == Along::X { &self.xs } else { &self.ys }
    }

    /// The node `k` steps along a line that runs on line `other` of the other direction.
    pub(crate) fn node_on(&self, along: Along, k: usize, other: usize) -> usize {
        if along == Along::X { self.node(k, other) } else { self.node(other, k) }
    }

    /// The nodes of a line in their order.
    pub(crate) fn on_line(&self, line: &Line) -> Vec<OnLine> {
        let run = self.places(line.along);
        let across = if line.along == Along::X { &self.ys } else { &self.xs };
        let (from, to) = (nearest(run, line.span[0]), nearest(run, line.span[1]));
        let other = nearest(across, line.at);
        (from..=to)
            .map(|k| OnLine { node: self.node_on(line.along, k, other), s: run[k] })
            .collect()
    }

    /// Whether a line runs on the upper edge of the plate in its direction across: right or top.
    pub(crate) fn is_on_last(&self, line: &Line) -> bool {
        let across = if line.along == Along::X { &self.ys } else { &self.xs };
        nearest(across, line.at) + 1 == across.len()
    }

    /// The node nearest to a place.
    pub(crate) fn nearest_node(&self, [x, y]: [f64; 2]) -> usize {
        self.node(nearest(&self.xs, x), nearest(&self.ys, y))
    }

    /// The cell that holds a place, and where in it (0..1); `None` outside the plate and in openings. A place on a
    /// side between cells belongs to one that is material.
    pub(crate) fn locate(&self, [x, y]: [f64; 2]) -> Option<(usize, usize, f64, f64)> {
        let candidates = |places: &[f64], at: f64| -> Vec<usize> {
            (0..places.len() - 1).filter(|&k| places[k] <= at && at <= places[k + 1]).collect()
        };
        let share =
            |places: &[f64], k: usize, at: f64| (at - places[k]) / (places[k + 1] - places[k]);
        for i in candidates(&self.xs, x) {
            for j in candidates(&self.ys, y) {
                if self.is_live(i, j) {
                    return Some((i, j, share(&self.xs, i, x), share(&self.ys, j, y)));
                }
            }
        }
        None
    }
}

/// Lines through all `must`, those closer than `snap` joined, with cells between them no longer than `largest`.
fn divided(
    length: f64,
    mut must: Vec<f64>,
    fine: &[[f64; 2]],
    snap: f64,
    largest: f64,
    mesh: Mesh,
) -> Vec<f64> {
    must.retain(|at| *at > snap && *at < length - snap);
    must.sort_by(f64::total_cmp);
    let mut stops = vec![0.0];
    for at in must {
        if stops.last().is_none_or(|last| at - last >= snap) {
            stops.push(at);
        }
    }
    stops.push(length);

    let mut lines = vec![0.0];
    for stop in stops.windows(2) {
        let (from, extent) = (stop[0], stop[1] - stop[0]);
        let middle = from + 0.5 * extent;
        let is_fine = fine.iter().any(|f| f[0] < middle && middle < f[1]);
        let least = if is_fine { mesh.least_in_opening } else { mesh.least };
        // Not so many that a narrow interval is cut into slivers.
        let cells = at_least(extent / largest).max(least.min(at_least(10.0 * extent / largest)));
        for k in 1..cells {
            let s = k as f64 / cells as f64;
            let eased = s * s * (3.0 - 2.0 * s);
            lines.push(from + extent * ((1.0 - mesh.grading) * s + mesh.grading * eased));
        }
        lines.push(stop[1]);
    }
    lines
}

/// The least number of cells that is not below `cells`, but for rounding.
fn at_least(cells: f64) -> usize {
    let mut count = 1;
    while (count as f64) < cells - 1e-9 {
        count += 1;
    }
    count
}

fn nearest(places: &[f64], at: f64) -> usize {
    let next = places.partition_point(|place| *place < at).min(places.len() - 1);
    let before = next.saturating_sub(1);
    if at - places[before] < places[next] - at { before } else { next }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Opening, Support};

    #[test]
    fn lines_run_through_supports_and_openings_and_slivers_are_joined() {
        let mut plate = Plate::new([0.6, 0.4], 0.01, 3e9, 0.37);
        let rect = Rect { x: [0.2, 0.35], y: [0.15, 0.25] };
        plate.openings.push(Opening { rect, radius: 0.01 });
        let support = Support::Hinge;
        plate.lines.push(Line { along: Along::Y, at: 0.3505, span: [0.0, 0.4], support });
        let grid = Grid::new(&plate, &[]);
        for x in [0.0, 0.2, 0.35, 0.6] {
            assert!(grid.xs.iter().any(|line| (line - x).abs() < 1e-12), "{x}");
        }
        assert!(grid.xs.windows(2).chain(grid.ys.windows(2)).all(|w| w[1] - w[0] > 0.002));
        let dead = (grid.xs.len() - 1) * (grid.ys.len() - 1) - grid.cells().count();
        assert!(dead >= 16, "{dead}");
        assert!(grid.locate([0.3, 0.2]).is_none() && grid.locate([0.35, 0.2]).is_some());
    }

    #[test]
    fn a_long_strip_has_no_more_than_three_times_the_cells() {
        let plate = Plate::new([8.0, 1.0], 0.01, 3e9, 0.3);
        let grid = Grid::new(&plate, &[]);
        assert_eq!((grid.xs.len(), grid.ys.len()), (37, 13));
    }
}
