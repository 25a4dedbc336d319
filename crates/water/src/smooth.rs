//! Smooth stand-ins for functions with an infinite slope or a corner, each with its exact derivative.
//!
//! The root of a difference of levels has an infinite slope where the levels meet. An implicit solver
//! then takes ever smaller steps; so the root is rounded over a hundredth of a millimetre.

/// Difference of levels over which the signed root is rounded, m. Our judgement: its effect is below
/// a millionth for differences above 5 mm, and below what anybody can measure at any difference.
pub(crate) const ROUNDING: f64 = 1e-5;

/// Rounded √Δ and its derivative: `Δ / (Δ² + ε²)^¼`, for Δ ≥ 0. Never above √Δ.
#[inline]
pub(crate) fn root(delta: f64) -> (f64, f64) {
    let square = delta * delta + ROUNDING * ROUNDING;
    let whole = square.sqrt();
    let root = whole.sqrt();
    (delta / root, (0.5 * delta * delta + ROUNDING * ROUNDING) / (square * root))
}

/// Soft minimum `a·b / (a⁴ + b⁴)^¼` of two values ≥ 0, and its derivatives by each; never above either.
#[inline]
pub(crate) fn soft_min(a: f64, b: f64) -> (f64, f64, f64) {
    // Scaled by the larger: fourth powers of small discharges would underflow.
    let larger = a.max(b);
    if larger <= 0.0 {
        return (0.0, 0.0, 0.0);
    }
    let (x, y) = (a / larger, b / larger);
    let norm = (x * x * x * x + y * y * y * y).sqrt().sqrt();
    let (by_a, by_b) = (y / norm, x / norm);
    // Products, not `powi`, which two builds may round differently.
    let fifth = |x: f64| {
        let square = x * x;
        square * square * x
    };
    (a * by_a, fifth(by_a), fifth(by_b))
}

/// `3x² − 2x³` between 0 and 1, level outside; and its derivative.
#[inline]
pub(crate) fn smoothstep(x: f64) -> (f64, f64) {
    let x = x.clamp(0.0, 1.0);
    (x * x * (3.0 - 2.0 * x), 6.0 * x * (1.0 - x))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slope(f: impl Fn(f64) -> f64, x: f64) -> f64 {
        let e = 1e-7 * x;
        (f(x + e) - f(x - e)) / (2.0 * e)
    }

    #[test]
    fn root_is_a_root_from_five_millimetres_on() {
        for delta in [5e-3_f64, 0.02, 0.3] {
            assert!((root(delta).0 / delta.sqrt() - 1.0).abs() < 1.1e-6);
        }
        assert!(root(0.0).0.abs() < 1e-300);
    }

    #[test]
    fn derivatives_are_derivatives() {
        for x in [1e-6, 1e-5, 1e-3, 0.1] {
            assert!((root(x).1 / slope(|x| root(x).0, x) - 1.0).abs() < 1e-6);
        }
        for (a, b) in [(1e-4, 2e-4), (3e-4, 3e-5), (2e-5, 1e-3)] {
            let (_, by_a, by_b) = soft_min(a, b);
            assert!((by_a - slope(|a| soft_min(a, b).0, a)).abs() < 1e-6);
            assert!((by_b - slope(|b| soft_min(a, b).0, b)).abs() < 1e-6);
        }
        assert!((smoothstep(0.3).1 - slope(|x| smoothstep(x).0, 0.3)).abs() < 1e-6);
    }

    #[test]
    fn soft_minimum_lies_under_both() {
        let q = soft_min(2.0, 2.0).0;
        assert!((q - 2.0 / 2.0_f64.powf(0.25)).abs() < 1e-12);
        assert!((soft_min(1e-6, 1.0).0 - 1e-6).abs() < 1e-18);
    }
}
