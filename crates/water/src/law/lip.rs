//! The open mouth of an upright pipe.

use std::f64::consts::PI;
use std::sync::Arc;

use serde::Serialize;

use super::{Flow, Range, Validity, doubt};
use crate::gravity::SQRT_2G;
use crate::smooth::soft_min;
use crate::table::{Table, shared};

/// What the pipe below a lip passes when it runs full.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FullPipe {
    /// Height of its outlet, m; a level above it drowns it.
    pub out_m: f64,
    /// Relative doubt.
    pub doubt: f64,
    /// Discharge, m³/s, over √head, m^½.
    #[serde(serialize_with = "shared")]
    pub table: Arc<Table>,
}

/// Water falls over the round lip of a stand-pipe: a weir around it while shallow, an orifice when deep,
/// and never more than its pipe passes full. One way.
///
/// Weir `π·D·C·h^1.5` with C = 1.84 m^½/s, orifice `0.6·(πD²/4)·√(2g·h)`; they cross at h = 0.36 D.
/// Between them, and to the full pipe, the soft minimum `(a⁻⁴ + b⁻⁴)^−¼` (our judgement).
/// Source: FHWA HEC-22, *Urban Drainage Design Manual*, 3rd ed. (2009), 8.4.4 on riser pipes, whose
/// weir coefficient is 1.84 in SI and whose orifice coefficient is 0.6; from memory.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Lip {
    /// Height of the lip, m.
    pub lip_m: f64,
    /// Inner diameter, m.
    pub bore_m: f64,
    /// What the pipe below passes; without it the pipe must be wide, and its outlet never drowned.
    pub full: Option<FullPipe>,
    /// Relative doubt of weir and orifice.
    pub doubt: f64,
}

impl Lip {
    /// Lip of a pipe; doubt 15 % (our judgement: gulping and swirl).
    pub fn new(lip_m: f64, bore_m: f64, full: Option<FullPipe>) -> Self {
        Self { lip_m, bore_m, full, doubt: 0.15 }
    }

    /// Weir and orifice of a lip, and the derivative by the head; `head` above 0, SI.
    #[inline]
    pub fn mouth(bore_m: f64, head: f64) -> (f64, f64) {
        let r = head.sqrt();
        let weir = PI * bore_m * 1.84 * head * r;
        let orifice = 0.6 * 0.25 * PI * bore_m * bore_m * SQRT_2G * r;
        let (q, by_weir, by_orifice) = soft_min(weir, orifice);
        (q, (by_weir * 1.5 * weir + by_orifice * 0.5 * orifice) / head)
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        let h = up_m - self.lip_m;
        if h <= 0.0 {
            return Flow::default();
        }
        let (q, slope) = Self::mouth(self.bore_m, h);
        let (f, df) = doubt::factor_of_head(lean, self.doubt, h);
        let (q, slope) = (q * f, slope * f + q * df);
        let Some(full) = &self.full else { return Flow { q, up: slope, down: 0.0 } };
        let f = 1.0 + lean * full.doubt;
        let (most, by_head) = full.table.at_head(up_m - down_m.max(full.out_m));
        let (q, by_mouth, by_pipe) = soft_min(q, f * most);
        let by_head = by_pipe * f * by_head;
        let down = if down_m > full.out_m { -by_head } else { 0.0 };
        Flow { q, up: by_mouth * slope + by_head, down }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        if self.full.is_none() && down_m > self.lip_m {
            return Range::new(
                Validity::NotPredictable,
                "the lip is drowned from below and its pipe is not known",
            );
        }
        let h = up_m - self.lip_m;
        // Around the crossing at 0.36 D, where the pipe gulps (our judgement).
        if h > 0.2 * self.bore_m && h < 0.7 * self.bore_m {
            return Range::new(
                Validity::Extrapolated,
                "between weir and orifice the mouth gulps air",
            );
        }
        Range::of_head(h)
    }
}
