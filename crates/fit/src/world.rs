//! All bodies of a sump and its surroundings, and the openings that lead out.

mod build;
mod exits;
pub(crate) mod hoses;
pub(crate) mod moving;

use design::{PlacedId, SpareId};
use glam::DVec3;

use crate::convex::Convex;

/// Index into [`World::things`].
pub type ThingId = usize;

/// What there is, each thing in its place. Things of the design come first, in the order of
/// [`Design::placed`](design::Design::placed), then its spares, then the surroundings.
#[derive(Clone, Debug)]
pub struct World {
    /// Every single body.
    pub things: Vec<Thing>,
    /// How one gets out.
    pub exits: Exits,
}

/// One body.
#[derive(Clone, Debug)]
pub struct Thing {
    /// Its name, unique.
    pub name: String,
    /// Path of its parameter.
    pub parameter: String,
    /// Where it comes from.
    pub origin: Origin,
    /// It as convex pieces for planning: never smaller than the thing itself. Round sides are circumscribed, openings too
    /// small for anything to go through are filled.
    pub coarse: Vec<Convex>,
    /// It as convex pieces for measuring: all openings open, round sides within a chord error.
    pub fine: Vec<Convex>,
    /// Least and greatest corner of the box around it.
    pub bounds: [DVec3; 2],
}

/// Where a thing comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// A placed piece of the design.
    Placed(PlacedId),
    /// A spare: it is only there when it is asked for.
    Spare(SpareId),
    /// Index into the things of the surroundings.
    Surrounding(usize),
}

/// How a part leaves: up past the rim, then out of the cabinet.
#[derive(Clone, Debug, PartialEq)]
pub struct Exits {
    /// What is wholly above this has left the sump.
    pub rim_z: f64,
    /// Openings of the rim, or of the open box: rectangles around them. Hints for the search, and premises of proofs:
    /// all openings are in the list, and each lies within its rectangle.
    pub rim: Vec<Window>,
    /// Ways out of the cabinet. Empty when the sump stands free: then whatever is above the rim is out.
    pub doors: Vec<Door>,
    /// Where a part may go while it is searched for a way: least and greatest corner.
    pub room: [DVec3; 2],
}

/// A rectangle around an opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Its middle, on the outer face of what it is in.
    pub centre: DVec3,
    /// Unit vector along one side.
    pub u: DVec3,
    /// Unit vector along the other.
    pub v: DVec3,
    /// Half its length along `u`.
    pub half_u: f64,
    /// Half its length along `v`.
    pub half_v: f64,
}

/// A way out of the cabinet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Door {
    /// Its opening.
    pub window: Window,
    /// Unit vector outwards.
    pub out: DVec3,
    /// A point `p` is outside when `out · p` is at least this.
    pub beyond: f64,
}

#[cfg(test)]
pub(crate) mod tests;
