//! A mouth that air enters as the water falls.

use serde::Serialize;

use crate::smooth::smoothstep;

/// Shuts what passes as the upstream level falls to `z_m`; open from `z_m + over_m` on.
///
/// The smooth way between is our judgement: real mouths gulp air over some 20 mm, and a sharp switch
/// would chatter.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gate {
    /// Level at and below which nothing passes, m.
    pub z_m: f64,
    /// Height over which it opens, m; positive.
    pub over_m: f64,
}

impl Gate {
    /// Share that passes at this level, and its derivative by the level, 1/m.
    #[inline]
    pub fn open(&self, level_m: f64) -> (f64, f64) {
        let (share, slope) = smoothstep((level_m - self.z_m) / self.over_m);
        (share, slope / self.over_m)
    }
}

/// Share that an optional gate passes.
#[inline]
pub(super) fn share(gate: Option<&Gate>, level_m: f64) -> (f64, f64) {
    gate.map_or((1.0, 0.0), |gate| gate.open(level_m))
}
