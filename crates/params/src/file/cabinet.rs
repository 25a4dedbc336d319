//! The cabinet around the sump.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::{Cylinder, NAME, NAME_IN_WORDS};

/// The cabinet that the sump stands in. Places in it count from the inside of its wall at the sump's inlet
/// end, from the inside of its front, and upwards from its floor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cabinet {
    /// Its clear size inside.
    pub inside: CabinetInside,
    /// Thickness of its walls, floor and ceiling. Left out: 18 mm (common practice).
    #[serde(default = "panel")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 100.0))]
    pub panel: Length,
    /// Where the sump stands: the outer front corner of its inlet end, along the cabinet and from front to back. Left
    /// out: in the middle of the floor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0))]
    pub sump_at: Option<[Length; 2]>,
    /// Thickness of the mat or board that the sump stands on. Left out: none.
    #[serde(default)]
    #[schemars(extend("x-least" = 0.0, "x-most" = 500.0))]
    pub mat: Length,
    /// Whether something closes it above, such as its own top or the display. Left out: `true`, the case in which less
    /// comes out.
    #[serde(default = "yes")]
    pub ceiling: bool,
    /// Openings in its walls, with their doors open: through them go hands, parts and the sump itself. At least one.
    #[schemars(length(min = 1, max = 20))]
    pub opening: Vec<CabinetOpening>,
    /// Posts and other upright bars that stand in it.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub post: Vec<CabinetPost>,
    /// Shelves in it.
    #[serde(default)]
    #[schemars(length(max = 50))]
    pub shelf: Vec<CabinetShelf>,
    /// Pipes, canisters, sockets and whatever else is fixed in it and in the way.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub fixture: Vec<CabinetFixture>,
}

fn panel() -> Length {
    Length::mm(18.0)
}

fn yes() -> bool {
    true
}

/// Clear size of a cabinet.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CabinetInside {
    /// Along the sump.
    #[schemars(extend("x-least" = 100.0, "x-most" = 6000.0))]
    pub length: Length,
    /// From front to back.
    #[schemars(extend("x-least" = 100.0, "x-most" = 3000.0))]
    pub width: Length,
    /// From its floor to its ceiling.
    #[schemars(extend("x-least" = 100.0, "x-most" = 3000.0))]
    pub height: Length,
}

/// An opening in a wall of the cabinet. With nothing but its side given, it takes the whole wall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CabinetOpening {
    /// The wall it is in: `"front"`, `"back"`, `"inlet-end"` or `"far-end"`.
    pub side: CabinetSide,
    /// Where it begins: from the inlet end in the front and the back, from the front in an end. Left out: 0, where the
    /// wall begins.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0))]
    pub from: Option<Length>,
    /// Where it ends, counted in the same way. Left out: where the wall ends.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0, "x-plausible" = 100.0))]
    pub to: Option<Length>,
    /// Height of its lower edge above the cabinet's floor; a sill holds the sump back. Left out: 0, no sill.
    #[serde(default)]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0))]
    pub bottom: Length,
    /// Height of its upper edge. Left out: where the wall ends, below the ceiling.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0, "x-plausible" = 100.0))]
    pub top: Option<Length>,
}

/// A side of the cabinet, as seen from the sump.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum CabinetSide {
    /// Where the keeper stands.
    Front,
    /// Opposite.
    Back,
    /// At the sump's inlet end.
    InletEnd,
    /// At its other end.
    FarEnd,
}

/// A post or another upright bar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CabinetPost {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// Its corner nearest to inlet end and front: along the cabinet, from front to back.
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0))]
    pub at: [Length; 2],
    /// Its size: along the sump, from front to back.
    #[schemars(extend("x-least" = 1.0, "x-most" = 1000.0))]
    pub size: [Length; 2],
    /// Height of its foot. Left out: 0, the floor.
    #[serde(default)]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0))]
    pub bottom: Length,
    /// Height of its upper end. Left out: that of the cabinet's inside.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0))]
    pub top: Option<Length>,
}

/// A shelf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CabinetShelf {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// Its corner nearest to inlet end and front: along the cabinet, from front to back.
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0))]
    pub at: [Length; 2],
    /// Its size: along the sump, from front to back.
    #[schemars(extend("x-least" = 1.0, "x-most" = 6000.0))]
    pub size: [Length; 2],
    /// Height of its underside.
    #[schemars(extend("x-least" = 0.0, "x-most" = 3000.0))]
    pub height: Length,
    /// Its thickness. Left out: 18 mm (common practice).
    #[serde(default = "panel")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 200.0))]
    pub thickness: Length,
    /// Whether it lifts out, so that a way out is searched for it too. Left out: `false`, it stays.
    #[serde(default)]
    pub removable: bool,
}

/// Something that is fixed in the cabinet. Exactly one of `box`, `cylinder` and `pipe` is given, and `to` with a pipe.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CabinetFixture {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// Size of a box: along the sump, from front to back, upwards.
    #[serde(default, rename = "box", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 1.0, "x-most" = 6000.0))]
    pub block: Option<[Length; 3]>,
    /// Size of an upright cylinder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<Cylinder>,
    /// Outer diameter of a straight pipe that runs from `at` to `to`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 2.0, "x-most" = 500.0))]
    pub pipe: Option<Length>,
    /// Along the cabinet, from front to back, upwards: a box's corner nearest to inlet end, front and floor; the middle
    /// of a cylinder's foot; one end of a pipe's middle line.
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0))]
    pub at: [Length; 3],
    /// Pipe: the other end of its middle line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 6000.0))]
    pub to: Option<[Length; 3]>,
}
