//! A filter sock.

use serde::Serialize;

use super::{Flow, Range, Validity};

/// Water seeps through the upright wall and the bottom of a filter sock; either way.
///
/// Each part of the cloth passes in proportion to the head across it (Darcy, *Les fontaines publiques
/// de la ville de Dijon*, 1856): the upstream level over the downstream level, or over the place itself
/// where that is higher and the water runs down the outside. Over a wall of perimeter P from z0 to z1:
///
/// `q = k·P·∫_{z0}^{min(h1,z1)} (h1 − max(z, h2)) dz + k·A_bottom·(h1 − max(z0, h2))`
///
/// What runs over the rim of the sock is a crest of its own.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fabric {
    /// Bottom of the cloth, m.
    pub z0_m: f64,
    /// Upper end of the cloth, m.
    pub z1_m: f64,
    /// Perimeter of the wall, m.
    pub perimeter_m: f64,
    /// Area of the bottom, m².
    pub bottom_area_m2: f64,
    /// Seepage per area and per head, m³/s per m² per m.
    pub conductance: f64,
    /// Relative doubt.
    pub doubt: f64,
}

impl Fabric {
    /// Sock; doubt 50 % (our judgement: nobody knows how clogged it is).
    pub fn new(
        z0_m: f64,
        z1_m: f64,
        perimeter_m: f64,
        bottom_area_m2: f64,
        conductance: f64,
    ) -> Self {
        Self { z0_m, z1_m, perimeter_m, bottom_area_m2, conductance, doubt: 0.5 }
    }

    #[inline(always)]
    pub(super) fn flow(&self, up_m: f64, down_m: f64, lean: f64) -> Flow {
        if up_m <= self.z0_m {
            return Flow::default();
        }
        let top = up_m.min(self.z1_m);
        let wet = down_m.clamp(self.z0_m, top.max(self.z0_m));
        let (below, above, over) = (wet - self.z0_m, up_m - wet, up_m - top);
        let wall = below * (up_m - down_m.max(self.z0_m)) + 0.5 * (above * above - over * over);
        let bottom = up_m - down_m.max(self.z0_m);
        let k = self.conductance * (1.0 + lean * self.doubt);
        let drowned = if down_m > self.z0_m { self.bottom_area_m2 } else { 0.0 };
        Flow {
            q: k * (self.perimeter_m * wall + self.bottom_area_m2 * bottom),
            up: k * (self.perimeter_m * (top - self.z0_m) + self.bottom_area_m2),
            down: -k * (self.perimeter_m * below + drowned),
        }
    }

    pub(super) fn range(&self, up_m: f64, down_m: f64) -> Range {
        if self.perimeter_m > 0.0 && up_m.max(down_m) > self.z1_m {
            return Range::new(Validity::Extrapolated, "the water stands above the cloth");
        }
        Range::WITHIN
    }
}
