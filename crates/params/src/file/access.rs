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
    /// gluing by hand err by about 1 mm on either side).
    #[schemars(extend("x-least" = 0.0, "x-most" = 50.0))]
    pub gap: Length,
    /// Least gap between the sump and its cabinet, on every side. Left out: 5 mm (our judgement: an uneven floor and a
    /// cabinet out of square take a few mm).
    #[schemars(extend("x-least" = 0.0, "x-most" = 200.0))]
    pub cabinet_gap: Length,
    /// Least gap around equipment that must be taken hold of. Left out: 10 mm (our judgement: room for fingertips, not
    /// for a fist).
    #[schemars(extend("x-least" = 0.0, "x-most" = 100.0))]
    pub finger_gap: Length,
    /// How long a way out is searched for before it is said that none was found, in thousands of steps of
    /// motion that are tried. Left out: 100 (our judgement: parts that come out at all are mostly found in the first
    /// few thousand).
    #[schemars(range(min = 1, max = 100_000))]
    pub search: u32,
    /// Where the dice of the search begin: the same number gives the same tries, another one others. Left out: 1 (any
    /// number is as good).
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
///
/// A hand that gets through must be no smaller than that of most men, an arm that gets to the floor no longer than that
/// of most women; measure your own if you want to know it of yourself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Reach {
    /// Breadth and thickness of a flat hand. Left out: 100 and 55 mm, the opening that MIL-STD-1472 asks for a bare flat
    /// hand (from memory).
    #[schemars(extend("x-least" = 20.0, "x-most" = 200.0))]
    pub hand: [Length; 2],
    /// Thickness of the arm at the elbow and above. Left out: 125 mm, the opening that MIL-STD-1472 asks for an arm in light
    /// clothing up to the shoulder (from memory).
    #[schemars(extend("x-least" = 20.0, "x-most" = 300.0))]
    pub arm: Length,
    /// From the fingertips to the elbow, and from there to the shoulder. Left out: 400 and 277 mm. Together they are the
    /// reach of which only 5 % of women fall short, 677 mm (MIL-STD-1472G, as table 11.4 of NUREG-0700 rev. 3 gives it);
    /// how it divides at the elbow is from memory of the same surveys.
    #[schemars(extend("x-least" = 100.0, "x-most" = 800.0))]
    pub length: [Length; 2],
    /// How far the shoulder comes in through an opening of the cabinet that takes head and shoulders: at least
    /// 500 mm wide, and 300 mm high above the rim. Left out: 250 mm (our judgement: head and neck, kneeling).
    #[schemars(extend("x-least" = 0.0, "x-most" = 600.0))]
    pub lean: Length,
    /// Tools that a hand holds. Left out: a `net` and a `bottle brush`, as sold for small aquaria (sizes from memory).
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
    /// Its whole length, from the end of its head to where the hand holds it.
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
        Self {
            hand: [Length::mm(100.0), Length::mm(55.0)],
            arm: Length::mm(125.0),
            length: [Length::mm(400.0), Length::mm(277.0)],
            lean: Length::mm(250.0),
            tool: vec![
                tool("net", [80.0, 25.0], 90.0, 6.0, 300.0),
                tool("bottle brush", [45.0, 45.0], 100.0, 6.0, 300.0),
            ],
        }
    }
}
