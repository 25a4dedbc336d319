//! The papers of a sump: drawings of its panels, cutting sheets, lists, the glue-up guide, the commissioning sheet, and
//! the letter to the shop.
//!
//! Knows what stands on them. Knows no file format: pages go to `export` as plain marks.

mod alone;
mod commissioning;
mod costs;
mod cutting_sheet;
mod drawing_sheet;
mod film;
mod fresh;
mod guide;
mod lengths;
mod letter;
mod lists;
mod outline;
mod panel_drawing;
mod prose;
mod safety;
mod title_block;

pub use alone::together as both_sides;
pub use commissioning::commissioning;
pub use costs::costs_of;
pub use cutting_sheet::{CuttingSheets, cutting_sheet};
pub use film::film;
pub use guide::{GuideOf, guide};
pub use letter::{LetterOf, letter};
pub use lists::lists;
pub use panel_drawing::{PanelDrawing, panel_drawing};
