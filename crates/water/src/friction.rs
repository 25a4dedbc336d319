//! Friction in pipes that run full.

use std::f64::consts::LN_10;

/// Reynolds number up to which the flow is laminar, `64/Re`. Source: Hagen (1839), Poiseuille (1840);
/// limit after Reynolds (1883).
pub const LAMINAR: f64 = 2000.0;

/// Reynolds number from which Colebrook and White hold.
pub const TURBULENT: f64 = 4000.0;

/// Darcy friction factor of turbulent flow, after Haaland.
///
/// `1/√f = −1.8·log10((ε/D / 3.7)^1.11 + 6.9/Re)`; `relative_roughness` is wall roughness over bore.
/// Valid for 4000 ≤ Re ≤ 1e8, ε/D ≤ 0.05; within 1.5 % of Colebrook and White there.
/// Source: Haaland, *J. Fluids Eng.* 105 (1983) 89.
pub fn haaland(reynolds: f64, relative_roughness: f64) -> f64 {
    let x = -1.8 * ((relative_roughness / 3.7).powf(1.11) + 6.9 / reynolds).log10();
    1.0 / (x * x)
}

/// Darcy friction factor of turbulent flow, after Colebrook and White, to the last digits.
///
/// `1/√f = −2·log10(ε/D / 3.7 + 2.51/(Re·√f))`, by Newton's method from Haaland's value.
/// Source: Colebrook, *J. Inst. Civil Eng.* 11 (1939) 133.
///
/// ```
/// // `fluids` 1.3.1, Colebrook: Re 1e5, ε/D 1e-4.
/// assert!((water::friction::colebrook(1e5, 1e-4) - 0.018_514).abs() < 1e-6);
/// ```
pub fn colebrook(reynolds: f64, relative_roughness: f64) -> f64 {
    let x = colebrook_root(reynolds, relative_roughness);
    1.0 / (x * x)
}

/// 1/√f.
fn colebrook_root(re: f64, rel: f64) -> f64 {
    let (a, b) = (rel / 3.7, 2.51 / re);
    let mut x = 1.0 / haaland(re, rel).sqrt();
    for _ in 0..4 {
        let y = a + b * x;
        x -= (x + 2.0 * y.log10()) / (1.0 + 2.0 * b / (y * LN_10));
    }
    x
}

/// Darcy friction factor at any Reynolds number.
///
/// Laminar up to [`LAMINAR`], Colebrook and White from [`TURBULENT`]; between them straight in the
/// Reynolds number, where no formula holds, so that the loss still rises with the flow (our judgement).
pub fn darcy(reynolds: f64, relative_roughness: f64) -> f64 {
    darcy_and_slope(reynolds, relative_roughness).0
}

/// [`darcy`], and its derivative by the Reynolds number.
pub fn darcy_and_slope(re: f64, rel: f64) -> (f64, f64) {
    if re <= LAMINAR {
        return (64.0 / re, -64.0 / (re * re));
    }
    if re < TURBULENT {
        let (from, to) = (64.0 / LAMINAR, colebrook(TURBULENT, rel));
        let slope = (to - from) / (TURBULENT - LAMINAR);
        return (from + slope * (re - LAMINAR), slope);
    }
    let x = colebrook_root(re, rel);
    let y = rel / 3.7 + 2.51 / re * x;
    let k = 2.0 / (LN_10 * y);
    let dx = k * 2.51 * x / (re * re) / (1.0 + k * 2.51 / re);
    (1.0 / (x * x), -2.0 * dx / (x * x * x))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_published_factors() {
        // `fluids` 1.3.1, friction_factor (Colebrook, Haaland).
        for (re, rel, colebrook_f, haaland_f) in [
            (1e4, 0.0, 0.030_883, 0.030_886),
            (5e4, 4.69e-5, 0.021_060, 0.020_836),
            (1e5, 1e-4, 0.018_514, 0.018_265),
        ] {
            assert!((colebrook(re, rel) - colebrook_f).abs() < 6e-7, "{re}");
            assert!((haaland(re, rel) - haaland_f).abs() < 6e-7, "{re}");
        }
        assert!((darcy(2000.0, 1e-4) - 0.032).abs() < 1e-15);
    }

    #[test]
    fn slope_is_the_slope() {
        for re in [500.0, 2500.0, 3900.0, 4100.0, 3e4, 1e6] {
            let e = 1e-5 * re;
            let by_difference = (darcy(re + e, 1e-3) - darcy(re - e, 1e-3)) / (2.0 * e);
            assert!((darcy_and_slope(re, 1e-3).1 / by_difference - 1.0).abs() < 1e-5, "{re}");
        }
    }
}
