use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

/// The box: a bottom of the full size, walls that stand on it, a rim around the top.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Enclosure {
    /// Outer size, bottom and rim included.
    pub outside: Outside,
    /// Sheet of bottom, walls and rim.
    pub sheet: String,
    /// Sheet of the bottom, if it is another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bottom_sheet: Option<String>,
    /// How walls and bottom meet: `"butt"` (machined edges face to face) or `"rabbet"` (the edge sits
    /// in a step at most half the sheet deep).
    #[serde(default)]
    pub joint: CornerJoint,
    /// The horizontal frame around the top. Left out: none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rim: Option<Rim>,
}

/// Outer size of the box.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outside {
    /// Along the flow, from the inlet end to the other.
    #[schemars(extend("x-least" = 150.0, "x-most" = 4000.0))]
    pub length: Length,
    /// From front to back.
    #[schemars(extend("x-least" = 100.0, "x-most" = 2000.0))]
    pub width: Length,
    /// From the underside of the bottom to the top of the rim.
    #[schemars(extend("x-least" = 100.0, "x-most" = 1500.0))]
    pub height: Length,
}

/// How walls and bottom meet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum CornerJoint {
    /// Machined edges, face to face.
    #[default]
    Butt,
    /// The edge sits in a step along the other sheet's edge.
    Rabbet,
}

/// The horizontal frame around the top, one ring cut from one sheet, braces included.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Rim {
    /// Width of the frame, from the outside of the wall inwards.
    #[schemars(extend("x-least" = 10.0, "x-most" = 300.0))]
    pub width: Length,
    /// Radius of its inner corners. Left out: 20 mm (round corners carry less stress).
    #[serde(default = "rim_corner")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 200.0))]
    pub corner: Length,
    /// Its sheet. Left out: the box's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// Strips across the opening.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub braces: Vec<Brace>,
}

fn rim_corner() -> Length {
    Length::mm(20.0)
}

/// A strip of the rim across the opening, from front to back.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Brace {
    /// Its middle, from the inside of the inlet end.
    #[schemars(extend("x-least" = 0.0, "x-most" = 4000.0))]
    pub at: Length,
    /// Its width.
    #[schemars(extend("x-least" = 10.0, "x-most" = 400.0))]
    pub width: Length,
}
