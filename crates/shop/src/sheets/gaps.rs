//! How near parts may lie.
//!
//! The tool takes away a band around every part, as wide as the tool: the cutter's diameter, or the kerf.
//!
//! - Between two parts lie both their bands and `cutting.spacing`: `spacing + 2 width`.
//! - A saw parts two pieces by one cut, and trims one of them by another where there is spacing: `spacing + width`.
//! - The strip `cutting.margin` along the edges of the sheet stays whole, so a part lies `margin + width` from the edge.
//! - A part in an opening of another lies as far from the opening's edge as from any other part.

use params::{Cutting, Process};

use super::grid;

/// How near parts may lie; the lengths on the [grid](grid).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Gaps {
    /// Width of what the tool takes away.
    pub(super) width: i32,
    /// From part to part.
    pub(super) between: i32,
    /// From a part to the edge of the sheet.
    pub(super) edge: i32,
    /// Whether every cut goes straight through.
    pub(super) is_straight_through: bool,
}

impl Gaps {
    pub(super) fn of(cutting: &Cutting) -> Self {
        Self {
            width: grid::up(cutting.cut_width().to_mm()),
            between: grid::up(between_mm(cutting)),
            edge: grid::up(edge_mm(cutting)),
            is_straight_through: is_straight_through(cutting),
        }
    }
}

/// Whether every cut goes straight through what it cuts: a saw cannot do otherwise, and the file may ask for it.
pub fn is_straight_through(cutting: &Cutting) -> bool {
    cutting.process == Process::Saw || cutting.straight_through == Some(true)
}

/// Least distance between two parts, mm.
pub fn between_mm(cutting: &Cutting) -> f64 {
    let bands = if is_straight_through(cutting) { 1.0 } else { 2.0 };
    cutting.spacing.to_mm() + bands * cutting.cut_width().to_mm()
}

/// Least distance of a part from the edge of a sheet, mm.
pub fn edge_mm(cutting: &Cutting) -> f64 {
    cutting.margin.to_mm() + cutting.cut_width().to_mm()
}
