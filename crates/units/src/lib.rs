//! Quantities with their unit in the type: what a keeper writes, what the other crates compute with.
//!
//! Knows lengths, volumes, flows, temperatures, salinities, angles, masses and speeds, how
//! people write them (`"36 1/4 in"`, `"30 gal"`, `"400 gph"`, `"78 F"`) and how to show them in metric or US
//! customary units. Knows no parameter file and no sump.
//!
//! ```
//! use units::{Length, Flow};
//! assert_eq!("36 1/4 in".parse::<Length>().unwrap().to_mm(), 920.75);
//! assert_eq!(Flow::l_per_h(3600.0).to_m3_per_s(), 1e-3);
//! ```

mod kind;
mod parse;
mod quantity;
mod schema;
mod show;

pub use kind::{KG_PER_LB, Kind, MM_PER_IN, N_PER_LBF, Reading};
pub use parse::ParseError;
pub use quantity::{Angle, Flow, Length, Mass, Quantity, Salinity, Speed, Temperature, Volume};
pub use show::System;
