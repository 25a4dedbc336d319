//! All of it.

use findings::Grade;
use glam::DVec3;
use serde::Serialize;

use crate::play::{Door, Rescue, Slot, Step, Stop, WayOut};
use crate::thing::{Thing, ThingId};
use crate::water::{Basin, Rehearsal};

/// A sump with all that can be told and played of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Show {
    /// What it is called.
    pub title: String,
    /// Whether lengths are told in US customary units.
    pub is_us: bool,
    /// Outer size of the box, mm.
    pub outside_mm: DVec3,
    /// Inside of the bottom above the sump's underside, mm: where levels are counted from.
    pub floor_z_mm: f64,
    /// Whether levels are those in flow; `false` when nothing is known of the flow, and all levels are at rest.
    pub is_in_flow: bool,
    /// Every body.
    pub things: Vec<Thing>,
    /// What holds water.
    pub basins: Vec<Basin>,
    /// Ways out, in the order of the design's removables.
    pub ways: Vec<WayOut>,
    /// What a person does before any hand goes in.
    pub before_hands: String,
    /// Everything out, in order.
    pub emptying: Vec<Step>,
    /// How an animal is got at.
    pub rescue: Option<Rescue>,
    /// Slots that take one of several leaves.
    pub slots: Vec<Slot>,
    /// Doors.
    pub doors: Vec<Door>,
    /// Failures played in time.
    pub rehearsals: Vec<Rehearsal>,
    /// The tour.
    pub stops: Vec<Stop>,
    /// What was found, the worst first.
    pub findings: Vec<Finding>,
    /// The parts list.
    pub parts: Vec<PartRow>,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// How it came out.
    pub grade: Grade,
    /// Its code.
    pub code: String,
    /// What was found.
    pub message: String,
    /// What to do about it.
    pub hint: Option<String>,
    /// Path of its parameter.
    pub parameter: String,
    /// Line of the file, from 1.
    pub line: Option<usize>,
    /// The bodies that it is about.
    pub things: Vec<ThingId>,
}

/// One row of the parts list.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartRow {
    /// Number of the part.
    pub number: String,
    /// Its name.
    pub name: String,
    /// How many of it.
    pub count: usize,
    /// Its size in words.
    pub size: String,
    /// What it is cut from, or bought as.
    pub stock: String,
    /// Mass of one in words, where it is known.
    pub mass: Option<String>,
}
