//! The files about the water, for a folder of their own or for `--into`.

use std::fs;
use std::path::Path;

use anyhow::Context;
use design::Design;
use export::plot;
use serde_json::{Value, json};
use water::{Outcome, Report, Running, System};

use crate::csv;
use crate::file_name::FileName;
use crate::told::{self, cautions, diagram, rehearsals, table};
use crate::whole_file::{self, There};

/// A file about the water.
#[derive(Debug)]
pub(crate) struct WaterFile {
    pub(crate) name: FileName,
    pub(crate) extension: &'static str,
    pub(crate) purpose: String,
    pub(crate) bytes: Vec<u8>,
}

impl WaterFile {
    fn new(name: &str, extension: &'static str, purpose: impl Into<String>, text: String) -> Self {
        let name = FileName::of(name, "water");
        Self { name, extension, purpose: purpose.into(), bytes: text.into_bytes() }
    }
}

/// The section with its levels, and all tables as text.
pub(crate) fn levels(design: &Design, report: &Report) -> [WaterFile; 2] {
    [
        WaterFile::new(
            "levels",
            "svg",
            "the sump cut along its length with the water in flow",
            plot::long_section(design, report),
        ),
        WaterFile::new(
            "levels",
            "txt",
            "levels, flows, doors, drains and reserve with the pump running",
            levels_text(design, report),
        ),
    ]
}

/// All that is told of levels and flows, as text.
pub(crate) fn levels_text(design: &Design, report: &Report) -> String {
    let mut text = diagram::draw(design, report);
    for table in told::levels(design, report) {
        text += "\n";
        text += &table.text();
    }
    text + "\n" + &table::wrapped(cautions::ESTIMATES)
}

/// The table of all failures, and the curves of each.
pub(crate) fn of_rehearsals(
    outcomes: &[Outcome],
    running: &Running<'_>,
    units: units::System,
) -> Vec<WaterFile> {
    let system = &running.system;
    let mut files = vec![WaterFile::new(
        "rehearsals",
        "csv",
        "what every failure does, for a spreadsheet",
        summary(outcomes, system),
    )];
    for (name, outcome) in names(outcomes).into_iter().zip(outcomes) {
        let file = |extension, purpose: &str, text: String| WaterFile {
            name: name.clone(),
            extension,
            purpose: format!("{}: {purpose}", outcome.name),
            bytes: text.into_bytes(),
        };
        files.push(file("csv", "levels in time, for a spreadsheet", curves(outcome, system)));
        files.push(file("svg", "levels in time, drawn", plot::rehearsal(outcome, running, units)));
    }
    files
}

/// A file's name for each, numbered in their order: names that differ in a sign alone stay apart.
fn names(outcomes: &[Outcome]) -> Vec<FileName> {
    let number = |k: usize| format!("{:02}", k + 1);
    outcomes.iter().enumerate().map(|(k, o)| FileName::numbered(&number(k), &o.name)).collect()
}

/// One line for each failure: mm, litres, seconds after the failure, g/kg.
fn summary(outcomes: &[Outcome], system: &System<'_>) -> String {
    let mut text = String::from(csv::MARK);
    text += "failure,outcome,least_to_a_rim_mm,where,under_the_sump_l,at_most_l,under_the_display_l,at_most_l,\
             first_trouble_s,trouble,draws_air_s,salinity_at_end_g_kg,played_s\r\n";
    for outcome in outcomes {
        let least = rehearsals::least_freeboard(outcome, system);
        let trouble = rehearsals::trouble(outcome, system);
        let number = |value: Option<f64>, decimals: usize| {
            value.filter(|v| v.is_finite()).map_or(String::new(), |v| format!("{v:.decimals$}"))
        };
        let spill = outcome.spill;
        text += &csv::line(&[
            csv::cell(&outcome.name),
            csv::cell(&rehearsals::verdict(outcome, system)),
            number(least.map(|(_, m)| m * 1e3), 1),
            csv::cell(least.map_or("", |(tank, _)| &system.network.tanks[tank].name)),
            number(Some(spill.sump_l.mid), 2),
            number(Some(spill.sump_l.high), 2),
            number(Some(spill.display_l.mid), 2),
            number(Some(spill.display_l.high), 2),
            number(trouble.as_ref().map(|(s, _)| *s), 1),
            csv::cell(trouble.as_ref().map_or("", |(_, words)| words)),
            number(outcome.draws_air_s.map(|figure| figure.mid), 1),
            number(Some(outcome.salinity_g_kg), 3),
            number(Some(outcome.end_s - water::BEGIN_S), 0),
        ]);
    }
    text
}

/// Levels in time: mm above the inside of the sump's bottom; of what only collects, litres since the begin.
fn curves(outcome: &Outcome, system: &System<'_>) -> String {
    let tanks = &system.network.tanks;
    let head = tanks.iter().map(|tank| {
        let unit = if tank.is_sink { "L gained" } else { "mm" };
        csv::cell(&format!("{} ({unit})", tank.name))
    });
    let head: Vec<String> =
        std::iter::once("time after the failure (s)".to_owned()).chain(head).collect();
    let mut text = String::from(csv::MARK) + &csv::line(&head);
    let begun = outcome.samples.first().map_or(&[][..], |sample| &sample.levels_m);
    for sample in &outcome.samples {
        let level = |(i, tank): (usize, &water::Tank)| {
            let m = sample.levels_m[i];
            if tank.is_sink {
                format!("{:.3}", 1e3 * (tank.volume(m).0 - tank.volume(begun[i]).0))
            } else {
                format!("{:.2}", m * 1e3)
            }
        };
        let cells = tanks.iter().enumerate().map(level);
        let time = format!("{:.2}", sample.t_s - water::BEGIN_S);
        text += &csv::line(&std::iter::once(time).chain(cells).collect::<Vec<_>>());
    }
    text
}

/// Writes files into a folder that may hold others; those of the same name are replaced. Returns the paths.
pub(crate) fn write(folder: &Path, files: &[WaterFile]) -> anyhow::Result<Vec<String>> {
    fs::create_dir_all(folder)
        .with_context(|| format!("cannot make the folder `{}`", folder.display()))?;
    let write = |file: &WaterFile| {
        let path = folder.join(format!("{}.{}", file.name, file.extension));
        whole_file::write(&path, &file.bytes, There::IsReplaced)?;
        Ok(path.display().to_string())
    };
    files.iter().map(write).collect()
}

/// What a failure did as JSON, in SI units; what never happens is null.
pub(crate) fn as_json(outcome: &Outcome, system: &System<'_>) -> Value {
    json!({
        "name": outcome.name,
        "words": outcome.words,
        "outcome": rehearsals::verdict(outcome, system),
        "begin_s": water::BEGIN_S,
        "end_s": outcome.end_s,
        "stop": outcome.stop,
        "tanks": system.network.tanks.iter().map(|tank| &tank.name).collect::<Vec<_>>(),
        "events": outcome.events,
        "reaches": outcome.reaches,
        "spill": outcome.spill,
        "draws_air_s": outcome.draws_air_s,
        "salinity_g_kg": outcome.salinity_g_kg,
        "cycles": outcome.cycles,
        "drift_m3": outcome.drift_m3,
        "total_m3": outcome.total_m3,
        "band_is_doubtful": outcome.band_is_doubtful,
    })
}
