//! Supports that push and never pull: where the plate touches them.
//!
//! Every node on such a support is closed (held) or open. From all closed, nodes that would be pulled are opened and
//! nodes that have gone through the support are closed, until there are none of either: the active set method of
//! quadratic programs (Nocedal and Wright, Numerical Optimization, ch. 16; from memory). All at once this is quick but may go
//! round in circles, so after some rounds only the worst is changed. That it ends is not proved, so there is a limit.
//!
//! Contact is settled at nodes. Between the last closed node and the first open one the plate may stand off from the
//! frame, or go into it, by a trifle that shrinks with the mesh.

use crate::Error;
use crate::assembly::PER_NODE;
use crate::solve::{Factored, System};

/// Rounds in which all nodes that are wrong are changed.
const ALL_AT_ONCE: usize = 20;
/// Rounds at most. Frames of panels settle within ten.
const ROUNDS: usize = 120;
/// A pull below this share of the load, or a way through the frame below this share of the largest deflection, is
/// rounding.
const ROUNDING: f64 = 1e-9;

/// The unknowns of a plate that lies against its supports, under each load. Loads of one plate are alike, so each begins with
/// the nodes that the one before has closed, and with its factor; where it ends does not hang on where it begins.
pub(crate) fn settle(system: &System, loads: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, Error> {
    let mut contact = Contact::new(system, vec![true; system.touches.len()])?;
    let mut all = Vec::with_capacity(loads.len());
    for load in loads {
        let (settled, u) = contact.settle(load)?;
        contact = settled;
        all.push(u);
    }
    Ok(all)
}

/// Which nodes are closed, and the equations with them.
struct Contact<'a> {
    system: &'a System<'a>,
    closed: Vec<bool>,
    factored: Factored,
}

impl<'a> Contact<'a> {
    fn new(system: &'a System<'a>, closed: Vec<bool>) -> Result<Self, Error> {
        let factored = system.factored(&closed)?;
        Ok(Self { system, closed, factored })
    }

    /// With these nodes opened that are closed, and the other way round.
    fn changed(&self, changes: &[(usize, f64)]) -> Result<Self, Error> {
        let mut closed = self.closed.clone();
        changes.iter().for_each(|&(k, _)| closed[k] = !closed[k]);
        Self::new(self.system, closed)
    }

    /// The unknowns under a load, as if these nodes were the right ones.
    fn solve(&self, load: &[f64]) -> Vec<f64> {
        // One load gives one answer.
        self.factored.solve(&[load.to_vec()]).pop().unwrap_or_default()
    }

    /// The nodes that end closed under a load, and the unknowns.
    fn settle(mut self, load: &[f64]) -> Result<(Self, Vec<f64>), Error> {
        for round in 0..ROUNDS {
            let u = self.solve(load);
            let wrong = wrong(self.system, &u, load, &self.closed);
            let Some(worst) = wrong.iter().max_by(|a, b| a.1.total_cmp(&b.1)) else {
                return Ok((self, u));
            };
            let one = [*worst];
            let changes = if round < ALL_AT_ONCE { &wrong[..] } else { &one };
            self = match self.changed(changes) {
                // Too many were opened at once: with fewer it may still stand.
                Err(Error::Moves { .. }) if changes.len() > 1 => self.changed(&one)?,
                next => next?,
            };
        }
        Err(Error::Unsettled { rounds: ROUNDS })
    }
}

/// Touches that pull or are passed through, with how badly: a share of the load or of the largest deflection.
fn wrong(system: &System, u: &[f64], load: &[f64], closed: &[bool]) -> Vec<(usize, f64)> {
    let forces = |of: &[f64]| of.iter().step_by(PER_NODE).map(|f| f.abs()).sum::<f64>();
    let all_load = forces(load).max(f64::MIN_POSITIVE);
    let deflections = u.iter().step_by(PER_NODE).map(|w| w.abs());
    let largest = deflections.fold(f64::MIN_POSITIVE, f64::max);
    let (_, missing) = system.missing(u, load);
    let of_touch = |(k, touch): (usize, &crate::held::Touch)| {
        let unknown = PER_NODE * touch.node;
        let is_wrong = if closed[k] {
            // What stops deflection to the front exerts a force to the back.
            touch.stops * missing[unknown] / all_load
        } else {
            touch.stops * u[unknown] / largest
        };
        (is_wrong > ROUNDING).then_some((k, is_wrong))
    };
    system.touches.iter().enumerate().filter_map(of_touch).collect()
}
