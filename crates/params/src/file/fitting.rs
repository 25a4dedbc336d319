use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::{NAME, NAME_IN_WORDS, Wall, names};

/// A small printed thing in the sump or for its making: a pipe clip, a probe holder, a jig. It has one
/// place: `wall`, `rim`, `leaf`, `chamber` or `lid`, or none with `loose = true`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PrintedFitting {
    /// What it is, such as `"pipe-clip"`; `sumpwright fittings --list` names all kinds and their measures.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub kind: String,
    /// What it is called. Left out: its kind, with a number where there are several.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: Option<String>,
    /// How many are printed. Of those with a place one stands there and the others are spares; of what stacks, such
    /// as feet, all stand there, one on the other. Left out: 1.
    #[serde(default = "one")]
    #[schemars(range(min = 1, max = 100))]
    pub quantity: u32,
    /// The wall of the box that it is glued to inside, at `at` and `height`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wall: Option<Wall>,
    /// The wall of the box on whose upper edge it hangs, at `at`; for a box without a rim.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rim: Option<Wall>,
    /// The leaf that it is on, at `at`, on the side of `chamber`: with `height` on the leaf's face, else on
    /// its upper edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf: Option<String>,
    /// The chamber on whose bottom it stands, at `at = [x, y]`, or in whose sock holder it sits, at `sock`; with
    /// `leaf`, the chamber that it is in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chamber: Option<String>,
    /// The chamber on whose lid it is, at `at = [x, y]`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lid: Option<String>,
    /// Its middle. On a wall or leaf: along it, from the inside of the inlet end on one that runs along the
    /// sump, from the inside of the front on one that runs across. In a chamber: along the sump and from front
    /// to back, from the corner of its clear floor nearest to the inlet end and the front. On a lid: likewise, from
    /// the lid's corner nearest to these.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 4000.0))]
    pub at: Option<FittingAt>,
    /// On the face of a wall or leaf: height of its middle above the inside of the bottom; of what carries
    /// something, such as a ledge, the height that it carries it at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 1500.0, "x-plausible" = 15.0))]
    pub height: Option<Length>,
    /// With `chamber`: the sock of its holder that a reducer takes the place of, counted from 1 as the socks are named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1, max = 12))]
    pub sock: Option<u32>,
    /// Whether it is only made, and has no place in the sump: jigs, spares. Left out: `false`.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub loose: bool,
    /// Its measures by name: lengths as elsewhere, pieces and degrees as plain numbers, and `true` or
    /// `false`. Those left out follow from the sump where they can, else they are as usual; the parts list
    /// says which.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    #[schemars(extend("propertyNames" = names(), "maxProperties" = 30))]
    pub measures: BTreeMap<String, FittingMeasure>,
}

fn one() -> u32 {
    1
}

/// Where a fitting is on its wall or in its chamber.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum FittingAt {
    /// Along a wall.
    Along(Length),
    /// Along the sump and from front to back.
    Spot([Length; 2]),
}

/// A measure of a fitting as it is written. What it measures is for the kind of fitting to say.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum FittingMeasure {
    /// `true` or `false`.
    Choice(bool),
    /// A number in mm, pieces or degrees.
    Number(f64),
    /// A length with its unit.
    Text(String),
}
