//! What the computed water is judged by, and which failures are rehearsed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use units::Length;

/// Limits that levels, flows and failures are judged by.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    /// Height that must stay dry below every rim. Left out: 30 mm (common practice: 30 to 50 mm).
    #[schemars(extend("x-least" = 0.0, "x-most" = 300.0))]
    pub freeboard: Length,
    /// Least and greatest share of the flow that the secondary drain should carry while the main one
    /// runs as a full siphon. Left out: 0.03 to 0.10, a trickle (common practice).
    #[schemars(extend("x-least" = 0.0, "x-most" = 1.0))]
    pub trickle: [f64; 2],
    /// Least height of water above the middle of a pump's intake. Left out: by ANSI/HI 9.8, from the
    /// intake's diameter and flow.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(extend("x-least" = 0.0, "x-most" = 1000.0))]
    pub submergence: Option<Length>,
    /// Bubbles of this diameter must not be carried down to the pump. Left out: 0.5 mm (our judgement:
    /// smaller ones are few and hardly seen).
    #[schemars(extend("x-least" = 0.05, "x-most" = 10.0))]
    pub bubble: Length,
    /// Greatest mean speed through an opening that animals can reach, in mm/s. Left out: 200 (common
    /// practice: 100 to 200 mm/s).
    #[schemars(range(min = 1.0, max = 5000.0))]
    pub opening_speed: f64,
    /// Greatest mean speed in return lines and in main drains that run full, in m/s. Left out: 2.5
    /// (common practice; faster is loud and costs head).
    #[schemars(range(min = 0.1, max = 20.0))]
    pub pipe_speed: f64,
    /// How many days without top-up the return must last before its pump draws air. Left out: 3, a long
    /// weekend (common practice).
    #[schemars(range(min = 0.0, max = 365.0))]
    pub dry_days: f64,
    /// Whether water may run over a sock's flange or through the bypass while the sock is clean. Left
    /// out: `false`.
    pub sock_overflow: bool,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            freeboard: Length::mm(30.0),
            trickle: [0.03, 0.10],
            submergence: None,
            bubble: Length::mm(0.5),
            opening_speed: 200.0,
            pipe_speed: 2.5,
            dry_days: 3.0,
            sock_overflow: false,
        }
    }
}

/// How failures are rehearsed. Every single failure that the file has the parts for is rehearsed unless
/// it is left out here.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
pub struct Rehearsals {
    /// How long a failure goes on before somebody comes, in hours. Left out: 24, a day away (our
    /// judgement).
    #[schemars(range(min = 0.1, max = 240.0))]
    pub hours: f64,
    /// Failures that are not rehearsed, by the names that reports give them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 200))]
    pub leave_out: Vec<String>,
    /// Pairs of failures that happen together, by the names that reports give them.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(length(max = 50))]
    pub together: Vec<[String; 2]>,
    /// How long the top-up fails, in days. Left out: 7, a week away (our judgement).
    #[schemars(range(min = 0.1, max = 365.0))]
    pub days_without_top_up: f64,
    /// How far a leaking seam opens, over its whole length. Left out: 0.1 mm, as an assumption.
    #[schemars(extend("x-least" = 0.001, "x-most" = 5.0))]
    pub seam_gap: Length,
}

impl Default for Rehearsals {
    fn default() -> Self {
        Self {
            hours: 24.0,
            leave_out: Vec::new(),
            together: Vec::new(),
            days_without_top_up: 7.0,
            seam_gap: Length::mm(0.1),
        }
    }
}
