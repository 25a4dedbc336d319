//! A hole in a level plate.

use serde::Serialize;

use super::strips::strip_flow;
use super::{Flow, Range, doubt};
use crate::gravity::SQRT_2G;
use crate::smooth::{root, soft_min};

/// Water falls, or rises, through an opening in a level plate: drain holes of a lid, the notch that
/// passes by a shelf. A weir around its edge while shallow, an orifice when deep; drowned or not, either way.
///
/// Weir and drowned weir as in [`super::Strips`] with the perimeter as width, orifice `C·A·√(2g·Δ)`;
/// both with C = 0.61 (sharp edge: Brater & King, *Handbook of Hydraulics*; from memory), and the soft
/// minimum of the two (our judgement).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mouth {
    /// Height of the edge, m.
    pub lip_m: f64,
    /// Length of the edge over which water comes, of all holes together, m.
    pub perimeter_m: f64,
    /// Area of all holes together, m².
    pub area_m2: f64,
    /// Relative doubt at heads that the standards cover.
    pub doubt: f64,
}

impl Mouth {
    /// Opening in a level plate; doubt 6 % (our judgement).
    pub fn new(lip_m: f64, perimeter_m: f64, area_m2: f64) -> Self {
        Self { lip_m, perimeter_m, area_m2, doubt: 0.06 }
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        let (h1, h2) = (up_m - self.lip_m, down_m - self.lip_m);
        if h1 <= 0.0 {
            return Flow::default();
        }
        let k = super::SHARP * SQRT_2G;
        let weir = strip_flow(h1, h2, f64::INFINITY);
        let (s, slope) = root(h1 - h2.max(0.0));
        let (q, by_weir, by_orifice) = soft_min(self.perimeter_m * weir.q, self.area_m2 * s);
        let (by_weir, by_head) = (by_weir * self.perimeter_m, by_orifice * self.area_m2 * slope);
        let up = by_weir * weir.up + by_head;
        let down = by_weir * weir.down - if h2 > 0.0 { by_head } else { 0.0 };
        let (f, df) = doubt::factor_of_head(lean, self.doubt, h1);
        Flow { q: k * f * q, up: k * (f * up + df * q), down: k * f * down }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        if up_m.min(down_m) > self.lip_m {
            Range::WITHIN
        } else {
            Range::of_head(up_m.max(down_m) - self.lip_m)
        }
    }
}
