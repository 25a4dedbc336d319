//! Whether what is glued so far stands by itself, whichever side is down.

use glam::{DVec2, DVec3};
use plate::hull;

use super::block::Block;

/// What stands must not fall when it is tipped by so much, degrees; our judgement: a bench that is not level, and a
/// hand that leans on it.
pub const LEAST_TIP_DEG: f64 = 10.0;
/// What falls when it is tipped by less than this is steadied by a hand, degrees; our judgement.
pub const STEADY_DEG: f64 = 20.0;
/// Faces within so much of the lowest rest on the bench too, mm: sheet is not flatter.
const BEARS_MM: f64 = 0.5;

/// A part with its mass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Weight {
    /// What it rests on the bench with.
    pub(super) block: Block,
    /// Mass, kg, or any measure in proportion to it.
    pub(super) mass: f64,
    /// Its centre of gravity, mm.
    pub(super) middle: DVec3,
}

/// By how much it can be tipped until it falls, degrees, resting with `down` below; negative when it falls by itself.
pub(super) fn tip_deg(weights: &[Weight], down: DVec3) -> f64 {
    let total: f64 = weights.iter().map(|w| w.mass).sum();
    let middle =
        weights.iter().map(|w| w.middle * w.mass).sum::<DVec3>() / total.max(f64::MIN_POSITIVE);
    let lowest = weights.iter().map(|w| w.block.reach(down)).fold(f64::NEG_INFINITY, f64::max);
    let bearing = weights.iter().filter(|w| w.block.reach(down) > lowest - BEARS_MM);
    let (u, v) = across(down);
    let flat = |p: DVec3| DVec2::new(p.dot(u), p.dot(v));
    let corners = bearing.flat_map(|w| {
        let Block { lo, hi } = w.block;
        let pick = move |bit: u8, k: usize| if bit == 0 { lo[k] } else { hi[k] };
        (0..8_u8).map(move |i| flat(DVec3::new(pick(i & 1, 0), pick(i & 2, 1), pick(i & 4, 2))))
    });
    let base = hull(corners.collect());
    let height = (lowest - middle.dot(down)).max(1e-9);
    let inside = inside_mm(&base, flat(middle));
    libm::atan2(inside, height).to_degrees()
}

/// Two unit vectors square to one that lies along an axis.
fn across(down: DVec3) -> (DVec3, DVec3) {
    match () {
        () if down.x.abs() > 0.5 => (DVec3::Y, DVec3::Z),
        () if down.y.abs() > 0.5 => (DVec3::Z, DVec3::X),
        () => (DVec3::X, DVec3::Y),
    }
}

/// How far a point lies inside a convex polygon, mm; negative outside.
fn inside_mm(polygon: &[DVec2], p: DVec2) -> f64 {
    if polygon.len() < 3 {
        return f64::NEG_INFINITY;
    }
    let sides = polygon.iter().zip(polygon.iter().cycle().skip(1));
    sides.map(|(a, b)| (b - a).normalize_or_zero().perp_dot(p - a)).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weight(lo: [f64; 3], hi: [f64; 3]) -> Weight {
        let block = Block { lo: lo.into(), hi: hi.into() };
        let size = block.size();
        Weight { block, mass: size.x * size.y * size.z, middle: block.middle() }
    }

    #[test]
    fn a_cube_falls_at_half_a_right_angle() {
        let tip = tip_deg(&[weight([0.0; 3], [10.0; 3])], -DVec3::Z);
        assert!((tip - 45.0).abs() < 1e-9, "{tip}");
    }

    #[test]
    fn a_sheet_on_edge_falls_soon() {
        let sheet = [weight([0.0; 3], [500.0, 8.0, 300.0])];
        let tip = tip_deg(&sheet, -DVec3::Z);
        assert!((tip - (4.0_f64 / 150.0).atan().to_degrees()).abs() < 1e-9, "{tip}");
        assert!(tip_deg(&sheet, DVec3::Y) > 80.0);
    }

    #[test]
    fn what_leans_over_falls() {
        let foot = weight([0.0; 3], [10.0, 10.0, 1.0]);
        let heavy = Weight { mass: 1e3, ..weight([20.0, 0.0, 1.0], [30.0, 10.0, 9.0]) };
        assert!(tip_deg(&[foot, heavy], -DVec3::Z) < 0.0);
    }
}
