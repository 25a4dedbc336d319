use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

/// One sheet of a divider, composed of its mount, its crest, its openings and a door.
/// Heights are above the inside of the bottom.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Leaf {
    /// Its sheet. Left out: the box's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// `"glued"` for good, or `"lift-out"` in guides.
    #[serde(default)]
    pub mount: Mount,
    /// Height of a gap under the leaf through which water passes. Left out: none, the leaf stands on
    /// the bottom. A lift-out leaf keeps a foot at either side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 500.0))]
    pub underflow: Option<Length>,
    /// Its upper edge.
    pub crest: Crest,
    /// Openings below the crest.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub openings: Vec<Opening>,
    /// A plate clamped over an opening, whose upper edge is an adjustable crest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub door: Option<Door>,
    /// Finger holes to lift it by. They lie under the upper edge where water passes through openings
    /// below it, else in two ears that rise above the crest. Left out: a lift-out leaf has them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub finger_holes: Option<bool>,
}

/// How a leaf is held.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Mount {
    /// Solvent-welded on all sides that touch.
    #[default]
    Glued,
    /// Slides in guides, stands on the bottom.
    LiftOut,
}

/// The upper edge of a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Crest {
    /// Height of the edge; of the tips of the teeth, if it has teeth.
    #[schemars(extend("x-least" = 10.0, "x-most" = 1500.0, "x-plausible" = 40.0))]
    pub height: Length,
    /// Teeth of a comb. Left out: a plain edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub teeth: Option<Teeth>,
}

/// A comb: slots cut down from the edge, teeth left between them.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Teeth {
    /// Width of a tooth.
    #[schemars(extend("x-least" = 2.0, "x-most" = 200.0))]
    pub width: Length,
    /// Width of the slot between two teeth.
    #[schemars(extend("x-least" = 2.0, "x-most" = 200.0))]
    pub gap: Length,
    /// Depth of the slots, from the tips.
    #[schemars(extend("x-least" = 3.0, "x-most" = 500.0))]
    pub depth: Length,
}

/// An opening in a leaf.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase", deny_unknown_fields)]
pub enum Opening {
    /// One wide rectangular opening.
    Letterbox(Letterbox),
    /// A row of upright slots.
    Slots(Slots),
    /// A field of round holes.
    Holes(Holes),
}

/// One wide rectangular opening.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Letterbox {
    /// Height of its lower edge.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub bottom: Length,
    /// Its width.
    #[schemars(extend("x-least" = 5.0, "x-most" = 2000.0))]
    pub width: Length,
    /// Its height.
    #[schemars(extend("x-least" = 3.0, "x-most" = 1000.0))]
    pub height: Length,
    /// How far its middle lies off the middle of the leaf, towards the back (or towards the far end).
    #[serde(default)]
    #[schemars(extend("x-least" = -1000.0, "x-most" = 1000.0))]
    pub offset: Length,
}

/// A row of upright slots across the leaf.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Slots {
    /// Height of their lower ends.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub bottom: Length,
    /// Their height.
    #[schemars(extend("x-least" = 3.0, "x-most" = 1000.0))]
    pub height: Length,
    /// Width of a slot; its ends are round.
    #[schemars(extend("x-least" = 2.0, "x-most" = 200.0))]
    pub width: Length,
    /// Width left between two slots.
    #[schemars(extend("x-least" = 2.0, "x-most" = 500.0))]
    pub gap: Length,
    /// How many. Left out: as many as fit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1, max = 1000))]
    pub count: Option<u32>,
    /// How far the middle of the row lies off the middle of the leaf.
    #[serde(default)]
    #[schemars(extend("x-least" = -1000.0, "x-most" = 1000.0))]
    pub offset: Length,
}

/// A field of round holes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Holes {
    /// Height of the middles of the lowest row.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub bottom: Length,
    /// Diameter of a hole.
    #[schemars(extend("x-least" = 1.0, "x-most" = 300.0))]
    pub diameter: Length,
    /// Distance between middles.
    #[schemars(extend("x-least" = 2.0, "x-most" = 500.0))]
    pub spacing: Length,
    /// Rows, one above the other.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 100))]
    pub rows: u32,
    /// Holes in a row.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 300))]
    pub columns: u32,
    /// How far the middle of the field lies off the middle of the leaf.
    #[serde(default)]
    #[schemars(extend("x-least" = -1000.0, "x-most" = 1000.0))]
    pub offset: Length,
}

fn one() -> u32 {
    1
}

/// A plate clamped by screws over an opening of the leaf; water runs over the plate's upper edge.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Door {
    /// Height of the opening's lower edge.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub bottom: Length,
    /// Width of the opening.
    #[schemars(extend("x-least" = 20.0, "x-most" = 1500.0))]
    pub width: Length,
    /// Height of the opening.
    #[schemars(extend("x-least" = 10.0, "x-most" = 1000.0))]
    pub height: Length,
    /// How far the middle of the opening lies off the middle of the leaf.
    #[serde(default)]
    #[schemars(extend("x-least" = -1000.0, "x-most" = 1000.0))]
    pub offset: Length,
    /// Lowest height of the door's upper edge.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub lowest: Length,
    /// Highest height of the door's upper edge.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub highest: Length,
    /// Height at which it is set. Left out: half way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub set: Option<Length>,
    /// How far the door overlaps its opening at the sides and below. Left out: 25 mm, room for the
    /// screws (common practice).
    #[serde(default = "lap")]
    #[schemars(extend("x-least" = 8.0, "x-most" = 200.0))]
    pub lap: Length,
    /// Thread of the clamping screws. Left out: M5.
    #[serde(default)]
    pub screw: ScrewSize,
    /// Its sheet. Left out: the leaf's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// The face of the leaf it lies on: `"upstream"`, where the water presses it on, or `"downstream"`.
    #[serde(default)]
    pub side: DoorSide,
    /// Gap left between door and leaf, through which it leaks. Left out: 0.2 mm (from experience, not
    /// from a standard).
    #[serde(default = "leak_gap")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3.0))]
    pub leak_gap: Length,
}

fn lap() -> Length {
    Length::mm(25.0)
}

fn leak_gap() -> Length {
    Length::mm(0.2)
}

/// The face of a leaf that a door lies on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum DoorSide {
    /// Where the water comes from.
    #[default]
    Upstream,
    /// Where the water goes to.
    Downstream,
}

/// Metric coarse threads of plastic thumb screws.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum ScrewSize {
    /// 4 mm.
    M4,
    /// 5 mm.
    #[default]
    M5,
    /// 6 mm.
    M6,
}

impl fmt::Display for ScrewSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::M4 => "M4",
            Self::M5 => "M5",
            Self::M6 => "M6",
        })
    }
}
