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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::law::Law;
    use crate::network::{Element, Kind, Tank};
    use crate::solve::{SteadyOptions, steady};

    /// Three chambers in a row, fed from outside at one end and open to a given level at the other.
    fn row() -> Network {
        let tanks = ["source", "first", "second", "third", "end"];
        let tanks = tanks.map(|name| Tank::prism(name, 0.0, 0.1)).to_vec();
        let laws = [
            Law::rate(1e-3, None),
            Law::rectangle(0.2, f64::INFINITY, 0.3),
            Law::rectangle(0.0, 0.02, 0.3),
            Law::rectangle(0.15, f64::INFINITY, 0.3),
        ];
        let element = |(up, law)| {
            let name = format!("way {up}");
            Element { name, kind: Kind::Given, up, down: up + 1, law, scale: 1.0, lean: 0.0 }
        };
        Network { tanks, elements: laws.into_iter().enumerate().map(element).collect() }
    }

    #[test]
    fn goes_where_newtons_method_goes_from_above_and_from_below() {
        let (network, held) = (row(), [true, false, false, false, true]);
        let start = |z| [0.5, z, z, z, 0.1];
        let options = SteadyOptions::default();
        let newton = steady(&network, &held, &start(0.25), &options).expect("balanced");
        for z in [0.001, 0.45] {
            let mut levels = start(z);
            let rounds = bisect(&network, &held, &mut levels, 1e-12);
            assert!(rounds < 2000, "{rounds} rounds");
            for (i, (a, b)) in levels.iter().zip(&newton.levels_m).enumerate() {
                assert!((a - b).abs() < 1e-9, "from {z} m: tank {i} at {a} m instead of {b} m");
            }
        }
    }

    #[test]
    fn what_nothing_reaches_keeps_its_level() {
        let mut network = row();
        network.elements.clear();
        let mut levels = [0.5, 0.1, 0.2, 0.3, 0.1];
        let rounds = bisect(&network, &[false; 5], &mut levels, 1e-12);
        assert_eq!(rounds, 1);
        assert!((levels[2] - 0.2).abs() < 1e-15);
    }
}
