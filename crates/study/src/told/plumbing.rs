//! The water's way up and down: pumps with their lines, drains.

use params::DrainDuty;
use water::law::Validity;
use water::{DrainReport, LineReport, Report, System};

use super::figures::{Figures, NONE};
use super::heights;
use super::table::Table;

/// Pumps, drains.
pub fn tables(system: &System<'_>, report: &Report, figures: Figures) -> Vec<Table> {
    vec![pumps(report, figures), drains(system, report, figures)]
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
    let lines = report.lines.iter();
    table.notes.extend(lines.filter_map(|line| doubted(&line.pump, line.validity, line.why)));
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

fn drains(system: &System<'_>, report: &Report, figures: Figures) -> Table {
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
        // A main drain is meant to run full.
        let quiet = match drain.duty {
            DrainDuty::Main => NONE.to_owned(),
            _ => figures.flow(drain.quiet_m3_s),
        };
        let at_rim = drain.capacity.last().map_or(NONE.to_owned(), |[_, q]| figures.flow(*q));
        vec![
            drain.name.clone(),
            duty(drain.duty).to_owned(),
            carries,
            format!("{:.0} %", 100.0 * drain.share),
            valve,
            figures.length(drain.intake_m - heights::display_m(system)),
            quiet,
            at_rim,
        ]
    };
    table.rows = report.drains.iter().map(row).collect();
    table.notes.push(
        "\"At the rim\" is what it can carry with the overflow box filled to the display's rim, a main drain as a \
         full siphon with its valve open; \"quiet\" is a quarter of the bore filled, while a main drain is meant to \
         run full."
            .to_owned(),
    );
    if report.drains.iter().any(|drain| drain.valve_open.is_some_and(|open| open < 1.0)) {
        table.notes.push(
            "\"Valve open\" is the share of the bore's area that the valve leaves open, not of its handle's turn."
                .to_owned(),
        );
    }
    let drains = report.drains.iter().filter(|drain| drain.flow_m3_s.mid > 0.0);
    table.notes.extend(drains.filter_map(|d| doubted(&d.name, d.validity, d.why)));
    table.notes.extend(how_to_set(system, report, figures));
    table
}

/// How a keeper sets the valves of the main drains by what the secondary drain carries.
fn how_to_set(system: &System<'_>, report: &Report, figures: Figures) -> Option<String> {
    let display = system.works.display.as_ref()?;
    let set: Vec<String> = (report.drains.iter().filter(|d| d.valve_is_set))
        .map(|drain| format!("`{}`", drain.name))
        .collect();
    let (last, others) = set.split_last()?;
    let (valves, them, slowly) = if others.is_empty() {
        (format!("valve of {last}"), "it", "slowly")
    } else {
        let names = others.join(", ");
        (format!("valves of {names} and {last}"), "them", "slowly, in turn and in small steps,")
    };
    let secondary = report.drains.iter().filter(|d| d.duty == DrainDuty::Secondary);
    let trickle = figures.flow(secondary.map(|d| d.flow_m3_s.mid).sum());
    let below = report.weir_box_m.map(|m| display.crest_mm * 1e-3 - m);
    let stands = if below.mid < 0.0 {
        format!("{} above the crest", figures.length_band(below.map(|m| -m)))
    } else {
        format!("{} below the crest", figures.length_band(below))
    };
    let from_bottom = report.weir_box_m.map(|m| m - heights::display_m(system));
    let from_bottom = figures.length_band(from_bottom);
    Some(format!(
        "To set the {valves}: open {them} fully, start the pump, wait until the drains run quietly, and close {them} \
         {slowly} until the secondary drain carries a trickle (about {trickle}): the water in the overflow box then \
         stands {stands} ({from_bottom} above the display's bottom). Wait ten minutes and look again."
    ))
}

/// Where what something carries lies outside of what its formula is known for.
fn doubted(name: &str, validity: Validity, why: &str) -> Option<String> {
    let how = match validity {
        Validity::Within => return None,
        Validity::Extrapolated => "outside the range of its formula",
        Validity::NotPredictable => "not predictable",
    };
    Some(format!("{name}: {how}: {why}."))
}

fn duty(duty: DrainDuty) -> &'static str {
    match duty {
        DrainDuty::Main => "main",
        DrainDuty::Secondary => "secondary",
        DrainDuty::Emergency => "emergency",
    }
}
