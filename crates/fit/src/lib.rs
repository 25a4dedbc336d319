//! Whether everything fits, and whether everything that must come out can come out.
//!
//! Three questions about a resolved sump, asked of the real shapes of its parts:
//!
//! - **Clearances**: what touches that should not, and how far apart the rest is.
//! - **Ways out**: for every removable part a motion from its place to outside that touches nothing: past
//!   rim, braces and pipes, and out of the cabinet. A motion that is told was proved free by swept hulls; one that
//!   was not found is only called impossible where that is proved too.
//! - **Reach**: whether a hand or a tool gets to the floor of a chamber, and what must be taken out first.
//!
//! Knows no file format and no screen, reads no clock, and throws dice only from the seed in the file. All
//! lengths in mm in the sump's frame, angles in rad unless a name says otherwise, times in s.

mod checks;
mod clearance;
mod convex;
mod cure;
mod motion;
mod nearest;
mod order;
mod pieces;
mod plan;
mod reach;
mod report;
mod way;
mod words;
mod world;

pub use checks::{REACH_LIMITS, fits_no_opening, grade, hindrance, in_its_place};
pub use clearance::{InService, NEAR_MM, taken_out_first, untold};
pub use convex::Convex;
pub use motion::{Motion, Rigid};
pub use pieces::FINE_CHORD_MM;
pub use plan::{ALLOWANCE_MM, Body, Effort, MARGIN_MM, Space, plan};
pub use report::{
    ChamberReach, Clearance, Fit, HeldTo, Hindrance, HindranceKind, Passed, Report, Rescue, Step,
    ToolReach, Way,
};
pub use way::{BallProof, Cure, Move, MoveKind, Proof, SectionProof, Under, Verdict};
pub use words::{
    BEFORE_HANDS, BEFORE_HANDS_HEAD, ToldProof, cure as cure_words, gap as gap_words,
    inside_corner, length as length_words, listed, percent, tell_proof,
};
pub use world::{Door, Exits, Origin, Thing, ThingId, Window, World};
