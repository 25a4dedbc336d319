//! What the machine does to one panel.

use design::PieceId;
use plate::{Contour, Face, FlatPattern};

/// All that is done to one panel, in the order in which it is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Which part.
    pub piece: PieceId,
    /// The part itself: its edges and floors.
    pub pattern: FlatPattern,
    /// What is done, in this order: engraving, pockets, holes, inside cuts, the outline last.
    pub operations: Vec<Operation>,
}

/// One thing that is done.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What it is.
    pub kind: OperationKind,
    /// The face that it is done from.
    pub face: Face,
    /// How deep it goes, mm.
    pub depth_mm: f64,
    /// The edge that it leaves: of the part, of a hole, of a floor; or the line that is engraved.
    pub edge: CutPath,
    /// Where the middle of the tool runs, one path for each time round (a pocket has many). Empty where the tool does not
    /// fit; a finding says so.
    pub tool: Vec<CutPath>,
}

/// What an operation is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum OperationKind {
    /// Marks and letters.
    Engrave,
    /// A floor below a face.
    Pocket,
    /// A round hole that a screw or a pipe goes through.
    Hole,
    /// Any other inside cut.
    Inside,
    /// The outer edge.
    Outline,
}

/// A line that a tool follows.
#[derive(Clone, Debug, PartialEq)]
pub enum CutPath {
    /// It comes back to where it began.
    Closed(Contour),
    /// It does not: an engraved stroke.
    Open(Vec<glam::DVec2>),
}
