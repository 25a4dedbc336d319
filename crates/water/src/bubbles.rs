//! How fast bubbles rise, and which ones a down-flow carries along.

use crate::gravity::G;
use crate::seawater::Water;

/// Density of air in a bubble near the surface, kg/m³ (20 °C, one atmosphere).
const AIR: f64 = 1.2;

/// Diameters between which one formula hands over to the other, m.
const HAND_OVER_M: (f64, f64) = (1e-3, 2e-3);

/// Rise of a bubble in still water, m/s; never falls with the diameter, m.
///
/// Up to 1 mm a rigid sphere ([`rigid_sphere`]), from 2 mm Clift, Grace and Weber's ellipsoid
/// ([`ellipsoid`]), smoothly blended between. Their ellipsoid is fastest near 3.5 mm and then slows by
/// a tenth; here its greatest speed is kept for all larger bubbles, which is within the 15 % of its
/// scatter and lets "the smallest bubble that still rises" have one answer (our judgement).
/// Both are for surfaces that are not perfectly clean, as water with life in it has.
pub fn rise_speed(diameter_m: f64, water: &Water) -> f64 {
    let d = diameter_m.max(0.0).min(fastest_diameter(water));
    let (from, to) = HAND_OVER_M;
    if d <= from {
        return rigid_sphere(d, water);
    }
    let (share, _) = crate::smooth::smoothstep((d - from) / (to - from));
    if share >= 1.0 {
        return ellipsoid(d, water);
    }
    (1.0 - share) * rigid_sphere(d, water) + share * ellipsoid(d, water)
}

/// Diameter, m, of the smallest bubble that rises against a down-flow of this speed, m/s; none if the
/// flow carries every bubble along.
pub fn smallest_rising(down_m_s: f64, water: &Water) -> Option<f64> {
    let (mut low, mut high) = (0.0, fastest_diameter(water));
    if down_m_s >= rise_speed(high, water) {
        return None;
    }
    if down_m_s <= 0.0 {
        return Some(0.0);
    }
    for _ in 0..60 {
        let d = 0.5 * (low + high);
        if rise_speed(d, water) <= down_m_s {
            low = d;
        } else {
            high = d;
        }
    }
    Some(high)
}

/// Rise of a small bubble as a rigid sphere, m/s, diameter in m.
///
/// Drag `24/Re·(1 + 0.15·Re^0.687)`, Re ≤ 800: Schiller & Naumann, *Z. VDI* 77 (1933) 318. Salts and
/// proteins make the surface of small bubbles rigid.
pub fn rigid_sphere(diameter_m: f64, water: &Water) -> f64 {
    let d = diameter_m;
    if d <= 0.0 {
        return 0.0;
    }
    let (rho, mu) = (water.density, water.viscosity_pa_s);
    // Drag equals buoyancy: Re·(18 + 2.7·Re^0.687) is this number, known before the speed is.
    let archimedes = G * d * d * d * rho * (rho - AIR) / (mu * mu);
    let mut re = archimedes / 18.0; // Stokes: never too slow
    for _ in 0..50 {
        let power = 2.7 * re.powf(0.687);
        let next = re - (re * (18.0 + power) - archimedes) / (18.0 + 1.687 * power);
        let done = (next - re).abs() <= 1e-14 * re;
        re = next;
        if done {
            break;
        }
    }
    re * mu / (rho * d)
}

/// Rise of an ellipsoidal bubble in water that is not clean, m/s, diameter of the equal sphere in m.
///
/// `U = μ/(ρd)·Mo^−0.149·(J − 0.857)`, `H = (4/3)·Eo·Mo^−0.149·(μ/0.0009)^−0.14`, `J = 0.94·H^0.757` for
/// 2 < H ≤ 59.3, `3.42·H^0.441` above; Mo < 1e-3, Eo < 40 (16 mm), Re > 0.1; scatter 15 %.
/// Source: Clift, Grace & Weber, *Bubbles, Drops, and Particles* (1978), equations 7-5 to 7-9.
pub fn ellipsoid(diameter_m: f64, water: &Water) -> f64 {
    let (rho, mu) = (water.density, water.viscosity_pa_s);
    let h = h_number(diameter_m, water);
    let j = if h <= H_SWITCH { 0.94 * h.powf(0.757) } else { 3.42 * h.powf(0.441) };
    mu / (rho * diameter_m) * morton(water).powf(-0.149) * (j - 0.857).max(0.0)
}

const H_SWITCH: f64 = 59.3;

fn morton(water: &Water) -> f64 {
    {
        let (mu, sigma) = (water.viscosity_pa_s, water.surface_tension);
        G * (mu * mu) * (mu * mu) / (water.density * (sigma * sigma * sigma))
    }
}

fn h_number(d: f64, water: &Water) -> f64 {
    let eotvos = G * water.density * d * d / water.surface_tension;
    4.0 / 3.0 * eotvos * morton(water).powf(-0.149) * (water.viscosity_pa_s / 0.0009).powf(-0.14)
}

/// Where the ellipsoid is fastest: at the change of exponent, before which U rises as d^0.5 and after
/// which it falls.
fn fastest_diameter(water: &Water) -> f64 {
    let reference = 1e-3;
    reference * (H_SWITCH / h_number(reference, water)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fresh() -> Water {
        Water::new(25.0, 0.0).unwrap()
    }

    #[test]
    fn small_bubbles_rise_as_the_reference_library_says() {
        // `fluids` 1.3.1, v_terminal with the densities exchanged (its own drag law), mm/s: within 5 %.
        for (mm, speed) in [(0.05, 1.51), (0.1, 5.71), (0.2, 17.5), (0.5, 56.3), (1.0, 118.5)] {
            let u = 1e3 * rise_speed(1e-3 * mm, &fresh());
            assert!((u / speed - 1.0).abs() < 0.05, "{mm} mm: {u}");
        }
    }

    #[test]
    fn ellipsoids_rise_as_an_independent_script_says() {
        // Python, equations typed from public restatements of Clift, Grace & Weber; mm/s.
        for (mm, speed) in [(1.0, 122.0), (2.0, 203.0), (3.0, 250.0), (5.0, 239.0), (10.0, 223.0)] {
            let u = 1e3 * ellipsoid(1e-3 * mm, &fresh());
            assert!((u - speed).abs() < 0.8, "{mm} mm: {u}");
        }
    }

    #[test]
    fn larger_bubbles_never_rise_more_slowly() {
        for water in [fresh(), Water::new(25.0, 35.2).unwrap(), Water::new(15.0, 10.0).unwrap()] {
            let mut before = 0.0;
            for i in 1..3000_u32 {
                let u = rise_speed(4e-6 * f64::from(i), &water);
                assert!(u >= before, "{i}");
                before = u;
            }
        }
    }

    #[test]
    fn smallest_rising_is_the_inverse() {
        let water = fresh();
        for v in [1e-3, 0.0208, 0.0694, 0.15, 0.22] {
            let d = smallest_rising(v, &water).unwrap();
            assert!((rise_speed(d, &water) - v).abs() < 1e-9, "{v}");
        }
        assert_eq!(smallest_rising(0.3, &water), None);
    }
}
