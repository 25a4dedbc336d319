//! A pump with its return line.

use std::sync::Arc;

use serde::Serialize;

use super::gate::share;
use super::{Flow, Gate, Range, Validity};
use crate::pump_curve::PumpTable;
use crate::table::shared;

/// A pump lifts water from the upstream tank through its line; what it passes falls as the height it
/// has to lift grows. One way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pump {
    /// Height of the line's outlet, m; a level above it drowns it.
    pub out_m: f64,
    /// Where the intake draws air.
    pub gate: Option<Gate>,
    /// Relative doubt.
    pub doubt: f64,
    /// Discharge over the height lifted.
    #[serde(serialize_with = "shared")]
    pub table: Arc<PumpTable>,
}

impl Pump {
    /// Pump whose discharge over the height lifted is `table`; doubt 5 % (our judgement: a new pump
    /// against its maker's curve).
    pub fn new(out_m: f64, gate: Option<Gate>, table: Arc<PumpTable>) -> Self {
        Self { out_m, gate, doubt: 0.05, table }
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        let (q, by_lift) = self.table.at(down_m.max(self.out_m) - up_m);
        let (open, slope) = share(self.gate.as_ref(), up_m);
        let f = 1.0 + lean * self.doubt;
        let by_lift = f * open * by_lift;
        let down = if down_m > self.out_m { by_lift } else { 0.0 };
        Flow { q: f * open * q, up: f * slope * q - by_lift, down }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        let lift = down_m.max(self.out_m) - up_m;
        if lift > self.table.lift_max_m() {
            return Range::new(Validity::Within, "the pump cannot lift so high");
        }
        if lift < self.table.curve_ends_at_lift_m() {
            return Range::new(Validity::Extrapolated, "the pump runs past the end of its curve");
        }
        if lift < 0.0 {
            return Range::new(Validity::Extrapolated, "the water runs through the pump by itself");
        }
        if self.gate.as_ref().is_some_and(|gate| up_m < gate.z_m + gate.over_m) {
            return Range::new(Validity::Extrapolated, "the intake draws air");
        }
        Range::WITHIN
    }
}
