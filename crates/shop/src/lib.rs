//! What the shop does with the panels of a sump: sheets, tools, prices and the order of work.
//!
//! Knows processes, sheets, prices and glue. Knows no file format, no screen, no water.

mod checks;
mod estimate;
mod film;
pub mod glue_up;
mod hardware;
pub mod nest;
mod order;
mod plan;
mod process;
pub mod sheets;
mod time;
mod tool;
mod work;

pub use checks::check_process;
pub use estimate::{
    Estimate, EstimateRow, estimate, shown_area, shown_money, shown_price, unknown_prices,
};
pub use film::{CutOut, Film, FilmPanel, OUTDOOR_YEARS, RETAIL_USD_SQ_FT, STRIP_OVERLAP_MM, film};
pub use hardware::{HardwareItem, Origin, Supply, hardware, supplies};
pub use order::{Route, Step, route};
pub use plan::{ChosenBy, Laid, LaidSheet, Offcut, SawCut, StockPlan};
pub use process::{Machine, STEPOVER_SHARE};
pub use time::{SheetTime, time_of};
pub use work::{
    BRIDGE_SPACING_MM, Bridge, CutPath, Operation, OperationKind, Run, Work, is_for_a_saw,
    operations_of, works,
};
