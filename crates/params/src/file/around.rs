//! What gives and takes water from outside: the top-up, and the room's air.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Flow, Length, Salinity, Temperature, Volume};

/// The automatic top-up, which replaces what evaporates from a reservoir beside the sump. A float in a
/// chamber switches it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TopUp {
    /// The chamber that its float is in and that it fills. Left out: the one with a `level`, the return.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chamber: Option<String>,
    /// Volume of the full reservoir: what runs in if the float sticks.
    #[schemars(extend("x-least" = 0.1, "x-most" = 10000.0))]
    pub reservoir: Volume,
    /// What it pumps while it is on.
    #[schemars(extend("x-least" = 0.01, "x-most" = 10000.0))]
    pub rate: Flow,
    /// Level at which the float switches it on. Left out: 2 mm below where it switches off (the play of
    /// small float switches, from memory).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 1500.0))]
    pub low: Option<Length>,
    /// Level at which the float switches it off. Left out: the level that you keep.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 1500.0))]
    pub high: Option<Length>,
    /// Salt in the top-up water. Left out: none, for salt does not evaporate.
    #[serde(default)]
    #[schemars(extend("x-least" = 0.0, "x-most" = 120.0))]
    pub salinity: Salinity,
}

/// The air around the system, into which water evaporates.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Room {
    /// Air temperature. Left out: 22 °C, a living room (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 45.0))]
    pub temperature: Temperature,
    /// Relative humidity of the air, from 0 to 1. Left out: 0.5, half saturated (common practice).
    #[schemars(range(min = 0.0, max = 1.0))]
    pub humidity: f64,
    /// What evaporates, if you have measured it, such as `"4 L/day"`. Left out: computed from water and
    /// air.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 50.0))]
    pub evaporation: Option<Flow>,
}

impl Default for Room {
    fn default() -> Self {
        Self { temperature: Temperature::celsius(22.0), humidity: 0.5, evaporation: None }
    }
}
