//! What the shop does with the panels of a sump: sheets, tools, prices and the order of work.
//!
//! Knows processes, sheets, prices and glue. Knows no file format, no screen, no water.

pub mod nest;
mod plan;
mod work;

pub use plan::{Laid, LaidSheet, Offcut, SawCut, StockPlan};
pub use work::{CutPath, Operation, OperationKind, Work};
