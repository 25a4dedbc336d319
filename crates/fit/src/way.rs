//! What a search for a way out comes to.

use design::RemovableId;
use glam::DVec3;
use serde::Serialize;

use crate::motion::{Motion, Rigid};
use crate::world::ThingId;

/// What is known about the way of one part, given what is already out.
#[derive(Clone, Debug, PartialEq)]
pub enum Verdict {
    /// A way, proved free of everything, with the part taken a little smaller and a little room kept around it.
    Found(Vec<Motion>),
    /// There is none, whatever the motion.
    ProvedNone(Proof),
    /// None was found. This is no proof.
    NotFound {
        /// How many steps of motion were tried.
        steps: u64,
    },
    /// In its place it shares room with these, by more than it was taken smaller.
    StartsInClash {
        /// What it shares room with.
        with: Vec<ThingId>,
    },
}

/// Why there is no way out.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "argument")]
pub enum Proof {
    /// No section through its middle fits into an opening that it would have to pass.
    Section(SectionProof),
    /// The largest ball in it is larger than any that passes.
    Ball(BallProof),
}

/// No section through the middle of the part fits into an opening that it would have to pass.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SectionProof {
    /// What every section through the middle of the part holds at least, mm: its length and breadth.
    pub section_mm: [f64; 2],
    /// The opening that comes nearest to letting it pass, mm.
    pub opening_mm: [f64; 2],
    /// The length of such a section that this opening would take, mm.
    pub takes_mm: f64,
    /// Whether the openings are those of the cabinet; else those of the rim.
    pub is_cabinet: bool,
    /// The middle of that opening.
    pub at: DVec3,
    /// What is over the opening, where only the sections count that it leaves.
    pub under: Option<Under>,
}

/// What is over an opening.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Under {
    /// What.
    pub thing: ThingId,
    /// How much room it leaves above the plane of the opening, mm.
    pub free_mm: f64,
}

/// The largest ball in the part is larger than any that passes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BallProof {
    /// Diameter of the ball, mm: what the part needs at its least, however it is turned.
    pub needs_mm: f64,
    /// Diameter of the largest ball that passes, mm.
    pub free_mm: f64,
    /// The middle of the place where that would pass.
    pub at: DVec3,
    /// What it would pass between there, the nearest first; at most two.
    pub between: Vec<ThingId>,
}

/// One plain move of a way out, for a person to follow and a picture to play.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Move {
    /// What is done.
    pub kind: MoveKind,
    /// What is done, in words, with its measures: `raise it 40 mm`.
    pub words: String,
    /// When it begins, s from the first move.
    pub begin_s: f64,
    /// When it ends.
    pub end_s: f64,
    /// Where the part is before.
    pub from: Rigid,
    /// Where it is after.
    pub to: Rigid,
    /// The point of the part, given in its place, that goes straight from begin to end while the part turns
    /// about it at a constant rate, the short way round.
    pub pivot: DVec3,
    /// How far the pivot goes, mm.
    pub distance_mm: f64,
    /// How far the part turns, degrees.
    pub angle_deg: f64,
}

impl Move {
    /// Its motion.
    pub fn motion(&self) -> Motion {
        Motion { from: self.from, to: self.to, pivot: self.pivot }
    }
}

/// What is done in a move.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum MoveKind {
    /// Straight up.
    Raise,
    /// Straight down.
    Lower,
    /// Straight and level.
    Slide,
    /// Straight, both up or down and along.
    SlideSlanting,
    /// Turned about an upright axis.
    Turn,
    /// Turned about a level axis.
    Tip,
    /// Turned about any axis while it slides.
    TurnWhileSliding,
}

/// The nearest change that would let a part out, for a part of which no way was found.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "change")]
pub enum Cure {
    /// The part itself smaller.
    Smaller {
        /// By how much in all along its longest side across the opening, mm.
        by_mm: f64,
    },
    /// Something that is fixed not there.
    Without {
        /// What.
        thing: ThingId,
        /// Its name.
        name: String,
    },
    /// Another part elsewhere.
    Moved {
        /// Which.
        removable: RemovableId,
        /// By how much, mm, along the sump and from front to back.
        by_mm: [f64; 2],
    },
    /// The cabinet's ceiling higher.
    HigherCeiling {
        /// By how much, mm.
        by_mm: f64,
    },
}
