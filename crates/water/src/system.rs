//! A sump with the display above it as one network, and what is what in it.

mod build;
mod leaves;
mod parts;
mod pipes;
mod plumbing;
mod rims;
mod tanks;

use std::collections::BTreeMap;

use design::Waterworks;

use crate::network::Network;
use crate::seawater::{OutOfRange, Water};

pub(crate) use build::PUDDLE_M;
pub use parts::Part;
pub use pipes::PipeOf;
pub(crate) use plumbing::{AIR_OVER_M, curve, drain_line, line_pipe};
pub(crate) use tanks::full_reservoir_m;

/// Which leaf stands in each place, and how doors are set; what is not named is as in the file.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Setting {
    /// Divider and place in it, and the leaf that stands there.
    pub leaves: BTreeMap<(String, usize), String>,
    /// Name of a leaf, and the height of its door's upper edge, mm.
    pub doors: BTreeMap<String, f64>,
    /// Name of a drain, and the share of its bore that its valve leaves open.
    pub valves: BTreeMap<String, f64>,
}

/// Why levels in flow cannot be computed. What is missing is said by the key that would tell it.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum Missing {
    /// There is no display.
    #[error("the file has no `[display]`: without it neither flow nor drain-back can be computed")]
    Display,
    /// No pump feeds the display.
    #[error("the file has no `[[return_line]]` to the display: without it no flow can be computed")]
    ReturnLine,
    /// Nothing brings the water down.
    #[error("the file has no `[[drain]]` with an `intake`: without one no water comes down")]
    Drain,
    /// A pump without a curve.
    #[error(
        "nothing tells what pump `{pump}` moves against a head: give it a `curve`, or `flow` and `head`"
    )]
    PumpData {
        /// Its name.
        pump: String,
        /// Path of its parameter.
        parameter: String,
    },
    /// A pump whose curve is no curve.
    #[error("the curve of pump `{pump}`: {reason}")]
    Curve {
        /// Its name.
        pump: String,
        /// Path of its parameter.
        parameter: String,
        /// What is wrong.
        reason: String,
    },
    /// The level is kept in a chamber that the pump does not draw from.
    #[error(
        "the level is kept in chamber `{kept}`, but pump `{pump}` draws from `{drawn}`: the chamber whose level you keep is the one that the display's pump empties"
    )]
    KeptElsewhere {
        /// The chamber with the level.
        kept: String,
        /// The pump.
        pump: String,
        /// The chamber that it draws from.
        drawn: String,
        /// Path of the level's parameter.
        parameter: String,
    },
    /// There is no chamber.
    #[error("the sump has no chamber")]
    Chamber,
    /// The water is none that the formulas know.
    #[error(transparent)]
    Water(#[from] OutOfRange),
}

impl Missing {
    /// Path of the parameter that it is about; empty for the whole file.
    pub fn parameter(&self) -> &str {
        match self {
            Self::PumpData { parameter, .. }
            | Self::Curve { parameter, .. }
            | Self::KeptElsewhere { parameter, .. } => parameter,
            Self::Water(_) => "water",
            Self::Display | Self::ReturnLine | Self::Drain | Self::Chamber => "",
        }
    }
}

/// A sump with everything around it as a network.
#[derive(Clone, Debug)]
pub struct System<'a> {
    /// What it was made from.
    pub works: &'a Waterworks,
    /// Which leaves and settings it was made with.
    pub setting: Setting,
    /// Tanks and elements. The basins come first, in their order.
    pub network: Network,
    /// What each element is, in the order of the elements.
    pub parts: Vec<Part>,
    /// Which tank is which.
    pub tanks: Tanks,
    /// Tanks in flow order: each passes its water on to later ones.
    pub order: Vec<usize>,
    /// The water.
    pub water: Water,
    /// What evaporates in all, m³/s.
    pub evaporation_m3_s: f64,
    /// The same by the upper of two estimates, where it is computed, m³/s.
    pub evaporation_most_m3_s: f64,
    /// Whether that was computed from the room's air rather than given.
    pub evaporation_is_computed: bool,
}

/// Which tank is which. Basins are the first tanks.
#[derive(Clone, Debug, PartialEq)]
pub struct Tanks {
    /// How many basins there are.
    pub basins: usize,
    /// Tank in and over each shelf, as [`Waterworks::shelves`].
    pub shelves: Vec<usize>,
    /// Tank on each lid, as [`Waterworks::covers`].
    pub covers: Vec<usize>,
    /// The display.
    pub display: usize,
    /// The overflow box.
    pub weir_box: usize,
    /// The reservoir of the top-up.
    pub reservoir: Option<usize>,
    /// The floor under the sump.
    pub sump_floor: usize,
    /// The floor under the display.
    pub display_floor: usize,
    /// The air.
    pub air: usize,
    /// The basin that the return pump draws from, whose level is kept.
    pub returning: usize,
}

impl System<'_> {
    /// The elements of these parts.
    pub fn elements(&self, is_wanted: impl Fn(&Part) -> bool) -> impl Iterator<Item = usize> {
        self.parts.iter().enumerate().filter(move |(_, part)| is_wanted(part)).map(|(i, _)| i)
    }

    /// Level at which a pump of the return chamber begins to draw air, m.
    pub fn dry_m(&self) -> f64 {
        let lines = self.works.lines.iter().filter(|line| line.from == self.tanks.returning);
        lines.map(|line| line.intake_mm * 1e-3 + AIR_OVER_M).fold(0.0, f64::max)
    }

    /// The level that is kept in the return chamber, m: that of the file, or what the float fills to if
    /// that is more.
    pub fn kept_m(&self) -> f64 {
        let basin = &self.works.basins[self.tanks.returning];
        let level_mm = basin.kept_level_mm.unwrap_or(basin.rest_mm);
        let float = self.works.top_up.as_ref().filter(|t| t.basin == self.tanks.returning);
        float.map_or(level_mm, |t| level_mm.max(t.float_mm[1])) * 1e-3
    }
}
