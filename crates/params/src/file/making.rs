use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

/// How the sheet is cut. The defaults suit a router with a 6 mm cutter (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Cutting {
    /// Diameter of the cutter. Inner corners are rounded with at least half of it.
    #[schemars(extend("x-least" = 0.1, "x-most" = 25.0))]
    pub tool: Length,
    /// Radius of inner corners. Left out: the sheet's thickness, which spares the corner from
    /// stress, or half the cutter if that is more.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.1, "x-most" = 100.0))]
    pub inner_corner: Option<Length>,
    /// Radius of the outer corners of loose parts, eased for the hand.
    #[schemars(extend("x-least" = 0.0, "x-most" = 50.0))]
    pub outer_corner: Length,
    /// Depth of engraving.
    #[schemars(extend("x-least" = 0.05, "x-most" = 1.0))]
    pub engraving: Length,
}

impl Default for Cutting {
    fn default() -> Self {
        Self {
            tool: Length::mm(6.0),
            inner_corner: None,
            outer_corner: Length::mm(3.0),
            engraving: Length::mm(0.3),
        }
    }
}

/// How small fittings are printed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Printing {
    /// Diameter of the nozzle. Walls are at least three times as thick.
    #[schemars(extend("x-least" = 0.1, "x-most" = 1.2))]
    pub nozzle: Length,
    /// Clearance between a printed face and what slides on it, each side. Left out: 0.25 mm (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 2.0))]
    pub clearance: Length,
    /// Length of the print bed. Longer fittings are made of pieces.
    #[schemars(extend("x-least" = 50.0, "x-most" = 1000.0))]
    pub bed: Length,
    /// Colour of the filament as `"#rrggbb"`.
    #[schemars(regex(pattern = "^#[0-9a-fA-F]{6}$"), extend("x-words" = "a colour as `\"#rrggbb\"`"))]
    pub colour: String,
}

impl Default for Printing {
    fn default() -> Self {
        Self {
            nozzle: Length::mm(0.4),
            clearance: Length::mm(0.25),
            bed: Length::mm(200.0),
            colour: "#2f4858".to_owned(),
        }
    }
}
