//! Levels, flows and failures that are others.

use water::Outcome;

use crate::in_flow::InFlow;
use crate::reading::Wet;
use crate::told::figures::Figures;
use crate::told::rehearsals::{least_freeboard, on_all_floors, verdict};
use crate::told::table::Table;

use super::{NONE, note_same, row};

/// Levels in flow, then failures; nothing where neither side knows its water.
pub(super) fn tables(sides: [&Wet<'_>; 2]) -> Vec<Table> {
    let figures = Figures(sides[1].design.report);
    let in_flow = sides.map(|side| side.known.in_flow.as_ref());
    if in_flow.iter().all(Option::is_none) {
        return Vec::new();
    }
    vec![levels(in_flow, figures), failures(sides, figures)]
}

/// A figure of a running sump, in words.
type Told<'a> = &'a dyn Fn(&InFlow<'_>) -> Option<String>;

fn levels(sides: [Option<&InFlow<'_>>; 2], figures: Figures) -> Table {
    let mut table = Table::new("Levels and flows", ["figure", "before", "after"]);
    let mut n_same = 0;
    let mut add = |what: &str, told: Told<'_>| {
        let both = sides.map(|side| side.and_then(told).unwrap_or_else(|| NONE.to_owned()));
        match row(what, both) {
            Some(row) => table.rows.push(row),
            None => n_same += 1,
        }
    };
    add("flow up to the display", &|side| Some(figures.flow_band(side.report.return_flow_m3_s)));
    add("turnover of the display an hour", &|side| {
        Some(format!("{:.1}", side.report.turnover_per_h))
    });
    add("all water", &|side| Some(figures.volume(side.report.volume_m3)));
    let chambers = sides[1].or(sides[0]).map_or(&[][..], |side| &side.report.basins[..]);
    for name in chambers.iter().filter(|basin| basin.is_chamber).map(|basin| &basin.name) {
        add(&format!("level in {name}"), &|side| {
            let basin = side.report.basins.iter().find(|basin| basin.name == *name)?;
            Some(figures.length_band(basin.level_m))
        });
    }
    add("highest safe level in the return", &|side| {
        Some(side.report.reserve.highest_safe_m.map_or("none".to_owned(), |m| figures.length(m)))
    });
    add("comes down after a power cut", &|side| {
        Some(figures.litres(side.report.reserve.drain_back_l))
    });
    add("lasts without top-up, at least", &|side| {
        Some(format!("{:.1} days", side.report.reserve.days))
    });
    note_same(&mut table, n_same, ["figure", "figures"]);
    table
}

fn failures(sides: [&Wet<'_>; 2], figures: Figures) -> Table {
    let mut table = Table::new("Failures rehearsed", ["failure", "before", "after"]);
    let names = sides.iter().rev().flat_map(|side| &side.known.outcomes).map(|o| &o.name);
    let (mut n_same, mut done) = (0, Vec::new());
    for name in names {
        if done.contains(&name) {
            continue;
        }
        done.push(name);
        let both = sides.map(|side| {
            let outcome = side.known.outcomes.iter().find(|outcome| outcome.name == *name);
            let told = outcome.zip(side.known.in_flow.as_ref());
            told.map_or(NONE.to_owned(), |(outcome, in_flow)| words(outcome, in_flow, figures))
        });
        match row(name, both) {
            Some(row) => table.rows.push(row),
            None => n_same += 1,
        }
    }
    note_same(&mut table, n_same, ["failure", "failures"]);
    table
}

/// `holds, 42 mm to the rim of return`.
fn words(outcome: &Outcome, in_flow: &InFlow<'_>, figures: Figures) -> String {
    let system = &in_flow.running.system;
    let least = least_freeboard(outcome, system).filter(|(_, m)| 0.0 <= *m);
    let least = least.map_or_else(String::new, |(tank, m)| {
        format!(", {} to the rim of {}", figures.length(m), system.network.tanks[tank].name)
    });
    let floor = on_all_floors(outcome, figures)
        .map_or_else(String::new, |litres| format!(", {litres} on the floor"));
    format!("{}{least}{floor}", verdict(outcome, system))
}
