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
use crate::solve::System;

/// Rounds in which all nodes that are wrong are changed.
const ALL_AT_ONCE: usize = 20;
/// Rounds at most. Frames of panels settle within ten.
const ROUNDS: usize = 120;
/// A pull below this share of the load, or a way through the frame below this share of the largest deflection, is
/// rounding.
const ROUNDING: f64 = 1e-9;

/// The unknowns of a plate that lies against its supports, under each load. Loads of one plate are alike, so each begins with
/// the nodes that the one before has closed; where it ends does not hang on where it begins.
pub(crate) fn settle(system: &System, loads: &[Vec<f64>]) -> Result<Vec<Vec<f64>>, Error> {
    let mut closed = vec![true; system.touches.len()];
    let mut all = Vec::with_capacity(loads.len());
    for load in loads {
        let (settled, u) = settle_from(system, closed, load)?;
        closed = settled;
        all.push(u);
    }
    Ok(all)
}

/// Which nodes end closed, and the unknowns.
fn settle_from(
    system: &System,
    mut closed: Vec<bool>,
    load: &[f64],
) -> Result<(Vec<bool>, Vec<f64>), Error> {
    let mut u = solve(system, &closed, load)?;
    for round in 0..ROUNDS {
        let wrong = wrong(system, &u, load, &closed);
        let Some(worst) = wrong.iter().max_by(|a, b| a.1.total_cmp(&b.1)) else {
            return Ok((closed, u));
        };
        let one = [*worst];
        let changes = if round < ALL_AT_ONCE { &wrong[..] } else { &one };
        let next = changed(&closed, changes);
        (closed, u) = match solve(system, &next, load) {
            Ok(u) => (next, u),
            // Too many were opened at once: with fewer it may still stand.
            Err(Error::Moves { .. }) if changes.len() > 1 => {
                let next = changed(&closed, &one);
                let u = solve(system, &next, load)?;
                (next, u)
            }
            Err(error) => return Err(error),
        };
    }
    Err(Error::Unsettled { rounds: ROUNDS })
}

fn solve(system: &System, closed: &[bool], load: &[f64]) -> Result<Vec<f64>, Error> {
    // One load gives one answer.
    Ok(system.solve(closed, &[load.to_vec()])?.pop().unwrap_or_default())
}

fn changed(closed: &[bool], changes: &[(usize, f64)]) -> Vec<bool> {
    let mut next = closed.to_vec();
    changes.iter().for_each(|&(k, _)| next[k] = !next[k]);
    next
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
