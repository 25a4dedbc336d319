//! The equations: which unknowns there are, what holds them, and the matrix of the free ones.
//!
//! The element is the conforming rectangle of Bogner, Fox and Schmit (1965): w, its slopes and its twist at every
//! node, cubic in both directions, so that deflection and slope are continuous (Bogner, F. K., Fox, R. L., Schmit,
//! L. A., The generation of interelement compatible stiffness and mass matrices by the use of interpolation formulae,
//! Proc. Conf. Matrix Methods in Structural Mechanics, 1965, 397–444). Its energy is that of Kirchhoff's plate,
//! `½ D ∫ (w_xx² + w_yy² + 2 ν w_xx w_yy + 2 (1 − ν) w_xy²)` (Timoshenko and Woinowsky-Krieger, Theory of Plates and
//! Shells, art. 21; article from memory).

use crate::Error;
use crate::grid::Grid;
use crate::hermite::{M4, gram};
use crate::plate::{Along, Hold, Line, Plate, Support};
use crate::skyline::Skyline;

/// Unknowns of a node: deflection, slope along x, slope along y, twist.
pub(crate) const PER_NODE: usize = 4;

/// Of each of a cell's sixteen unknowns, the cubics along x and along y of which its shape is the product. Its corners
/// come in the order lower left, upper left, lower right, upper right.
pub(crate) const PAIRS: [(usize, usize); 16] = {
    let mut pairs = [(0, 0); 16];
    let mut k = 0;
    while k < 16 {
        let (corner, of_node) = (k / 4, k % 4);
        pairs[k] = (2 * (corner / 2) + of_node % 2, 2 * (corner % 2) + of_node / 2);
        k += 1;
    }
    pairs
};

/// More entries than this, 160 MB, no matrix has.
const MOST_ENTRIES: usize = 20_000_000;

/// The slopes of a node along and across a line, as offsets of its unknowns.
pub(crate) fn slopes(along: Along) -> (usize, usize) {
    if along == Along::X { (1, 2) } else { (2, 1) }
}

/// The sixteen unknowns of a cell.
pub(crate) fn unknowns(grid: &Grid, i: usize, j: usize) -> [usize; 16] {
    std::array::from_fn(|k| {
        let node = grid.node(i + k / 8, j + (k / 4) % 2);
        PER_NODE * node + k % 4
    })
}

/// A piece of an elastic line between two nodes.
#[derive(Clone, Debug)]
pub(crate) struct Segment {
    /// Index of its line.
    pub(crate) line: usize,
    pub(crate) unknowns: [usize; 4],
    pub(crate) matrix: M4,
    /// Whether it is the part of a spring that takes force: what it takes leaves the plate.
    pub(crate) takes_force: bool,
}

/// The matrix of a cell, on its sixteen unknowns.
type M16 = [[f64; 16]; 16];

/// What the plate and its elastic lines resist with, before anything is held.
#[derive(Debug)]
pub(crate) struct Stiffness {
    /// Of each live cell, its unknowns.
    cells: Vec<[usize; 16]>,
    /// And its matrix.
    matrices: Vec<M16>,
    pub(crate) segments: Vec<Segment>,
    /// Springs at points: unknown and stiffness.
    springs: Vec<(usize, f64)>,
}

impl Stiffness {
    pub(crate) fn new(plate: &Plate, grid: &Grid) -> Self {
        let of_steps = |places: &[f64]| -> Vec<[[M4; 3]; 3]> {
            places.windows(2).map(|step| gram(step[1] - step[0])).collect()
        };
        let (gx, gy) = (of_steps(&grid.xs), of_steps(&grid.ys));
        let (d, nu) = (plate.rigidity(), plate.poisson);
        let cells: Vec<[usize; 16]> = grid.cells().map(|(i, j)| unknowns(grid, i, j)).collect();
        let mut matrices = vec![[[0.0; 16]; 16]; cells.len()];
        for ((i, j), matrix) in grid.cells().zip(&mut matrices) {
            fill(matrix, &gx[i], &gy[j], d, nu);
        }
        let segments = plate
            .lines
            .iter()
            .enumerate()
            .flat_map(|(index, line)| segments_of(grid, index, line))
            .collect();
        let spring = |point: &crate::Point| match point.hold {
            Hold::Spring(k) => Some((PER_NODE * grid.nearest_node(point.at), k)),
            Hold::Rigid | Hold::Rest(_) => None,
        };
        let springs = plate.points.iter().filter_map(spring).collect();
        Self { cells, matrices, segments, springs }
    }

    /// `K·u` on the nodes that are asked for: the plate's own part, and the whole with its elastic lines and springs.
    pub(crate) fn forces(&self, u: &[f64], asked: &[bool]) -> (Vec<f64>, Vec<f64>) {
        let mut own = vec![0.0; u.len()];
        for (unknowns, matrix) in self.cells.iter().zip(&self.matrices) {
            for (&row, factors) in unknowns.iter().zip(matrix.iter()) {
                if asked[row / PER_NODE] {
                    let force = factors.iter().zip(unknowns).map(|(k, &column)| k * u[column]);
                    own[row] += force.sum::<f64>();
                }
            }
        }
        let mut whole = own.clone();
        for segment in &self.segments {
            for (&row, force) in segment.unknowns.iter().zip(segment.forces(u)) {
                whole[row] += force;
            }
        }
        for &(unknown, k) in &self.springs {
            whole[unknown] += k * u[unknown];
        }
        (own, whole)
    }

    /// Numbers the unknowns that are there and not held, and fills their matrix.
    pub(crate) fn free(&self, grid: &Grid, held: &[bool]) -> Result<(Rows, Skyline), Error> {
        let rows = Rows::new(self, grid, held);
        let mut first: Vec<usize> = (0..rows.unknown.len()).collect();
        let mut reach = |unknowns: &[usize]| {
            let used = || unknowns.iter().filter_map(|&unknown| rows.of(unknown));
            if let Some(least) = used().min() {
                used().for_each(|row| first[row] = first[row].min(least));
            }
        };
        self.cells.iter().for_each(|unknowns| reach(unknowns));
        self.segments.iter().for_each(|segment| reach(&segment.unknowns));
        let entries = Skyline::entries_of(&first);
        if entries > MOST_ENTRIES {
            return Err(Error::TooFine { entries, limit: MOST_ENTRIES });
        }

        let mut matrix = Skyline::new(&first);
        for (unknowns, of_cell) in self.cells.iter().zip(&self.matrices) {
            add(&mut matrix, &rows, unknowns, of_cell);
        }
        for segment in &self.segments {
            add(&mut matrix, &rows, &segment.unknowns, &segment.matrix);
        }
        for &(unknown, k) in &self.springs {
            if let Some(row) = rows.of(unknown) {
                matrix.add(row, row, k);
            }
        }
        Ok((rows, matrix))
    }
}

impl Segment {
    /// What it exerts on its four unknowns.
    pub(crate) fn forces(&self, u: &[f64]) -> [f64; 4] {
        self.matrix
            .map(|row| row.iter().zip(self.unknowns).map(|(k, unknown)| k * u[unknown]).sum())
    }
}

fn add<const N: usize>(
    matrix: &mut Skyline,
    rows: &Rows,
    unknowns: &[usize; N],
    own: &[[f64; N]; N],
) {
    let at = unknowns.map(|unknown| rows.of(unknown));
    for (r, of_row) in own.iter().enumerate() {
        let Some(row) = at[r] else { continue };
        for (column, value) in at.iter().zip(of_row).take(r + 1) {
            if let Some(column) = column {
                matrix.add(row, *column, *value);
            }
        }
    }
}

/// Fills in the matrix of a cell, from the products of the cubics along its two sides.
fn fill(matrix: &mut M16, x: &[[M4; 3]; 3], y: &[[M4; 3]; 3], d: f64, nu: f64) {
    for (r, &(a, b)) in PAIRS.iter().enumerate() {
        for (c, &(e, f)) in PAIRS.iter().enumerate().take(r + 1) {
            let entry = d
                * (x[2][2][a][e] * y[0][0][b][f]
                    + x[0][0][a][e] * y[2][2][b][f]
                    + nu * (x[2][0][a][e] * y[0][2][b][f] + x[0][2][a][e] * y[2][0][b][f])
                    + 2.0 * (1.0 - nu) * x[1][1][a][e] * y[1][1][b][f]);
            matrix[r][c] = entry;
            matrix[c][r] = entry;
        }
    }
}

/// Springs only where there is plate to press on; a beam also bridges an opening.
fn segments_of(grid: &Grid, index: usize, line: &Line) -> Vec<Segment> {
    let (along, across) = slopes(line.along);
    // On the deflection and its slope along the line, and on the slope across and its twist: which derivatives of the
    // cubics, how stiff, and whether force leaves the plate.
    let parts = match line.support {
        Support::Spring { k, kr } => [(0, 0, k, true), (across, 0, kr, false)],
        Support::Beam { ei, gj } => [(0, 2, ei, false), (across, 1, gj, false)],
        Support::Hinge | Support::Clamp | Support::Rest(_) => return Vec::new(),
    };
    let is_spring = matches!(line.support, Support::Spring { .. });
    let mut segments = Vec::new();
    for ends in grid.on_line(line).windows(2) {
        let (a, b) = (ends[0], ends[1]);
        if is_spring && !borders_plate(grid, line.along, a.node) {
            continue;
        }
        let products = gram(b.s - a.s);
        for (offset, order, stiffness, takes_force) in parts {
            if stiffness > 0.0 {
                let (a, b) = (PER_NODE * a.node + offset, PER_NODE * b.node + offset);
                segments.push(Segment {
                    line: index,
                    unknowns: [a, a + along, b, b + along],
                    matrix: products[order][order].map(|row| row.map(|entry| stiffness * entry)),
                    takes_force,
                });
            }
        }
    }
    segments
}

/// Whether the step from a node onwards along a line borders material.
fn borders_plate(grid: &Grid, along: Along, node: usize) -> bool {
    let [_, upper_left, lower_right, upper_right] = grid.around(node);
    upper_right || if along == Along::X { lower_right } else { upper_left }
}

/// The rows of the unknowns that are free.
#[derive(Debug)]
pub(crate) struct Rows {
    row: Vec<usize>,
    /// Of each row, its unknown.
    pub(crate) unknown: Vec<usize>,
}

const NO_ROW: usize = usize::MAX;

impl Rows {
    fn new(stiffness: &Stiffness, grid: &Grid, held: &[bool]) -> Self {
        let mut is_there = vec![false; held.len()];
        stiffness.cells.iter().flatten().for_each(|&u| is_there[u] = true);
        stiffness.segments.iter().flat_map(|s| s.unknowns).for_each(|u| is_there[u] = true);
        let (nx, ny) = (grid.xs.len(), grid.ys.len());
        let mut rows = Self { row: vec![NO_ROW; held.len()], unknown: Vec::new() };
        // Along the direction with fewer nodes first: so the rows are short.
        for at in 0..nx * ny {
            let node = if ny <= nx { at } else { grid.node(at % nx, at / nx) };
            for unknown in PER_NODE * node..PER_NODE * (node + 1) {
                if is_there[unknown] && !held[unknown] {
                    rows.row[unknown] = rows.unknown.len();
                    rows.unknown.push(unknown);
                }
            }
        }
        rows
    }

    pub(crate) fn of(&self, unknown: usize) -> Option<usize> {
        Some(self.row[unknown]).filter(|&row| row != NO_ROW)
    }
}
