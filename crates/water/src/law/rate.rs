//! A given rate.

use serde::Serialize;

use super::gate::share;
use super::{Flow, Gate};

/// A rate that does not ask for levels, as long as there is water: dosing, top-up, evaporation. One way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rate {
    /// Discharge, m³/s; never negative.
    pub q_m3_s: f64,
    /// Where it runs out of water.
    pub gate: Option<Gate>,
}

impl Rate {
    /// A rate; it has no doubt of its own.
    pub fn new(q_m3_s: f64, gate: Option<Gate>) -> Self {
        Self { q_m3_s, gate }
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64) -> Flow {
        let (open, slope) = share(self.gate.as_ref(), up_m);
        Flow { q: self.q_m3_s * open, up: self.q_m3_s * slope, down: 0.0 }
    }
}
