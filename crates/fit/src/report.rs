//! All that is known about fit and access, as plain data.

mod making;
mod tight;

use design::RemovableId;
use glam::{DVec2, DVec3};
use serde::Serialize;

use crate::way::{Cure, Move, Verdict};
pub(crate) use tight::HAND_MM;

use crate::world::{ThingId, World};

/// A design's bodies, and all that is known about how they fit.
#[derive(Clone, Debug)]
pub struct Fit {
    /// All bodies.
    pub world: World,
    /// What is known.
    pub report: Report,
}

/// All that is known about fit and access.
#[derive(Clone, Debug)]
pub struct Report {
    /// Every pair of things that are not meant to touch and are near each other, the closest first.
    pub clearances: Vec<Clearance>,
    /// For every removable its way out, in the order of [`Design::removables`](design::Design::removables).
    pub ways: Vec<Way>,
    /// The order in which everything can be taken out, each with its way given what went before.
    pub emptying: Vec<Step>,
    /// What can be reached, chamber by chamber.
    pub reach: Vec<ChamberReach>,
    /// How the whole floor of the first chamber comes within a hand's reach.
    pub rescue: Option<Rescue>,
}

/// How far apart two things are that are not meant to touch.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Clearance {
    /// One thing.
    pub a: ThingId,
    /// The other.
    pub b: ThingId,
    /// Their names.
    pub names: [String; 2],
    /// Paths of their parameters.
    pub parameters: [String; 2],
    /// Least gap, mm; 0 when they touch, negative by how deep they share room.
    pub gap_mm: f64,
    /// The nearest points of both, or where they share room, mm.
    pub at: [DVec3; 2],
    /// Which limit it is held against, mm.
    pub limit_mm: f64,
    /// What that limit is.
    pub held_to: HeldTo,
    /// When it is not in place: `its door at the highest setting`, `its cup lifted off`.
    pub when: Option<String>,
}

/// What the gap of two things is held against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum HeldTo {
    /// `fit.gap`.
    Gap,
    /// `fit.finger_gap`.
    FingerGap,
    /// `fit.cabinet_gap`.
    CabinetGap,
    /// Both have their own play by the file, and only must not share room: a leaf and the wall that its guides are on.
    OwnPlay,
    /// Both are built in, and only must not share room.
    NoRoomShared,
    /// One must not stand in the room that the service of the other needs.
    ServiceRoom,
}

/// The way out of one removable.
#[derive(Clone, Debug)]
pub struct Way {
    /// Which.
    pub removable: RemovableId,
    /// What is known with everything else in place; of one of which no way is known, with everything out that comes
    /// out.
    pub alone: Verdict,
    /// What is taken out and in which order so that it comes out, itself last: one step alone when nothing is
    /// in its way, none when no way is known.
    pub steps: Vec<Step>,
    /// Whether everything shorter was tried and gave no way that a person can follow: a way with everything in place by
    /// many moves is in `alone`. Tries are no proof, except where nothing is in its way.
    pub is_shortest: bool,
    /// What it passes itself, on its way as the last of `steps`, closer than a hand can: the closest.
    pub passes: Option<Passed>,
    /// What stood in the way, when there is no way: names, worst first, with how far the nearest try would have cut
    /// into them, mm.
    pub blocked_by: Vec<(String, f64)>,
    /// The nearest change that would let it out, when no way is known.
    pub cure: Option<Cure>,
}

/// Something that a part passes closely, and that does not hold or guide it in its place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Passed {
    /// Name of the thing.
    pub name: String,
    /// The least gap between them, mm.
    pub gap_mm: f64,
}

impl Step {
    /// What is done, in one line.
    pub fn sentence(&self) -> String {
        let moves = self.moves.iter().map(|m| m.words.as_str());
        self.undo.as_deref().into_iter().chain(moves).collect::<Vec<_>>().join("; ")
    }
}

/// One thing taken out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    /// Which.
    pub removable: RemovableId,
    /// Its name.
    pub name: String,
    /// What is undone by hand before, in words.
    pub undo: Option<String>,
    /// Names of drains whose hoses its way goes through: they are bent aside meanwhile.
    pub pushed_aside: Vec<String>,
    /// How it moves.
    pub moves: Vec<Move>,
    /// The least gap on its way, mm, as far as it was sampled.
    pub least_gap_mm: f64,
}

/// What can be reached in one chamber.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChamberReach {
    /// Name of the chamber.
    pub chamber: String,
    /// Path of its parameter.
    pub parameter: String,
    /// For the hand and for each tool.
    pub tools: Vec<ToolReach>,
    /// Where nothing of the floor is reached, whatever comes out, what is in the way: each by itself, the likeliest to be
    /// changed first. Of the first chamber also where only the hand reaches nothing.
    pub hindrances: Vec<Hindrance>,
}

/// Something that keeps hand and tools out of a chamber altogether.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Hindrance {
    /// What.
    pub kind: HindranceKind,
    /// Path of its parameter.
    pub parameter: String,
    /// What reaches most of the floor with it otherwise: `hand`, `net`.
    pub tool: String,
    /// Which share that is, 0 to 1, with all out that comes out.
    pub share: f64,
}

/// What keeps hand and tools out.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "what")]
pub enum HindranceKind {
    /// An opening of the cabinet that ends too low.
    LowOpening {
        /// Its upper edge above the sump's rim, mm.
        above_rim_mm: f64,
        /// How much higher it must end at least, of the measures that were tried, mm.
        by_mm: f64,
    },
    /// An opening of the cabinet that would have to be as large as its wall.
    SmallOpening,
    /// The cabinet's ceiling.
    LowCeiling {
        /// It above the sump's rim, mm.
        above_rim_mm: f64,
        /// How much higher it must be at least, of the measures that were tried, mm.
        by_mm: f64,
    },
    /// Something that lifts out, of which no way is known.
    Stuck {
        /// Its name.
        name: String,
    },
    /// Something that is fixed.
    Thing {
        /// Its name.
        name: String,
    },
    /// Several things of the cabinet together.
    Cabinet,
    /// The arm, or the tool, is too short.
    ShortArm {
        /// So many times as long it does.
        times: f64,
    },
    /// The chamber is narrower than all that reaches in.
    Narrow {
        /// Its lesser side, mm.
        wide_mm: f64,
        /// The least thickness of hand and tools, mm.
        thinnest_mm: f64,
    },
}

/// What one tool reaches on the floor of a chamber.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ToolReach {
    /// Its name: `hand`, `net`.
    pub tool: String,
    /// Share of the floor that it reaches with everything in place, 0 to 1.
    pub share: f64,
    /// Share that it reaches with `taken_out` gone.
    pub best_share: f64,
    /// What is taken out for that, in order; as little as gives the best share.
    pub taken_out: Vec<RemovableId>,
    /// A place that it does not even reach then, in the sump's x, y, mm.
    pub out_of_reach: Option<DVec2>,
}

/// How the floor of the first chamber comes within reach.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Rescue {
    /// Name of the chamber.
    pub chamber: String,
    /// What is taken out, in order, each with its way.
    pub steps: Vec<Step>,
    /// Share of the floor that a hand reaches then, 0 to 1.
    pub share: f64,
    /// Whether every removal has a way that was found.
    pub is_possible: bool,
}
