//! A pipe that runs full.

use std::sync::Arc;

use serde::Serialize;

use super::gate::share;
use super::{Flow, Gate, Range, Validity};
use crate::table::{Table, shared};

/// A pipe between two levels that runs full, its outlet free or drowned: siphon drain, throttled
/// drain, back-siphon through a return line.
///
/// One way: when the level below is the higher nothing passes, although a real siphon would run back;
/// where that can happen, a second pipe leads the other way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pipe {
    /// Height of the outlet, m; a level above it drowns it.
    pub out_m: f64,
    /// Where air enters the mouth.
    pub gate: Option<Gate>,
    /// Relative doubt.
    pub doubt: f64,
    /// Discharge, m³/s, over √head, m^½.
    #[serde(serialize_with = "shared")]
    pub table: Arc<Table>,
    /// Discharges between which no friction formula holds, if known; see
    /// [`crate::PipeLine::transition_m3_s`].
    pub transition_m3_s: Option<(f64, f64)>,
}

impl Pipe {
    /// Pipe whose discharge over √head is `table`; doubt 7 % (our judgement: bore and fittings).
    pub fn new(out_m: f64, gate: Option<Gate>, table: Arc<Table>) -> Self {
        Self { out_m, gate, doubt: 0.07, table, transition_m3_s: None }
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        let (q, by_head) = self.table.at_head(up_m - down_m.max(self.out_m));
        let (open, slope) = share(self.gate.as_ref(), up_m);
        let f = 1.0 + lean * self.doubt;
        let by_head = f * open * by_head;
        let down = if down_m > self.out_m { -by_head } else { 0.0 };
        Flow { q: f * open * q, up: by_head + f * slope * q, down }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        let head = up_m - down_m.max(self.out_m);
        if self.gate.as_ref().is_some_and(|gate| up_m > gate.z_m && up_m < gate.z_m + gate.over_m)
            && head > 0.0
        {
            return Range::new(Validity::Extrapolated, "the mouth draws air");
        }
        if head < 0.0 && down_m > self.out_m {
            return Range::new(
                Validity::NotPredictable,
                "the level below is the higher: running back is not modelled",
            );
        }
        if head > 0.0 && head.sqrt() > self.table.range().1 {
            return Range::new(Validity::Extrapolated, "the head is above the pipe's table");
        }
        let q = self.table.at_head(head).0;
        if self.transition_m3_s.is_some_and(|(from, to)| from < q && q < to) {
            return Range::new(Validity::Extrapolated, "the flow is neither laminar nor turbulent");
        }
        Range::WITHIN
    }
}
