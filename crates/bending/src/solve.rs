//! Several loads on one plate: factor once, solve for all.

use crate::assembly::{PER_NODE, Rows, Stiffness};
use crate::grid::Grid;
use crate::held::{Touch, held, touches};
use crate::plate::{Hold, Support};
use crate::recover::{Field, Recovery};
use crate::skyline::Factor;
use crate::{Error, Plate, Pressure, Rect, contact, load};

/// A plate under several loads.
#[derive(Clone, Debug)]
pub struct Bending {
    /// What was computed.
    pub plate: Plate,
    /// The grid it was computed on.
    pub grid: Grid,
    /// The result of each case, in their order.
    pub fields: Vec<Field>,
    /// Of each direction and node, whether moments may have a kink there.
    pub(crate) is_kink: [Vec<bool>; 2],
}

/// Computes a plate under several cases of load; the pressures of one case add up.
///
/// # Errors
///
/// [`Error::Value`] and [`Error::Outside`] if the model makes no sense, [`Error::TooFine`] if it needs too much memory,
/// [`Error::Moves`] if the supports do not hold it, [`Error::Unsettled`] if it was not found where it touches its frame.
pub fn bend(plate: &Plate, cases: &[Vec<Pressure>]) -> Result<Bending, Error> {
    bend_keeping(plate, cases, &[])
}

/// With grid lines along the sides of `keep`, though they are no openings.
pub(crate) fn bend_keeping(
    plate: &Plate,
    cases: &[Vec<Pressure>],
    keep: &[Rect],
) -> Result<Bending, Error> {
    plate.check()?;
    for (index, case) in cases.iter().enumerate() {
        case.iter().try_for_each(|pressure| pressure.check(plate, index))?;
    }
    let system = System::new(plate, keep);
    let loads: Vec<Vec<f64>> =
        cases.iter().map(|case| load::on_nodes(&system.grid, case)).collect();
    let deflections =
        if plate.has_rests() { contact::settle(&system, &loads)? } else { system.solve(&loads)? };
    let recovery = Recovery::new(&system);
    let fields = deflections.into_iter().zip(&loads).map(|(u, load)| recovery.field(u, load));
    let fields = fields.collect();
    let is_kink = recovery.into_kinks();
    Ok(Bending { plate: plate.clone(), grid: system.grid, fields, is_kink })
}

/// All that does not depend on the load.
#[derive(Debug)]
pub(crate) struct System<'a> {
    pub(crate) plate: &'a Plate,
    pub(crate) grid: Grid,
    pub(crate) stiffness: Stiffness,
    /// Where it may touch what only pushes.
    pub(crate) touches: Vec<Touch>,
    /// Nodes at which forces are asked for: all that supports reach.
    pub(crate) supported: Vec<bool>,
}

impl<'a> System<'a> {
    fn new(plate: &'a Plate, keep: &[Rect]) -> Self {
        let grid = Grid::new(plate, keep);
        let stiffness = Stiffness::new(plate, &grid);
        let touches = touches(plate, &grid);
        let mut supported = vec![false; grid.nodes()];
        for line in &plate.lines {
            if !matches!(line.support, Support::Spring { .. }) {
                grid.on_line(line).iter().for_each(|at| supported[at.node] = true);
            }
        }
        for point in plate.points.iter().filter(|point| !matches!(point.hold, Hold::Spring(_))) {
            supported[grid.nearest_node(point.at)] = true;
        }
        Self { plate, grid, stiffness, touches, supported }
    }

    /// All unknowns under each load, nothing being touched.
    fn solve(&self, loads: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, Error> {
        Ok(self.factored(&[])?.solve(loads))
    }

    /// Its equations with those of the touches closed that `closed` says.
    pub(crate) fn factored(&self, closed: &[bool]) -> Result<Factored, Error> {
        let held = held(self.plate, &self.grid, &self.touches, closed);
        let (rows, matrix) = self.stiffness.free(&self.grid, &held)?;
        let factor = matrix.factor().map_err(|loose| Error::Moves {
            at: self.grid.place(rows.unknown[loose.0] / PER_NODE),
        })?;
        Ok(Factored { rows, factor, unknowns: held.len() })
    }

    /// What supports must exert on the nodes they reach for the plate to be at rest, towards the front: without and
    /// with the help of elastic lines and springs.
    pub(crate) fn missing(&self, u: &[f64], load: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let (mut own, mut whole) = self.stiffness.forces(u, &self.supported);
        for (node, _) in self.supported.iter().enumerate().filter(|(_, asked)| **asked) {
            for unknown in PER_NODE * node..PER_NODE * (node + 1) {
                own[unknown] -= load[unknown];
                whole[unknown] -= load[unknown];
            }
        }
        (own, whole)
    }
}

/// Equations of a plate, ready for any load.
#[derive(Debug)]
pub(crate) struct Factored {
    rows: Rows,
    factor: Factor,
    /// How many unknowns there are, the held ones included.
    unknowns: usize,
}

impl Factored {
    /// All unknowns under each load.
    pub(crate) fn solve(&self, loads: &[Vec<f64>]) -> Vec<Vec<f64>> {
        if loads.is_empty() {
            return Vec::new();
        }
        let of_row = |&unknown: &usize| loads.iter().map(move |load| load[unknown]);
        let mut right: Vec<f64> = self.rows.unknown.iter().flat_map(of_row).collect();
        self.factor.solve(&mut right, loads.len());
        let mut all = vec![vec![0.0; self.unknowns]; loads.len()];
        for (solved, &unknown) in right.chunks_exact(loads.len()).zip(&self.rows.unknown) {
            for (u, value) in all.iter_mut().zip(solved) {
                u[unknown] = *value;
            }
        }
        all
    }
}
