//! The files about the water, for a folder of their own or for `--into`.

use std::path::Path;

use design::Design;
use export::plot;
use serde_json::{Value, json};
use study::InFlow;
use study::told::course::{self, Course};
use study::told::figures::Figures;
use study::told::{self, cautions, diagram, heights, rehearsals, table};
use water::{Outcome, System};

use crate::curves;
use crate::file_name::FileName;
use crate::whole_file;

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
pub(crate) fn levels(
    design: &Design,
    in_flow: &InFlow<'_>,
    outcomes: &[Outcome],
) -> [WaterFile; 2] {
    [
        WaterFile::new(
            "levels",
            "svg",
            "the sump cut along its length with the water in flow",
            plot::long_section(design, &in_flow.report),
        ),
        WaterFile::new(
            "levels",
            "txt",
            "levels, flows, doors, drains and reserve with the pump running",
            levels_text(design, in_flow, outcomes),
        ),
    ]
}

/// All that is told of levels and flows, as text.
pub(crate) fn levels_text(design: &Design, in_flow: &InFlow<'_>, outcomes: &[Outcome]) -> String {
    let mut text = diagram::draw(design, &in_flow.report);
    for table in told::levels(design, in_flow, outcomes) {
        text += "\n";
        text += &table.text();
    }
    text + "\n" + &table::wrapped(cautions::ESTIMATES)
}

/// The table of all failures, each of them in full, and the curves of each.
pub(crate) fn of_rehearsals(
    outcomes: &[Outcome],
    in_flow: &InFlow<'_>,
    units: units::System,
) -> Vec<WaterFile> {
    let running = &in_flow.running;
    let mut files = vec![
        WaterFile::new(
            "rehearsals",
            "csv",
            "what every failure does, for a spreadsheet",
            curves::summary(outcomes, &running.system, units),
        ),
        WaterFile::new(
            "rehearsals",
            "txt",
            "what every failure does, and each of them in full",
            rehearsals::table(outcomes, in_flow, Figures(units)).text()
                + "\n"
                + &courses_text(outcomes, &running.system, Figures(units)),
        ),
    ];
    for (name, outcome) in names(outcomes).into_iter().zip(outcomes) {
        let file = |extension, purpose: &str, text: String| WaterFile {
            name: name.clone(),
            extension,
            purpose: format!("{}: {purpose}", outcome.name),
            bytes: text.into_bytes(),
        };
        let curves = curves::of(outcome, &running.system, units);
        files.push(file("csv", "levels in time, for a spreadsheet", curves));
        files.push(file("svg", "levels in time, drawn", plot::rehearsal(outcome, running, units)));
    }
    files
}

/// Each failure in full, with how heights are counted under the last.
pub(crate) fn courses_text(outcomes: &[Outcome], system: &System<'_>, figures: Figures) -> String {
    let course = |outcome: &Outcome| Course::of(outcome, system, figures).text() + "\n";
    let courses: String = outcomes.iter().map(course).collect();
    courses + &table::wrapped(&format!("{} {}", heights::NOTE, course::NOTE))
}

/// A file's name for each, numbered in their order: names that differ in a sign alone stay apart.
fn names(outcomes: &[Outcome]) -> Vec<FileName> {
    let number = |k: usize| format!("{:02}", k + 1);
    outcomes.iter().enumerate().map(|(k, o)| FileName::numbered(&number(k), &o.name)).collect()
}

/// Writes files into a folder that may hold others; those of the same name are replaced. Returns the paths.
pub(crate) fn write(folder: &Path, files: &[WaterFile]) -> anyhow::Result<Vec<String>> {
    let named = files.iter().map(|file| (&file.name, file.extension, file.bytes.as_slice()));
    whole_file::write_all(folder, named)
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
