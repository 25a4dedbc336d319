//! What is told of the water, of fit, of ways out and of strength in words and tables, the same on a terminal and in the index of a folder.

pub mod basins;
pub mod cautions;
pub mod choices;
pub mod clearances;
pub mod costs;
pub mod course;
pub mod diagram;
pub mod events;
pub mod figures;
pub mod gluing;
pub mod heights;
mod line;
pub mod places;
pub mod plumbing;
pub mod reach;
pub mod reasons;
pub mod rehearsals;
pub mod reserve;
pub mod sheets;
pub mod strength;
pub mod table;
pub mod ways;
pub mod ways_out;

pub use line::one_line;

use design::Design;
use water::Outcome;

use crate::in_flow::InFlow;
use figures::Figures;
use table::Table;

/// All tables about levels and flows, in the order in which they are read; `outcomes` are of the failures
/// that were rehearsed, if any were.
pub fn levels(design: &Design, in_flow: &InFlow<'_>, outcomes: &[Outcome]) -> Vec<Table> {
    let figures = Figures(design.report);
    let InFlow { running, report } = in_flow;
    let system = &running.system;
    let tables = [
        vec![basins::table(report, figures)],
        vec![ways::table(running, report, figures), ways::combs(system, report, figures)],
        plumbing::tables(system, report, figures),
        vec![basins::socks(report, figures)],
        choices::tables(report, system.works, figures),
        reserve::tables(in_flow, outcomes, figures),
    ];
    tables.into_iter().flatten().filter(|table| !table.rows.is_empty()).collect()
}
