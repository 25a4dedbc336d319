//! All that is shown live and played of a sump, as plain data: for the window and for the page to send.
//!
//! Holds no triangles: what is drawn is in a `scene::Scene`, and told apart here by its place in the list of all its bodies:
//! first those of the sump, then its spares, then the things of its cabinet.

mod play;
mod show;
mod thin;
mod thing;
mod water;

pub use play::{Door, Rescue, Slot, Step, Stop, WayOut};
pub use show::{Finding, PartRow, Show};
pub use thing::{Group, Thing, ThingId};
pub use water::{Basin, Event, Flows, Rehearsal};
