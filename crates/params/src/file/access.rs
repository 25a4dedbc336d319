//! By what fit and access are judged: gaps, the search for ways out, and what reaches in.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

use super::{NAME, NAME_IN_WORDS};

/// Gaps between parts, and how ways out are searched.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Fit {
    /// Least gap between parts that do not touch by design. Left out: 2 mm (our judgement: cutting and
    /// gluing by hand err by about 1 mm).
    #[schemars(extend("x-least" = 0.0, "x-most" = 50.0))]
    pub gap: Length,
    /// Least gap between the sump and its cabinet, on every side. Left out: 5 mm (our judgement: what fingers and a mat
    /// need).
    #[schemars(extend("x-least" = 0.0, "x-most" = 200.0))]
    pub cabinet_gap: Length,
    /// Least gap around equipment that must be taken hold of. Left out: 10 mm (our judgement: a finger's
    /// thickness is about 20 mm, on one side of it).
    #[schemars(extend("x-least" = 0.0, "x-most" = 100.0))]
    pub finger_gap: Length,
    /// How long a way out is searched for before it is said that none was found, in thousands of steps of
    /// motion that are tried. Left out: 100.
    #[schemars(range(min = 1, max = 100_000))]
    pub search: u32,
    /// Where the dice of the search begin. Another number gives other tries, the same number the same
    /// ones. Left out: 1.
    #[schemars(range(min = 0, max = 1_000_000))]
    pub seed: u32,
}

impl Default for Fit {
    fn default() -> Self {
        Self {
            gap: Length::mm(2.0),
            cabinet_gap: Length::mm(5.0),
            finger_gap: Length::mm(10.0),
            search: 100,
            seed: 1,
        }
    }
}

/// What reaches into the sump.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Reach {
    /// Breadth and thickness of a flat hand. Left out: what covers most men's hands, with its source in the report.
    #[schemars(extend("x-least" = 20.0, "x-most" = 200.0))]
    pub hand: [Length; 2],
    /// Thickness of the arm at the elbow and above. Left out: what covers most men's arms in a shirt, with its source in
    /// the report.
    #[schemars(extend("x-least" = 20.0, "x-most" = 300.0))]
    pub arm: Length,
    /// From the fingertips to the elbow, and from there to the shoulder. Left out: what most women have,
    /// with its source in the report.
    #[schemars(extend("x-least" = 100.0, "x-most" = 800.0))]
    pub length: [Length; 2],
    /// Tools that a hand holds. Left out: a net and a bottle brush.
    #[schemars(length(max = 10))]
    pub tool: Vec<Tool>,
}

/// A tool on a straight handle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Tool {
    /// What it is called.
    #[schemars(length(min = 1, max = 40), regex(pattern = NAME), extend("x-words" = NAME_IN_WORDS))]
    pub name: String,
    /// Breadth and thickness of its head.
    #[schemars(extend("x-least" = 2.0, "x-most" = 500.0))]
    pub head: [Length; 2],
    /// Length of its head.
    #[schemars(extend("x-least" = 2.0, "x-most" = 500.0))]
    pub head_length: Length,
    /// Thickness of its handle.
    #[schemars(extend("x-least" = 1.0, "x-most" = 100.0))]
    pub handle: Length,
    /// Its whole length, up to where the hand holds it.
    #[schemars(extend("x-least" = 50.0, "x-most" = 2000.0))]
    pub length: Length,
}

impl Default for Reach {
    fn default() -> Self {
        let tool = |name: &str, head: [f64; 2], head_length, handle, length| Tool {
            name: name.to_owned(),
            head: head.map(Length::mm),
            head_length: Length::mm(head_length),
            handle: Length::mm(handle),
            length: Length::mm(length),
        };
        // Sizes of what is sold as a small aquarium net and as a bottle brush; common practice.
        Self {
            hand: [Length::mm(100.0), Length::mm(55.0)],
            arm: Length::mm(125.0),
            length: [Length::mm(400.0), Length::mm(280.0)],
            tool: vec![
                tool("net", [80.0, 25.0], 90.0, 6.0, 300.0),
                tool("bottle brush", [45.0, 45.0], 100.0, 6.0, 300.0),
            ],
        }
    }
}
