//! What moves: ways out, doors, leaves for one slot; and the tour.

use fit::Move;
use glam::DVec3;
use serde::Serialize;

use crate::thing::ThingId;

/// The way out of one part, with what is taken out before it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WayOut {
    /// What comes out.
    pub name: String,
    /// What is said of it: `comes out after drain main`.
    pub verdict: String,
    /// What is done, in order, the part itself last; none when no way is known.
    pub steps: Vec<Step>,
}

/// One part taken out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// What comes out.
    pub name: String,
    /// What moves.
    pub things: Vec<ThingId>,
    /// What is undone before, and is away from then on.
    pub undone: Vec<ThingId>,
    /// What a person does before: `switch it off, unplug it`.
    pub undo: Option<String>,
    /// How it moves, with when each move begins and ends, s from the first.
    pub moves: Vec<Move>,
    /// How near it comes to anything, in words.
    pub least_gap: String,
}

/// How the whole floor of the first chamber comes within a hand's reach.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rescue {
    /// The chamber.
    pub chamber: String,
    /// What is said of it.
    pub verdict: String,
    /// What is taken out, in order.
    pub steps: Vec<Step>,
}

/// A slot that takes one of several leaves.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Slot {
    /// Name of the divider.
    pub name: String,
    /// The leaves: what each is called and what it is made of; the one that is in first.
    pub leaves: Vec<(String, Vec<ThingId>)>,
}

/// A door, which slides between two settings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Door {
    /// Its leaf.
    pub leaf: String,
    /// What moves.
    pub things: Vec<ThingId>,
    /// Height of its crest at the lowest and at the highest setting, and where it is, mm above the inside of the bottom.
    pub lowest_mm: f64,
    /// At the highest.
    pub highest_mm: f64,
    /// Where it is.
    pub set_mm: f64,
}

/// One stop of the tour.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Stop {
    /// Its heading.
    pub title: String,
    /// What it is for and what to look at, a paragraph each.
    pub text: Vec<String>,
    /// Findings about it: indices into [`Show::findings`](crate::Show::findings).
    pub findings: Vec<usize>,
    /// What is looked at: least and greatest corner, mm.
    pub about: [DVec3; 2],
    /// From where: a direction from there to the eye.
    pub from: DVec3,
}
