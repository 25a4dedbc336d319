//! How high water comes, as whoever computes it tells.

use design::BasinId;
use serde::Serialize;

/// Levels of a sump, as far as they are known. Heights in mm above the inside of the sump's bottom.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Waters {
    /// Density of the water, kg/m³.
    pub density_kg_m3: f64,
    /// One for each of `design.waterworks.basins`, in their order. Empty where levels in flow are not known.
    pub basins: Vec<Levels>,
    /// For pairs of basins, moments of the rehearsals at which water stands higher in the first than in the second: all that no
    /// other one outdoes, with a higher level in the first and a lower one in the second. A board feels the one or the other
    /// hardest, by its height.
    pub heads: Vec<Head>,
}

/// Water higher on one side than on the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Head {
    /// Basin with the higher level, and that with the lower.
    pub basins: [BasinId; 2],
    /// Their levels at that moment, the higher and the lower end of their bands, mm.
    pub levels_mm: [f64; 2],
    /// In which rehearsal.
    pub name: String,
}

/// Levels of one chamber or space between leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Levels {
    /// In flow, the higher end of its band, mm.
    pub running_mm: f64,
    /// In flow, the lower end of its band, mm.
    pub running_low_mm: f64,
    /// Highest in any rehearsal, the higher end of its band, mm.
    pub highest_mm: f64,
    /// In which rehearsal; empty when it is the level in flow.
    pub highest_in: String,
}
