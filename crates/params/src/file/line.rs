//! Pipes between sump and display.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::{NAME, NAME_IN_WORDS};

/// A pipe that brings water down from the display. It hangs loose into its chamber, or comes in through
/// a fitting in a wall.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DrainPipe {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// `"main"` (full siphon), `"secondary"` (open channel) or `"emergency"` (dry until needed).
    pub duty: DrainDuty,
    /// The chamber it ends in.
    pub chamber: String,
    /// Outer diameter. With `wall` it gives the bore that water runs through.
    #[schemars(extend("x-least" = 8.0, "x-most" = 200.0))]
    pub diameter: Length,
    /// Wall of the pipe. Left out: a tenth of the diameter (near the walls of PN 16 pressure pipe; measure yours).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.5, "x-most" = 20.0))]
    pub wall: Option<Length>,
    /// Its middle in the chamber: from the chamber's inlet side, and from its front. Left out: in the
    /// middle of the first sock, else of the chamber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 4000.0))]
    pub at: Option<[Length; 2]>,
    /// Height of its lower end; where it comes in through a fitting, of the end of what is behind it.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0, "x-plausible" = 20.0))]
    pub end: Length,
    /// Height of its upper end, where it is taken apart. Left out: 60 mm above the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0))]
    pub top: Option<Length>,
    /// What comes down to its upper end in the cabinet: a `"rigid"` pipe from straight above, which stays where it is
    /// when this one is taken out, or a `"hose"` that is then turned aside. Left out: rigid, the case in which less
    /// comes out.
    #[serde(default)]
    pub above: DrainAbove,
    /// Name of the wall fitting that it comes in through. Then no loose pipe stands in the sump. Left
    /// out: it comes down over the rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub through: Option<String>,
    /// Height of its upper mouth in the overflow box, above the inside of the display's bottom. Needed
    /// once the file has a `[display]`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = -1000.0, "x-most" = 2000.0, "x-plausible" = 50.0))]
    pub intake: Option<Length>,
    /// Length of the pipe along its way. Left out: straight down from its mouth to its end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 30000.0, "x-plausible" = 100.0))]
    pub run: Option<Length>,
    /// How many bends of 90° it has. Two of 45° count as one. Left out: none.
    #[serde(default)]
    #[schemars(range(max = 50))]
    pub elbows: u32,
    /// What else holds the water up, such as a strainer or a union: loss coefficient on the velocity
    /// head in the pipe, beside mouth, wall, bends and end. Left out: nothing.
    #[serde(default)]
    #[schemars(range(min = 0.0, max = 1000.0))]
    pub loss: f64,
    /// Main drain: how far its valve is open, as the share of the bore's area from 0 to 1, not the
    /// angle of its handle. Left out: set as you would set it, so that the secondary drain carries a
    /// trickle; without a secondary, fully open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1.0))]
    pub valve: Option<f64>,
}

/// What a drain is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum DrainDuty {
    /// Runs as a full siphon, set by a valve.
    Main,
    /// Runs as an open channel and carries the trickle.
    Secondary,
    /// Dry until needed.
    Emergency,
}

/// What comes down to the upper end of a drain pipe.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum DrainAbove {
    /// A pipe from straight above, which stays.
    #[default]
    Rigid,
    /// A hose, which is turned aside.
    Hose,
}

/// The line through which a pump sends water up to the display, or round to a chamber.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReturnLine {
    /// Name of the pump, a piece of `[[equipment]]` of kind `"pump"`.
    pub pump: String,
    /// The chamber that it ends in, for a side stream such as a chiller's or a reactor's. Left out: the
    /// display.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<String>,
    /// Inner diameter of the pipe or hose.
    #[schemars(extend("x-least" = 4.0, "x-most" = 200.0))]
    pub bore: Length,
    /// Its length along its way.
    #[schemars(extend("x-least" = 10.0, "x-most" = 30000.0, "x-plausible" = 100.0))]
    pub length: Length,
    /// How many bends of 90° it has. Two of 45° count as one. Left out: 2, one at either end (common
    /// practice).
    #[serde(default = "two_elbows")]
    #[schemars(range(max = 50))]
    pub elbows: u32,
    /// What else holds the water up, such as a chiller or a half-closed valve: loss coefficient on the
    /// velocity head in the pipe, beside wall, bends and outlet. Left out: nothing.
    #[serde(default)]
    #[schemars(range(min = 0.0, max = 10000.0))]
    pub loss: f64,
    /// Height of the middle of its outlet: above the inside of the display's bottom, or above the
    /// inside of the sump's bottom if it ends in a chamber.
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0, "x-plausible" = 50.0))]
    pub outlet: Length,
    /// Bore of the nozzle at its outlet. Left out: the pipe's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 2.0, "x-most" = 200.0))]
    pub nozzle: Option<Length>,
    /// Height of a small hole in the pipe through which air gets in when the pump stops, counted as
    /// `outlet` is. Down to there the display runs back into the sump. Left out: no hole; then it runs back
    /// down to the lower edge of the outlet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0))]
    pub break_hole: Option<Length>,
    /// Whether a check valve holds the water when the pump stops. Left out: none. Check valves foul,
    /// so do not trust one alone (common practice).
    #[serde(default)]
    pub check_valve: bool,
}

fn two_elbows() -> u32 {
    2
}
