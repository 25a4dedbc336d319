use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Flow, Length};

use super::{NAME, NAME_IN_WORDS};

/// A wall of the box.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Wall {
    /// The long wall you stand before.
    Front,
    /// The long wall behind.
    Back,
    /// The end where the water comes in.
    InletEnd,
    /// The other end.
    FarEnd,
}

/// A removable shelf with flanged holes for filter socks, resting on ledges.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SockHolder {
    /// The chamber it hangs in.
    pub chamber: String,
    /// Height of the shelf's upper face.
    #[schemars(extend("x-least" = 20.0, "x-most" = 1500.0))]
    pub height: Length,
    /// Its sheet. Left out: the box's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// How many socks, side by side across the chamber.
    #[schemars(range(min = 1, max = 12))]
    pub socks: u32,
    /// The socks.
    pub sock: SockSize,
    /// Printed flanged rings line the holes, or the sock's own flange lies in the bare hole.
    #[serde(default)]
    pub ring: RingKind,
    /// The notch through which water passes a clogged sock.
    pub bypass: Bypass,
    /// The strips it rests on.
    #[serde(default)]
    pub ledge: Ledge,
}

/// A filter sock.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SockSize {
    /// Outer diameter of the bag.
    #[schemars(extend("x-least" = 30.0, "x-most" = 400.0))]
    pub diameter: Length,
    /// Length of the bag below the flange.
    #[schemars(extend("x-least" = 30.0, "x-most" = 800.0))]
    pub length: Length,
    /// Outer diameter of the sock's own stiff flange. Left out: the bag's and 14 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 30.0, "x-most" = 450.0))]
    pub flange: Option<Length>,
    /// What one clean sock passes when the water in it stands 50 mm higher than the water around it and
    /// its whole wall is wet. Left out: 10 L/h for each square centimetre of its wall (from memory of
    /// makers' ratings, which differ widely: results that rest on it have a wide band).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 100000.0))]
    pub passes: Option<Flow>,
}

/// What lines the hole of a sock.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum RingKind {
    /// A printed ring with a flange.
    #[default]
    Printed,
    /// Nothing: the hole is made for the sock itself.
    None,
}

/// A notch in the edge of the sock holder.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bypass {
    /// Its width across the chamber.
    #[schemars(extend("x-least" = 10.0, "x-most" = 1500.0))]
    pub width: Length,
    /// Its depth from the shelf's edge.
    #[schemars(extend("x-least" = 5.0, "x-most" = 300.0))]
    pub depth: Length,
}

/// Strips glued to the walls that a shelf rests on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Ledge {
    /// How far it stands out from the wall. Left out: 15 mm (common practice).
    #[schemars(extend("x-least" = 5.0, "x-most" = 100.0))]
    pub width: Length,
    /// Its sheet. Left out: the box's.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
}

impl Default for Ledge {
    fn default() -> Self {
        Self { width: Length::mm(15.0), sheet: None }
    }
}

/// A cover that lies on the rim over a chamber.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lid {
    /// The chamber it covers.
    pub chamber: String,
    /// Its sheet. Left out: the box's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<String>,
    /// How far it lies on the rim at front and back. Left out: 15 mm (common practice).
    #[serde(default = "lid_lap")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 200.0))]
    pub lap: Length,
    /// Diameter of the finger hole. Left out: 25 mm.
    #[serde(default = "finger_hole")]
    #[schemars(extend("x-least" = 12.0, "x-most" = 60.0))]
    pub finger_hole: Length,
    /// Holes through which drips and splashes drain back.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_holes: Option<HoleField>,
}

fn lid_lap() -> Length {
    Length::mm(15.0)
}

fn finger_hole() -> Length {
    Length::mm(25.0)
}

/// A field of round holes about the middle of a part.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoleField {
    /// Diameter of a hole.
    #[schemars(extend("x-least" = 2.0, "x-most" = 100.0))]
    pub diameter: Length,
    /// Distance between middles.
    #[schemars(extend("x-least" = 3.0, "x-most" = 300.0))]
    pub spacing: Length,
    /// Holes from front to back.
    #[schemars(range(min = 1, max = 100))]
    pub rows: u32,
    /// Holes along the length.
    #[schemars(range(min = 1, max = 100))]
    pub columns: u32,
}

/// A fitting through a wall of the box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WallFitting {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// The wall it goes through.
    pub wall: Wall,
    /// Its middle along the wall: from the inside of the inlet end on a long wall, from the inside of
    /// the front on an end.
    #[schemars(extend("x-least" = 0.0, "x-most" = 4000.0, "x-plausible" = 15.0))]
    pub at: Length,
    /// Height of its middle above the inside of the bottom.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0, "x-plausible" = 15.0))]
    pub height: Length,
    /// Diameter of the hole that its maker asks for.
    #[schemars(extend("x-least" = 6.0, "x-most" = 200.0))]
    pub hole: Length,
    /// Outer diameter of its flange and nut.
    #[schemars(extend("x-least" = 8.0, "x-most" = 300.0))]
    pub flange: Length,
    /// How far it stands into the sump. Left out: 30 mm.
    #[serde(default = "reach")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 300.0))]
    pub inside: Length,
    /// How far it stands out of the wall. Left out: 30 mm.
    #[serde(default = "reach")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 300.0))]
    pub outside: Length,
}

fn reach() -> Length {
    Length::mm(30.0)
}

/// Level marks with numbers, engraved on a wall at their true heights. On the scale of the return
/// chamber the highest safe running level is marked too, as `MAX`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LevelMarks {
    /// The chamber whose wall carries them.
    pub chamber: String,
    /// The wall of the box. Left out: the front.
    #[serde(default = "front")]
    pub wall: Wall,
    /// Numbers in centimetres (`"cm"`) or inches (`"in"`).
    #[serde(default)]
    pub unit: MarkUnit,
    /// Lowest mark.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub from: Length,
    /// Highest mark.
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub to: Length,
    /// Middle of the scale from the chamber's near side. Left out: 30 mm.
    #[serde(default = "reach")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 4000.0))]
    pub at: Length,
    /// From where it reads: `"outside"` (through a clear sheet) or `"inside"`. Left out: outside, but
    /// inside on the back wall and on a sheet that is not clear. It is engraved on the inner face either
    /// way, where the other machining is, so that the panel is not turned over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub read_from: Option<Reading>,
}

fn front() -> Wall {
    Wall::Front
}

/// Numbers on level marks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum MarkUnit {
    /// Centimetres, with a short mark every 5 mm.
    #[default]
    Cm,
    /// Inches, with a short mark every quarter.
    In,
}

/// From where marks read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Reading {
    /// Through the sheet.
    Outside,
    /// From within the sump.
    Inside,
}
