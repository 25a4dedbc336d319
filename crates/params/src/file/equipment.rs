//! What is bought and put in.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::{Flow, Length, Mass};

use super::{NAME, NAME_IN_WORDS};

/// A pump, skimmer, heater, probe or the like, as a simple body with the room it needs for service.
/// Exactly one of `box` and `cylinder` is given.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Equipment {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// What it is.
    pub kind: EquipmentKind,
    /// The chamber it stands or hangs in.
    pub chamber: String,
    /// Size of a box: along the sump, from front to back, upwards.
    #[serde(default, rename = "box", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 2000.0, "x-plausible" = 12.0))]
    pub block: Option<[Length; 3]>,
    /// Size of an upright cylinder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<Cylinder>,
    /// Further bodies that are one with it and come out with it: a foot, a pump at its side, a cup.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 20))]
    pub part: Vec<EquipmentBody>,
    /// Stubs of hose, pipe or cable that stick out of it, in its place and when it is taken out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 20))]
    pub stub: Vec<Stub>,
    /// Its middle in the chamber: from the chamber's inlet side, and from its front. Left out: a free place is
    /// found, the nearest to the middle of the chamber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 4000.0))]
    pub at: Option<[Length; 2]>,
    /// Height of its underside; 0 stands on the bottom.
    #[serde(default)]
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub stand: Length,
    /// Room that must stay free for service: what stands in it must be taken out first.
    #[serde(default)]
    pub service: Service,
    /// Pump: flow at no head, from its data sheet. Where there is no `curve`, this and `head` stand in
    /// for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 100000.0))]
    pub flow: Option<Flow>,
    /// Pump: greatest head, at which nothing flows any more, from its data sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 50.0, "x-most" = 30000.0))]
    pub head: Option<Length>,
    /// Pump: points of its curve, from its data sheet, at least three, from the least flow to the
    /// greatest.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(min = 3, max = 50))]
    pub curve: Vec<CurvePoint>,
    /// Pump: height of the middle of its intake above its underside. Left out: a third of its height
    /// (common practice).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0))]
    pub intake: Option<Length>,
    /// Pump: diameter of its intake; of a strainer, that of a circle as large as its open area.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 300.0))]
    pub intake_diameter: Option<Length>,
    /// Share of its outline that no water can enter, from 0 to 1: 1 for a solid body, less for a rack
    /// or a box of loose media. Left out: 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 0.0, max = 1.0))]
    pub displaces: Option<f64>,
    /// What it weighs as it stands in the sump in use, in kg, with all that is one with it. Left out: not known, and said
    /// to come on top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 500.0))]
    pub weight: Option<Mass>,
    /// Skimmer: depth of water that it wants to stand in, least and greatest, from its data sheet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 10.0, "x-most" = 1500.0))]
    pub depth: Option<[Length; 2]>,
    /// Skimmer: what it throws out over its cup when it runs wild. Left out: 100 L/h, as an assumption.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 20000.0))]
    pub cup_overflow: Option<Flow>,
}

/// A point of a pump's curve.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CurvePoint {
    /// Flow.
    #[schemars(extend("x-least" = 0.0, "x-most" = 100000.0))]
    pub flow: Flow,
    /// Head at this flow.
    #[schemars(extend("x-least" = 0.0, "x-most" = 30000.0))]
    pub head: Length,
}

/// Size of an upright cylinder.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Cylinder {
    /// Diameter.
    #[schemars(extend("x-least" = 3.0, "x-most" = 1500.0))]
    pub diameter: Length,
    /// Height.
    #[schemars(extend("x-least" = 3.0, "x-most" = 2000.0))]
    pub height: Length,
}

/// A further body of a piece of equipment. Exactly one of `box` and `cylinder` is given.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EquipmentBody {
    /// Size of a box: along the sump, from front to back, upwards.
    #[serde(default, rename = "box", skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 3.0, "x-most" = 2000.0))]
    pub block: Option<[Length; 3]>,
    /// Size of an upright cylinder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cylinder: Option<Cylinder>,
    /// The middle of its foot, from the middle of the foot of the main body: along the sump, from front
    /// to back, upwards.
    #[schemars(extend("x-least" = -2000.0, "x-most" = 2000.0))]
    pub at: [Length; 3],
}

/// A stub of hose, pipe or cable: a straight round bar.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stub {
    /// What it is of: `"hose"` (or pipe) or `"cable"`. Left out: a hose.
    #[serde(default)]
    pub kind: StubKind,
    /// Where its middle line begins, from the middle of the foot of the main body: along the sump, from
    /// front to back, upwards.
    #[schemars(extend("x-least" = -2000.0, "x-most" = 2000.0))]
    pub from: [Length; 3],
    /// Which way it runs: `"up"`, `"inlet-end"`, `"far-end"`, `"front"` or `"back"`.
    pub towards: Towards,
    /// Its length.
    #[schemars(extend("x-least" = 1.0, "x-most" = 1000.0))]
    pub length: Length,
    /// Its outer diameter.
    #[schemars(extend("x-least" = 1.0, "x-most" = 200.0))]
    pub diameter: Length,
}

/// What a stub is of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum StubKind {
    /// Hose or pipe: it is taken apart at the stub's end.
    #[default]
    Hose,
    /// Cable: it comes out with the equipment.
    Cable,
}

/// A direction in the sump.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Towards {
    /// Upwards.
    Up,
    /// To the inlet end.
    InletEnd,
    /// To the other end.
    FarEnd,
    /// To the front.
    Front,
    /// To the back.
    Back,
}

/// What a piece of equipment is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum EquipmentKind {
    /// Pumps water back up.
    Pump,
    /// Protein skimmer.
    Skimmer,
    /// Heater.
    Heater,
    /// Probe or sensor.
    Probe,
    /// Media reactor.
    Reactor,
    /// Anything else.
    Other,
}

/// Room that must stay free for service, beyond the body.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Service {
    /// Above it, to lift a cup off or draw it out.
    #[schemars(extend("x-least" = 0.0, "x-most" = 2000.0))]
    pub above: Length,
    /// Around it.
    #[schemars(extend("x-least" = 0.0, "x-most" = 500.0))]
    pub around: Length,
}
