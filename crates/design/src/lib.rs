//! The parameter file resolved into a sump: every part with its shape and its place, every joint,
//! every chamber.
//!
//! Knows how a box is built and what leans on what. Knows no solids, no file format and no screen.
//! After [`resolve`] every default is filled, every name is resolved and every length is absolute: later
//! crates decide nothing. All lengths in mm.
//!
//! Axes are right-handed: x along the sump from the inlet end, y from front to back, z up; the origin
//! is the outer lower front corner of the inlet end.

mod block;
mod checks;
mod clash;
mod divider;
mod door;
mod draft;
mod enclosure;
mod equipment;
mod fixing;
mod frame;
mod gluing;
mod guide;
mod layout;
mod leaf;
mod levels;
mod lid;
mod lifting;
mod marks;
mod mass;
mod model;
mod openings;
mod printed;
mod printing;
mod removables;
mod resolve;
mod rounding;
mod sheets;
mod slice;
mod sock;
mod sock_holder;
mod spaces;
mod standing;
mod surroundings;
pub mod tolerance;
mod wall_fitting;
mod waterworks;

pub use block::Block;
pub use lifting::{LIFTING_SOURCE, MOST_PEOPLE, people_to_lift, who_lifts_alone};
pub use mass::Mass;
pub use model::{
    Chamber, Design, Joint, JointKind, Look, Loose, Piece, PieceId, Placed, PlacedId, Role, Sheet,
    SpareId, WaterBody,
};
pub use printing::{filament, printer};
pub use removables::{LeafSlot, Removable, RemovableId, RemovableKind};
pub use resolve::{Resolved, SafeLevel, resolve, resolve_with};
pub use surroundings::{HoseAbove, Opening, Surrounding, SurroundingKind, Surroundings};
pub use waterworks::{
    Basin, BasinId, Body, Cover, Display, Drain, FreeEnds, Into, Line, PumpData, Shelf, Skimmer,
    Strainer, TopUp, Waterworks, Way, WayKind, WayShape,
};
