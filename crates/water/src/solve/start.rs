//! Where to start looking for levels at rest.

use crate::network::Network;

/// How far above a tank's bottom a start level is sought, m. Our judgement: deeper than any tank here.
const REACH_M: f64 = 2.0;
/// A start level need pass the flow only within this share of it.
const NEAR_ENOUGH: f64 = 0.02;

/// Puts every tank of `order` on the level at which it passes a flow (m³/s) on to the tanks below it.
/// `order` goes against the flow, from the tank before the return chamber up to the display. `levels_m`
/// holds the given levels of tanks that are `held`, and is written for those in `order`.
///
/// All other tanks are dead ends: each is put level with a neighbour that can fill it. Otherwise Newton's
/// method would seek a flow of zero as the root of a signed square root, and hop from side to side of it.
/// A dead end that nobody can fill keeps the level that it has.
pub fn start_levels(
    network: &Network,
    held: &[bool],
    order: &[usize],
    flow_m3_s: f64,
    levels_m: &mut [f64],
) {
    let tanks = network.tanks.len().min(held.len()).min(levels_m.len());
    let mut is_set: Vec<bool> = held[..tanks].to_vec();
    for &i in order.iter().filter(|&&i| i < tanks) {
        if let Some(level) = passing_level(network, levels_m, i, flow_m3_s) {
            levels_m[i] = level;
        }
        is_set[i] = true;
    }
    while fill_dead_end(network, &mut is_set, levels_m) {}
}

/// The level at which a tank passes a flow on, if there is one.
fn passing_level(network: &Network, levels_m: &[f64], i: usize, flow_m3_s: f64) -> Option<f64> {
    let outlets = || network.elements.iter().filter(|e| e.up == i && e.is_open());
    let excess = |z: f64| {
        let flows = outlets().map(|e| e.flow(z, levels_m.get(e.down).copied().unwrap_or(z)));
        flows.fold((-flow_m3_s, 0.0), |(q, slope), flow| (q + flow.q, slope + flow.up))
    };
    let floor = network.tanks[i].floor_m();
    let (mut low, mut high) = (floor, floor + REACH_M);
    if excess(high).0 < 0.0 {
        return None;
    }
    let mut z = 0.5 * (low + high);
    for _ in 0..40 {
        let (over, slope) = excess(z);
        if over.abs() < NEAR_ENOUGH * flow_m3_s {
            break;
        }
        if 0.0 < over {
            high = z;
        } else {
            low = z;
        }
        let newton = z - over / slope;
        z = if low < newton && newton < high { newton } else { 0.5 * (low + high) };
        if high - low < 1e-5 {
            break;
        }
    }
    Some(z)
}

/// Puts one more dead end level with its neighbour. Whether there was one.
fn fill_dead_end(network: &Network, is_set: &mut [bool], levels_m: &mut [f64]) -> bool {
    let tanks = is_set.len();
    let elements = network.elements.iter();
    for e in elements.filter(|e| e.is_open() && e.up < tanks && e.down < tanks) {
        let (from, to) = match (is_set[e.up], is_set[e.down]) {
            (true, false) => (e.up, e.down),
            (false, true) => (e.down, e.up),
            _ => continue,
        };
        let floor = network.tanks[to].floor_m();
        let level = |i: usize| if i == to { floor } else { levels_m[i] };
        if 0.0 < e.flow(level(e.up), level(e.down)).q.abs() {
            levels_m[to] = levels_m[from];
            is_set[to] = true;
            return true;
        }
    }
    false
}
