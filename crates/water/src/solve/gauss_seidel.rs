//! The last resort: one chamber after the other is brought into balance with its neighbours as they are.
//!
//! For an M-function this goes monotonically to the solution from above or from below (Rheinboldt 1970).
//! It is slow, and it needs no derivative and no matrix.

use crate::network::Network;

/// Rounds over all chambers at most.
const MOST_ROUNDS: usize = 20_000;
/// Rounds in which no level moves further than this are the last, m.
const STANDS_M: f64 = 1e-15;

/// Brings the levels of tanks that are not held into balance. Returns the number of rounds.
pub(crate) fn bisect(
    network: &Network,
    held: &[bool],
    levels: &mut [f64],
    limit_m3_s: f64,
) -> usize {
    let own_limit = limit_m3_s / levels.len().max(1) as f64;
    for round in 1..=MOST_ROUNDS {
        let mut longest = 0.0_f64;
        for i in (0..levels.len()).filter(|&i| !held[i]) {
            let before = levels[i];
            if own_limit < inflow_of(network, levels, i).abs() {
                balance(network, levels, i);
            }
            longest = longest.max((levels[i] - before).abs());
        }
        if longest < STANDS_M {
            return round;
        }
    }
    MOST_ROUNDS
}

/// Moves one level to where its tank's net inflow, which falls with it, changes its sign.
fn balance(network: &Network, levels: &mut [f64], i: usize) {
    let start = levels[i];
    let rises = 0.0 < inflow_of(network, levels, i);
    let mut reach = if rises { 1e-3 } else { -1e-3 };
    let mut near = start;
    // 0.001 m doubled twelve times is 4 m, more than any tank here is deep.
    for _ in 0..12 {
        levels[i] = start + reach;
        if rises != (0.0 < inflow_of(network, levels, i)) {
            break;
        }
        near = levels[i];
        reach *= 2.0;
    }
    let (mut below, mut above) = if rises { (near, levels[i]) } else { (levels[i], near) };
    for _ in 0..60 {
        levels[i] = 0.5 * (below + above);
        if 0.0 < inflow_of(network, levels, i) { below = levels[i] } else { above = levels[i] }
    }
}

/// Net inflow of one tank, m³/s.
fn inflow_of(network: &Network, levels: &[f64], i: usize) -> f64 {
    let flows = network.elements.iter().filter(|e| e.is_open() && (e.up == i || e.down == i));
    flows
        .map(|e| {
            let q = e.flow(levels[e.up], levels[e.down]).q;
            if e.up == i { -q } else { q }
        })
        .sum()
}
