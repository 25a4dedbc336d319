use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Salinity, System, Temperature};

/// Units of reports.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Report {
    /// Millimetres, litres, degrees Celsius.
    #[default]
    Metric,
    /// Inches, US gallons, degrees Fahrenheit.
    Us,
}

impl Report {
    /// The same as the crates that write reports know it.
    pub fn system(self) -> System {
        match self {
            Self::Metric => System::Metric,
            Self::Us => System::UsCustomary,
        }
    }
}

/// The water in the system.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Water {
    /// Salt in the water. It makes water heavier and tougher, and slows what evaporates. Left out:
    /// 35 g/kg, the ocean's mean, rounded.
    #[schemars(extend("x-least" = 0.0, "x-most" = 120.0))]
    pub salinity: Salinity,
    /// Water temperature. It thins the water and drives what evaporates. Left out: 25 °C, usual for
    /// tropical systems (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 45.0))]
    pub temperature: Temperature,
}

impl Default for Water {
    fn default() -> Self {
        Self { salinity: Salinity::g_per_kg(35.0), temperature: Temperature::celsius(25.0) }
    }
}
