//! The cabinet around the sump as solids in the sump's frame.

use glam::{DAffine3, DVec3};
use params::CabinetSide;
use plate::Shape;

use crate::draft::Builder;
use crate::enclosure::Enclosure;

/// What stands around the sump. All lengths in mm, in the sump's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Surroundings {
    /// Least and greatest corner of the cabinet's clear inside. Without a ceiling it reaches up to where its walls end.
    pub inside: [DVec3; 2],
    /// Whether something closes it above.
    pub has_ceiling: bool,
    /// Height of its floor; the sump stands on a mat above it.
    pub floor_z: f64,
    /// Panels, posts, shelves, fixtures, pipes.
    pub things: Vec<Surrounding>,
    /// Doors and other openings.
    pub openings: Vec<Opening>,
}

/// Something around the sump that is fixed.
#[derive(Clone, Debug, PartialEq)]
pub struct Surrounding {
    /// What it is called, unique among them: `cabinet ceiling`, `post left`.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// What it is.
    pub kind: SurroundingKind,
    /// Whether it can be taken out: a shelf that the file says so of.
    pub is_removable: bool,
    /// Its shape in its own frame. A panel has its openings cut out.
    pub shape: Shape,
    /// From its own frame to the sump's: a rotation and a move.
    pub pose: DAffine3,
}

/// What something around the sump is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SurroundingKind {
    /// A panel of the cabinet: floor, wall, ceiling.
    Panel,
    /// The mat or board under the sump.
    Mat,
    /// A post.
    Post,
    /// A shelf.
    Shelf,
    /// Whatever else is fixed.
    Fixture,
    /// A pipe that comes down from the display to a drain's upper end.
    PipeAbove,
}

/// An opening of the cabinet.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Path of its parameter.
    pub parameter: String,
    /// The side it is in.
    pub side: CabinetSide,
    /// Unit vector out of the cabinet.
    pub out: DVec3,
    /// Least and greatest corner of the gap in the panel, through its thickness.
    pub gap: [DVec3; 2],
}

/// The cabinet in the sump's frame, if the file has one.
pub(crate) fn build(_b: &mut Builder<'_>, _enclosure: &Enclosure) -> Option<Surroundings> {
    None
}
