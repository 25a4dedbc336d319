use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::{NAME, NAME_IN_WORDS};

/// One step of the layout: a chamber, a divider, or a section that is itself laid out the other way.
/// Exactly one of `chamber`, `divider` and `section` is given.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Item {
    /// A chamber of this name.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub chamber: Option<String>,
    /// A divider of this name.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub divider: Option<String>,
    /// A part of the row that is laid out across it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub section: Option<String>,

    /// Clear length of a chamber or section in a row along the sump. One of a row may leave it out and takes the rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 4000.0, "x-plausible" = 30.0))]
    pub length: Option<Length>,
    /// Clear width of a chamber or section in a row across the sump. One of a row may leave it out and takes the rest.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 2000.0, "x-plausible" = 30.0))]
    pub width: Option<Length>,

    /// Chamber: the level that you keep in it. For the return chamber, the running level. Left out
    /// everywhere: 40 % of the inside height in the last chamber, as an assumption.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 1500.0, "x-plausible" = 30.0))]
    pub level: Option<Length>,

    /// Divider: its only leaf.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub leaf: Option<String>,
    /// Divider: several leaves, one standing behind the other, in flow order.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 10))]
    pub leaves: Option<Vec<String>>,
    /// Divider: lift-out leaves that can take each other's place; the first is in.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 10))]
    pub slot: Option<Vec<String>>,
    /// Divider: clear distance between leaves that stand one behind the other. Left out: 30 mm (common
    /// practice for bubble traps).
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 500.0))]
    pub spacing: Option<Length>,
    /// Divider: guides of its lift-out leaf: `"strips"` glued to the wall, a `"groove"` in the wall, or
    /// a `"printed"` channel. Left out: strips.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub guide: Option<GuideKind>,
    /// Divider: how far printed channels or grooves hold the leaf at either side. Left out: 12 mm for
    /// printed channels, 40 % of the wall for a groove. Strips lie flat: they hold by their thickness.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 60.0))]
    pub guide_depth: Option<Length>,
    /// Divider: height up to which guides hold its lift-out leaves. Left out: up to the lowest of their crests; where the
    /// rim lies over the ends of the leaves, only so high that every leaf can be raised out of them below the rim and
    /// then tipped.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 15.0, "x-most" = 1500.0))]
    pub guide_height: Option<Length>,
    /// Divider: clearance between a lift-out leaf and its guides, in all. Left out: 0.8 mm (common
    /// practice), more where `tolerance` says that the leaf needs more, over the greatest measured thickness.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.1, "x-most" = 5.0))]
    pub clearance: Option<Length>,
    /// Divider: how its glued leaves meet the walls: `"butt"` or `"dado"` (a groove in the wall).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub joint: Option<DividerJoint>,

    /// Section: what it is made of, from front to back.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 100))]
    pub across: Vec<Self>,
    /// Section in a row across: what it is made of, from the inlet end on.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 100))]
    pub along: Vec<Self>,
}

/// The channel in which a lift-out leaf slides.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum GuideKind {
    /// Two strips of sheet glued to each wall.
    #[default]
    Strips,
    /// A groove in each wall.
    Groove,
    /// A printed channel glued to each wall.
    Printed,
}

/// How a glued leaf meets the walls.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum DividerJoint {
    /// Edge against face.
    #[default]
    Butt,
    /// Edge in a groove of the wall.
    Dado,
}
