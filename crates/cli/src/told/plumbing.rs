//! The water's way up and down: pumps with their lines, drains.

use params::DrainDuty;
use water::{DrainReport, LineReport, Report};

use super::figures::{Figures, NONE};
use super::table::Table;

/// Pumps, drains.
pub(crate) fn tables(report: &Report, figures: Figures) -> Vec<Table> {
    vec![pumps(report, figures), drains(report, figures)]
}

fn pumps(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Pumps",
        [
            "pump",
            "to",
            "moves",
            "lifts",
            "makes",
            "at no flow",
            "speed in line",
            "water over intake",
            "wanted",
        ],
    );
    let row = |line: &LineReport| {
        vec![
            line.pump.clone(),
            line.to.clone(),
            figures.flow_band(line.flow_m3_s),
            figures.head(line.lift_m),
            figures.head(line.head_m),
            figures.head(line.shut_off_m),
            figures.speed(line.speed_m_s),
            figures.length(line.submergence_m),
            figures.length(line.wanted_submergence_m),
        ]
    };
    table.rows = report.lines.iter().map(row).collect();
    for line in &report.lines {
        let guessed = if line.curve_is_guessed {
            "; its curve is guessed from flow and head, give `curve` from the data sheet"
        } else {
            ""
        };
        let source = line.wanted_submergence_source;
        table
            .notes
            .push(format!("{}: water over the intake is wanted by {source}{guessed}.", line.pump));
    }
    table
}

fn drains(report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Drains",
        [
            "drain",
            "duty",
            "carries",
            "share",
            "valve open",
            "mouth at",
            "quiet up to",
            "at the rim",
        ],
    );
    let row = |drain: &DrainReport| {
        let valve = match drain.valve_open {
            Some(open) if drain.valve_is_set => format!("{:.0} % (set)", 100.0 * open),
            Some(open) => format!("{:.0} %", 100.0 * open),
            None => NONE.to_owned(),
        };
        let carries = if drain.flow_m3_s.mid > 0.0 {
            figures.flow_band(drain.flow_m3_s)
        } else {
            "dry".to_owned()
        };
        let at_rim = drain.capacity.last().map_or(NONE.to_owned(), |[_, q]| figures.flow(*q));
        vec![
            drain.name.clone(),
            duty(drain.duty).to_owned(),
            carries,
            format!("{:.0} %", 100.0 * drain.share),
            valve,
            figures.length(drain.intake_m),
            figures.flow(drain.quiet_m3_s),
            at_rim,
        ]
    };
    table.rows = report.drains.iter().map(row).collect();
    table.notes.push(
        "\"At the rim\" is what it can carry with the overflow box filled to the display's rim, a main drain as a \
         full siphon with its valve open; \"quiet\" is a quarter of the bore filled."
            .to_owned(),
    );
    if report.drains.iter().any(|drain| drain.valve_is_set) {
        table.notes.push(
            "\"Set\" is where a keeper sets the valve so that the secondary drain carries the wanted trickle."
                .to_owned(),
        );
    }
    table
}

fn duty(duty: DrainDuty) -> &'static str {
    match duty {
        DrainDuty::Main => "main",
        DrainDuty::Secondary => "secondary",
        DrainDuty::Emergency => "emergency",
    }
}
