//! The display above the sump and its overflow.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Length, Volume};

use super::Teeth;

/// The display: the aquarium that the sump serves. Left out, levels in flow and failures cannot be
/// computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Display {
    /// Its inside, up to its rim, without the overflow box: where that stands inside, take it off the
    /// length or the width.
    pub inside: DisplayInside,
    /// Height of the inside of its bottom above the inside of the sump's bottom.
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0, "x-plausible" = 100.0))]
    pub stands: Length,
    /// Volume that rock and sand take from its water, below what runs back to the sump when the pump stops.
    /// Left out: 0.
    #[serde(default)]
    #[schemars(extend("x-least" = 0.0, "x-most" = 20000.0))]
    pub displaced: Volume,
    /// Where its water runs out to the drains.
    pub overflow: Overflow,
}

/// Inside of the display.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DisplayInside {
    /// Inside length.
    #[schemars(extend("x-least" = 100.0, "x-most" = 6000.0))]
    pub length: Length,
    /// Inside width, from front to back.
    #[schemars(extend("x-least" = 100.0, "x-most" = 3000.0))]
    pub width: Length,
    /// Height from the inside of its bottom to its rim, where it runs over.
    #[schemars(extend("x-least" = 100.0, "x-most" = 2000.0))]
    pub height: Length,
}

/// The overflow of the display: a crest that water runs over into a box, where the drains stand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Overflow {
    /// The edge that water runs over.
    pub crest: OverflowCrest,
    /// The box behind the crest.
    #[serde(rename = "box")]
    pub weir_box: WeirBox,
}

/// The edge that water runs over from the display.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OverflowCrest {
    /// Height of the edge above the inside of the display's bottom; of the tips of the teeth, if it has
    /// teeth.
    #[schemars(extend("x-least" = 20.0, "x-most" = 2000.0, "x-plausible" = 50.0))]
    pub height: Length,
    /// Length of the edge in all, teeth and gaps together, around corners too.
    #[schemars(extend("x-least" = 10.0, "x-most" = 10000.0))]
    pub width: Length,
    /// Teeth of a comb. Left out: a plain edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub teeth: Option<Teeth>,
}

/// Inside of the overflow box.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeirBox {
    /// Inside length.
    #[schemars(extend("x-least" = 20.0, "x-most" = 6000.0))]
    pub length: Length,
    /// Inside width.
    #[schemars(extend("x-least" = 20.0, "x-most" = 2000.0))]
    pub width: Length,
    /// How far the inside of its bottom lies below the crest; below the tips of the teeth, if it has
    /// teeth.
    #[schemars(extend("x-least" = 20.0, "x-most" = 2000.0))]
    pub depth: Length,
}
