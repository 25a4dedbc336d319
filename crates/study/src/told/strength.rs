//! What is told of strength, weight and tolerances: tables in the file's units, and what to mind.

mod fits;
mod not_assessed;
mod panels;
mod seams;
mod shown;
mod verdict;
mod weight;

use design::Design;
use strength::Strength;

use super::table::Table;

pub use shown::{held, show_factor};
pub use verdict::verdict;

/// What to mind where strength is told, in the order in which it is read.
pub const CAUTIONS: [&str; 3] = [ESTIMATES, FULL_TEST, FLOOR];

/// The usual caution beside estimates of strength.
const ESTIMATES: &str = "A panel that gives way floods the room, and its edges cut. These figures are estimates: thin \
    plates, the thickness that the file gives (the least of its band), values that makers publish, seams without bubbles. \
    They are no proof: measure your sheets and write `measured` into the file.";

/// What decides in the end.
const FULL_TEST: &str = "What decides is a test: before it comes into the house, stand the sump outdoors or in a tub on \
    a level board, fill it with fresh water to the stages of the glue-up guide, the last for an hour at most, then a day \
    at the highest level of use, hands and feet out of the way, a hose ready. Look at every seam and measure how far the walls bulge: if a seam shows a line, whitens or weeps, or a wall bulges \
    much more than is told here, empty it and do not use it.";

/// Who is asked about the floor.
const FLOOR: &str = "Whether a floor bears the weight is not known here: ask a qualified person (a structural engineer, \
    the building's owner) before you fill it.";

/// All tables, in the order in which they are read. Those without a row are left out.
pub fn tables(strength: &Strength, design: &Design) -> Vec<Table> {
    let tables = [
        panels::summary(strength, design),
        panels::places(strength),
        panels::remedies(strength, design),
        panels::loads(strength, design),
        panels::edges(strength),
        panels::corners(strength, design),
        panels::rims(strength, design),
        seams::table(&strength.seams, design),
        weight::table(&strength.weight, design),
        weight::standing(&strength.weight, design),
        fits::table(&strength.stacks, design),
        not_assessed::table(strength, design),
    ];
    tables.into_iter().filter(|table| !table.rows.is_empty()).collect()
}
