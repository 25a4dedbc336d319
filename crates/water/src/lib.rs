//! What water does in a sump: the level in every chamber at the flow that really runs, and what every
//! failure does in time.
//!
//! Knows weirs, openings, pipes, pumps and chambers, and how they act together. Knows no file format,
//! no screen and no clock. Inside, everything is SI: metres, square metres, cubic metres, seconds;
//! heights are above the inside of the sump's bottom.

mod gravity;
pub mod law;
mod network;
mod smooth;
mod table;
pub mod weir;

pub use law::{Flow, Law};
pub use gravity::G;
pub use network::{Element, Kind, Network, Step, Tank};
pub use table::Table;
