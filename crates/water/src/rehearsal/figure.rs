use serde::Serialize;

use crate::band::Bounds;

/// A figure with its band.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Figure {
    /// The best estimate.
    pub mid: f64,
    /// The lowest that the coefficients' doubt allows.
    pub low: f64,
    /// The highest.
    pub high: f64,
}

impl Figure {
    /// A figure without doubt.
    pub fn exact(mid: f64) -> Self {
        Self { mid, low: mid, high: mid }
    }

    /// A figure from its bounds; without doubt where these are not known.
    pub(crate) fn of(bounds: &Bounds) -> Self {
        let known = |z: f64| if z.is_nan() { bounds.mid } else { z };
        Self { mid: bounds.mid, low: known(bounds.low), high: known(bounds.high) }
    }

    /// The same in another unit.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        let (a, b) = (f(self.low), f(self.high));
        Self { mid: f(self.mid), low: a.min(b), high: a.max(b) }
    }
}
