//! A pipe with its fittings, running full.

use std::f64::consts::PI;

use serde::Serialize;
use thiserror::Error;

use crate::friction::{LAMINAR, TURBULENT, darcy_and_slope};
use crate::gravity::G;
use crate::table::Table;

/// Roughness of the wall of plastic pipe and hose, m. Source: Idelchik, *Handbook of Hydraulic
/// Resistance*, drawn tubes of plastic; from memory.
pub const SMOOTH_PLASTIC_M: f64 = 1.5e-6;

/// Points of a pipe's table that are enough: the discharge is true to a millionth where the flow is
/// turbulent, and to some 2 % at the few millimetres of head where friction passes from laminar to
/// turbulent.
pub const TABLE_POINTS: usize = 65;

/// A pipe of one bore with all its fittings; see [`crate::fittings_loss`].
///
/// `h = v²/2g·(ΣK + f·L/D)` (Darcy & Weisbach), f after [`crate::friction::darcy`].
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PipeLine {
    /// Inner diameter, m.
    pub bore_m: f64,
    /// Length, m.
    pub length_m: f64,
    /// Sum of the losses of fittings, of entrance and of exit, on `v²/2g`.
    pub loss_k: f64,
    /// Roughness of the wall, m.
    pub roughness_m: f64,
    /// Kinematic viscosity of the water, m²/s.
    pub viscosity_m2_s: f64,
}

/// Why a pipe line cannot be computed.
#[derive(Clone, Copy, Debug, Error, PartialEq)]
#[non_exhaustive]
pub enum PipeLineError {
    /// Bore and viscosity must be positive.
    #[error("the {what} of a pipe must be above 0, not {value}")]
    NotPositive {
        /// Which.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// Lengths, losses and roughness cannot be negative.
    #[error("the {what} of a pipe cannot be {value}")]
    Negative {
        /// Which.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// Nothing would hold the water back.
    #[error(
        "a pipe without length and without losses would pass any flow; count at least its outlet, K = 1"
    )]
    NoLoss,
}

impl PipeLine {
    /// The same line if it can be computed.
    pub fn checked(self) -> Result<Self, PipeLineError> {
        for (what, value) in [("bore", self.bore_m), ("viscosity", self.viscosity_m2_s)] {
            if !(value > 0.0 && value.is_finite()) {
                return Err(PipeLineError::NotPositive { what, value });
            }
        }
        let rest =
            [("length", self.length_m), ("loss", self.loss_k), ("roughness", self.roughness_m)];
        for (what, value) in rest {
            if !(value >= 0.0 && value.is_finite()) {
                return Err(PipeLineError::Negative { what, value });
            }
        }
        if self.length_m <= 0.0 && self.loss_k <= 0.0 {
            return Err(PipeLineError::NoLoss);
        }
        Ok(self)
    }

    /// Area of the bore, m².
    pub fn area_m2(&self) -> f64 {
        0.25 * PI * self.bore_m * self.bore_m
    }

    /// Mean velocity at this discharge, m/s.
    pub fn velocity(&self, q_m3_s: f64) -> f64 {
        q_m3_s / self.area_m2()
    }

    /// Reynolds number at this discharge.
    pub fn reynolds(&self, q_m3_s: f64) -> f64 {
        self.velocity(q_m3_s) * self.bore_m / self.viscosity_m2_s
    }

    /// Discharges between which the flow is neither laminar nor turbulent and no formula holds, m³/s.
    pub fn transition_m3_s(&self) -> (f64, f64) {
        let per_reynolds = self.area_m2() * self.viscosity_m2_s / self.bore_m;
        (LAMINAR * per_reynolds, TURBULENT * per_reynolds)
    }

    /// Head lost at a discharge ≥ 0, m.
    pub fn head(&self, q_m3_s: f64) -> f64 {
        self.head_and_slope(q_m3_s).0
    }

    /// [`Self::head`], and its derivative by the discharge, s/m².
    pub fn head_and_slope(&self, q_m3_s: f64) -> (f64, f64) {
        let friction = self.length_m / self.bore_m;
        let re_per_v = self.bore_m / self.viscosity_m2_s;
        let v = self.velocity(q_m3_s.max(0.0));
        let re = v * re_per_v;
        if re < 1e-9 {
            // 64/Re would divide by nothing; laminar friction is in proportion to the discharge.
            let slope = 64.0 / re_per_v * friction / (2.0 * G);
            return (slope * v, slope / self.area_m2());
        }
        let (f, df) = darcy_and_slope(re, self.roughness_m / self.bore_m);
        let k = self.loss_k + f * friction;
        let slope = v / G * k + v * v / (2.0 * G) * df * re_per_v * friction;
        (v * v / (2.0 * G) * k, slope / self.area_m2())
    }

    /// Discharge at which this head is lost, m³/s: the exact inverse of [`Self::head`].
    pub fn q_at(&self, head_m: f64) -> f64 {
        if head_m <= 0.0 {
            return 0.0;
        }
        let mut high = self.area_m2() * (2.0 * G * head_m).sqrt();
        for _ in 0..100 {
            if self.head(high) >= head_m {
                break;
            }
            high *= 2.0;
        }
        rising_root(|q| self.head_and_slope(q), head_m, high)
    }

    /// Discharge over √head (m^½) up to `head_max_m`; see [`TABLE_POINTS`].
    pub fn flow_table(&self, head_max_m: f64, points: usize) -> Table {
        Table::build(0.0, head_max_m.max(1e-6).sqrt(), points, |u| {
            if u <= 0.0 {
                let without_friction = self.area_m2() * (2.0 * G / self.loss_k).sqrt();
                return (0.0, if self.length_m > 0.0 { 0.0 } else { without_friction });
            }
            let q = self.q_at(u * u);
            (q, 2.0 * u / self.head_and_slope(q).1)
        })
    }
}

/// Where a function that rises from 0 to `high` reaches a value: Newton's method, kept in a bracket that
/// is halved whenever a step is not at most half the one before (else it may go to and fro across a bend).
pub(crate) fn rising_root(f: impl Fn(f64) -> (f64, f64), target: f64, high: f64) -> f64 {
    let (mut low, mut high) = (0.0, high);
    let mut x = 0.5 * high;
    let mut before = high;
    for _ in 0..200 {
        let (y, slope) = f(x);
        if y > target {
            high = x;
        } else {
            low = x;
        }
        let newton = x - (y - target) / slope;
        // Newton's steps square: after one this small, what is left is below the last digit.
        if (newton - x).abs() <= 1e-12 * x {
            return newton;
        }
        let inside = low < newton && newton < high;
        let next =
            if inside && (newton - x).abs() <= 0.5 * before { newton } else { 0.5 * (low + high) };
        before = (next - x).abs();
        if before <= 1e-15 * x {
            return next;
        }
        x = next;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(bore_mm: f64) -> PipeLine {
        PipeLine {
            bore_m: bore_mm * 1e-3,
            length_m: 1.2,
            loss_k: 2.5,
            roughness_m: SMOOTH_PLASTIC_M,
            viscosity_m2_s: 1.0034e-6,
        }
    }

    #[test]
    fn siphon_runs_as_the_reference_library_says() {
        // `fluids` 1.3.1 (Colebrook), 0.8 m head; litres per hour.
        for (bore_mm, l_h) in [(26.0, 4074.2), (32.0, 6376.6), (43.7, 12349.7), (57.4, 21829.2)] {
            let q = line(bore_mm).q_at(0.8) * 3.6e6;
            assert!((q - l_h).abs() < 0.06, "{bore_mm} mm: {q}");
        }
    }

    #[test]
    fn discharge_is_the_inverse_of_head_and_slope_its_slope() {
        let line = line(26.0);
        for head in [1e-7, 1e-4, 1e-2, 0.3, 2.0] {
            let q = line.q_at(head);
            assert!((line.head(q) / head - 1.0).abs() < 1e-12, "{head}");
            let e = 1e-6 * q;
            let by_difference = (line.head(q + e) - line.head(q - e)) / (2.0 * e);
            assert!((line.head_and_slope(q).1 / by_difference - 1.0).abs() < 1e-5, "{head}");
        }
    }

    #[test]
    fn table_is_true_to_the_line() {
        let line = line(26.0);
        let table = line.flow_table(1.5, TABLE_POINTS);
        for i in 1..3000_u32 {
            let head = 0.0005 * f64::from(i);
            let exact = line.q_at(head);
            let (q, slope) = table.at_head(head);
            let (within, slope_within) = if head < 0.01 { (5e-3, 0.1) } else { (1e-6, 1e-4) };
            assert!((q / exact - 1.0).abs() < within, "{head}: {}", q / exact - 1.0);
            let by_slope = slope * line.head_and_slope(exact).1;
            assert!((by_slope - 1.0).abs() < slope_within, "{head}: {by_slope}");
        }
    }

    #[test]
    fn a_pipe_without_loss_is_refused() {
        let line = PipeLine { length_m: 0.0, loss_k: 0.0, ..line(26.0) };
        assert_eq!(line.checked(), Err(PipeLineError::NoLoss));
        assert!(PipeLine { bore_m: 0.0, ..line }.checked().is_err());
    }
}
