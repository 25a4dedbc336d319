//! Bridges: where a cutter is lifted a little so that a part stays held in its sheet until it is cut free by hand.
//!
//! They stand on straight edges only, away from corners, where a file or a scraper takes them off flush; never on an edge
//! that will be glued while another is free, as what is left of one keeps the joint open.

mod glued;
mod places;
mod runs;
mod spread;
#[cfg(test)]
mod tests;

use glam::DVec2;
use plate::{FlatPattern, Segment};

use super::{CutPath, Operation, OperationKind};
use crate::process::Machine;
use places::Placer;

pub(crate) use glued::GluedEdges;
pub use runs::Run;
pub(crate) use spread::longest_unheld_mm;

/// A bridge in a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bridge {
    /// Its middle, on the edge of the part, mm.
    pub at: DVec2,
    /// The way of the edge there, the part on its left; of length 1.
    pub along: DVec2,
    /// How long what is left is along the edge, mm.
    pub length_mm: f64,
    /// How high it is above the lower face, mm.
    pub height_mm: f64,
    /// Which path of the tool is lifted over it.
    pub path: usize,
    /// From where to where the middle of the tool is lifted: longer than the bridge by the tool's width.
    pub lifted: [DVec2; 2],
    /// Whether it stands on an edge that will be glued: no other could take it.
    pub is_on_glued_edge: bool,
}

/// Length of free edge for each bridge, mm. From memory, common practice: one in 150 to 300 mm.
pub const SPACING_MM: f64 = 200.0;
/// Fewer do not hold a part (common practice), and more are never left (our judgement): 8 m of edge.
const FEWEST: usize = 2;
const MOST: usize = 40;
/// What falls out of an opening is held from this width on, mm (our judgement): less is lifted out by the chips.
const HELD_REST_MM: f64 = 100.0;
/// How near places are the same, mm: the tool may be reckoned a hair thinner.
const SAME_MM: f64 = 0.01;

/// The bridges of an operation: of the outline, and of openings out of which something large falls.
pub(super) fn place(
    machine: &Machine,
    thickness_mm: f64,
    pattern: &FlatPattern,
    glued: &GluedEdges,
    operation: &Operation,
) -> Vec<Bridge> {
    let (Some(size), CutPath::Closed(edge)) = (machine.bridge(thickness_mm), &operation.edge)
    else {
        return Vec::new();
    };
    let none = GluedEdges::default();
    let glued = match operation.kind {
        OperationKind::Outline => glued,
        OperationKind::Inside => &none,
        _ => return Vec::new(),
    };
    let is_held = operation.kind == OperationKind::Outline
        || edge.bounds().is_some_and(|[lo, hi]| {
            (hi - lo).min_element() - 2.0 * machine.width_mm >= HELD_REST_MM
        });
    if !is_held {
        return Vec::new();
    }
    let placer = Placer { machine, thickness_mm, size, pattern, glued, operation, edge };
    spread::spread(&placer.places(), edge, glued, thickness_mm)
}

fn is_on(piece: &Segment, p: DVec2) -> bool {
    piece.arc.is_none() && piece.distance(p) < SAME_MM
}
