//! What is told of a fit under its tolerances.

/// One fit: a gap that must stay between limits while sizes, places, water and warmth vary.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Stable name of the kind: `leaf-slides`, `door-covers`, `sock-sits`, `sump-enters`.
    pub code: &'static str,
    /// What it is about: `comb in its channels, across its thickness`.
    pub words: String,
    /// Path of the parameter.
    pub parameter: String,
    /// Gap as drawn, mm.
    pub nominal_mm: f64,
    /// Least and greatest gap with everything at its worst, mm.
    pub worst_mm: [f64; 2],
    /// The same as it is likely: independent parts added by their squares, mm.
    pub likely_mm: [f64; 2],
    /// Least gap that works, mm.
    pub least_mm: f64,
    /// Greatest gap that works, mm, if there is one.
    pub most_mm: Option<f64>,
    /// What it is made of, each with its share to both sides, mm.
    pub parts: Vec<Part>,
}

/// One contribution to a gap.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What: `thickness of the sheet`.
    pub words: String,
    /// How far it lowers and raises the gap: `[-0.4, 0.3]`, mm.
    pub mm: [f64; 2],
    /// Whether it is one cause with others of the same name, and adds up straight instead of by squares.
    pub is_shared: bool,
}
