//! Ways that the water takes over, under and through leaves.

use water::law::Validity;
use water::{CombReport, Part, Report, Running, System, WayReport};

use super::figures::{Figures, NONE};
use super::heights;
use super::table::Table;

/// What leaks past a leaf or a door is told where it is more than this share of the flow.
const WORTH_TELLING: f64 = 0.01;

/// Every way of the leaves that are in.
pub fn table(running: &Running<'_>, report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Ways over and through leaves",
        ["way", "lower edge", "head", "passes", "mean speed", "to note"],
    );
    let mut notes: Vec<&'static str> = Vec::new();
    for way in &report.ways {
        let reason = (way.head_m.mid > 0.0 && !way.why.is_empty()).then_some(way.why);
        let number = reason.map(|why| {
            let known = notes.iter().position(|note| *note == why);
            known.unwrap_or_else(|| {
                notes.push(why);
                notes.len() - 1
            }) + 1
        });
        table.rows.push(row(way, number, figures));
    }
    let numbered = notes.iter().enumerate().map(|(k, why)| format!("({}) {why}.", k + 1));
    table.notes.extend(numbered);
    table.notes.extend(leaks(running, figures));
    table
}

/// What passes beside leaves and doors, where the ways alone do not carry the whole flow.
fn leaks(running: &Running<'_>, figures: Figures) -> Vec<String> {
    let system = &running.system;
    let flow_m3_s = running.return_flow();
    let mut told: Vec<&Part> = Vec::new();
    let mut notes = Vec::new();
    for part in &system.parts {
        let gap = match part {
            Part::LeafLeak { divider, place } => {
                let is_it = |way: &&design::Way| {
                    way.is_in && way.divider == *divider && way.place == *place
                };
                let leaf = system.works.ways.iter().find(is_it).map_or("", |way| &way.leaf);
                format!("beside the lift-out leaf `{leaf}`")
            }
            Part::DoorLeak { leaf } => format!("by the gap of the door of `{leaf}`"),
            _ => continue,
        };
        let leak_m3_s = running.flow(|other| other == part).abs();
        if told.contains(&part) || leak_m3_s < WORTH_TELLING * flow_m3_s {
            continue;
        }
        told.push(part);
        let (leak, share) = (figures.flow(leak_m3_s), 100.0 * leak_m3_s / flow_m3_s);
        notes.push(format!("The rest passes {gap}: {leak}, {share:.0} % of the flow."));
    }
    notes
}

/// Combs and slots with a part of their slots blocked.
pub fn combs(system: &System<'_>, report: &Report, figures: Figures) -> Table {
    let mut table = Table::new(
        "Combs and slots, when leaves and hair block a part of them",
        ["comb", "level before it", "a quarter blocked", "half blocked", "in"],
    );
    let row = |comb: &CombReport| {
        let mut row = vec![comb.name.clone()];
        let zero_m = heights::zero_m(system, comb.tank);
        row.extend(comb.levels_m.iter().map(|[_, level]| figures.length(*level - zero_m)));
        row.push(comb.before.clone());
        row
    };
    table.rows = report.combs.iter().map(row).collect();
    table
}

/// What is to note of a way is told once under the table, by its number.
fn row(way: &WayReport, number: Option<usize>, figures: Figures) -> Vec<String> {
    let is_dry = way.head_m.mid <= 0.0;
    let wet = |cell: String| if is_dry { NONE.to_owned() } else { cell };
    vec![
        way.name.clone(),
        figures.length(way.sill_m),
        wet(figures.length_band(way.head_m)),
        wet(figures.flow(way.flow_m3_s)),
        wet(figures.speed(way.speed_m_s)),
        if is_dry { "dry".to_owned() } else { note(way, number) },
    ]
}

fn note(way: &WayReport, number: Option<usize>) -> String {
    let validity = match way.validity {
        Validity::Within => "",
        Validity::Extrapolated => "outside the standards' range",
        Validity::NotPredictable => "not predictable",
    };
    let number = number.map_or(String::new(), |number| format!("({number})"));
    let drowned = if way.is_drowned { "drowned from below" } else { "" };
    let parts = [drowned, validity].into_iter().filter(|words| !words.is_empty());
    let words = parts.collect::<Vec<_>>().join(", ");
    format!("{words} {number}").trim().to_owned()
}
