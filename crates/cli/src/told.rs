//! What is told of the water, of fit and of ways out in words and tables, the same on a terminal and in the index of a folder.

pub(crate) mod basins;
pub(crate) mod cautions;
pub(crate) mod choices;
pub(crate) mod clearances;
pub(crate) mod course;
pub(crate) mod diagram;
pub(crate) mod events;
pub(crate) mod figures;
pub(crate) mod heights;
pub(crate) mod places;
pub(crate) mod plumbing;
pub(crate) mod reach;
pub(crate) mod reasons;
pub(crate) mod rehearsals;
pub(crate) mod reserve;
pub(crate) mod table;
pub(crate) mod ways;
pub(crate) mod ways_out;

use design::Design;
use water::Outcome;

use crate::in_flow::InFlow;
use figures::Figures;
use table::Table;

/// All tables about levels and flows, in the order in which they are read; `outcomes` are of the failures
/// that were rehearsed, if any were.
pub(crate) fn levels(design: &Design, in_flow: &InFlow<'_>, outcomes: &[Outcome]) -> Vec<Table> {
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
