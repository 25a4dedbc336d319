//! What is told of the water in words and tables, the same on a terminal and in the index of a folder.

pub(crate) mod basins;
pub(crate) mod cautions;
pub(crate) mod choices;
pub(crate) mod diagram;
pub(crate) mod events;
pub(crate) mod figures;
pub(crate) mod plumbing;
pub(crate) mod reasons;
pub(crate) mod rehearsals;
pub(crate) mod reserve;
pub(crate) mod table;
pub(crate) mod ways;

use design::Design;
use water::Report;

use figures::Figures;
use table::Table;

/// All tables about levels and flows, in the order in which they are read.
pub(crate) fn levels(design: &Design, report: &Report) -> Vec<Table> {
    let figures = Figures(design.report);
    let works = &design.waterworks;
    let tables = [
        vec![basins::table(report, figures)],
        vec![ways::table(report, figures), ways::combs(report, figures)],
        plumbing::tables(report, figures),
        vec![basins::socks(report, figures)],
        choices::tables(report, works, figures),
        reserve::tables(report, figures),
    ];
    tables.into_iter().flatten().filter(|table| !table.rows.is_empty()).collect()
}
