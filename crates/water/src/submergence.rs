//! How deep a pump's intake must lie to draw no air.

use std::f64::consts::PI;

use crate::gravity::G;

/// Least depth of water over an intake, m: `S = D·(1 + 2.3·Fr)`, `Fr = v/√(g·D)`, with v the mean
/// velocity at the intake's diameter D.
///
/// Source: ANSI/HI 9.8, *Rotodynamic Pumps for Pump Intake Design*, after Hecker (1987). Made for the
/// bells of large pumps; for the few centimetres of ours it is on the safe side (our judgement).
///
/// ```
/// // 3000 L/h into 40 mm: v = 0.6631 m/s, Fr = 1.0588.
/// let s = water::submergence::intake_depth_m(0.040, 3000.0 / 3.6e6);
/// assert!((s - 0.1374).abs() < 5e-5);
/// ```
pub fn intake_depth_m(diameter_m: f64, q_m3_s: f64) -> f64 {
    let v = q_m3_s / (0.25 * PI * diameter_m * diameter_m);
    diameter_m * (1.0 + 2.3 * v / (G * diameter_m).sqrt())
}
