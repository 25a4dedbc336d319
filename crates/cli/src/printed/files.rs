//! The folder of fittings that were made by their measures alone.

use fittings::{Mate, Measure, Printer};
use study::told::table::{hanging, wrapped};
use units::System;

use super::expected::{self, as_text, mates};
use super::thing::{Plate, Thing, prints};
use super::{Made, words};
use crate::file_name::FileName;
use crate::files::{Files, Manifest};

/// Everything that goes into the folder.
pub(super) struct Set<'a> {
    pub(super) made: &'a [Made],
    pub(super) things: &'a [Thing<'a>],
    pub(super) plates: &'a [Plate<'a>],
    pub(super) printer: Printer,
    pub(super) system: System,
    /// Least and greatest thickness of the sheet that they are for, mm, where both were given.
    pub(super) sheet_mm: Option<[f64; 2]>,
}

/// Name of the file with the command that makes the same again.
pub(super) const COMMAND: &str = "command.txt";

/// All files, and the manifest that lists them.
///
/// # Errors
/// When a writer refuses.
pub(super) fn of(set: &Set<'_>, command: &str) -> anyhow::Result<(Files, Manifest)> {
    let mut files = Files::default();
    let mut assemblies = Vec::new();
    for thing in set.things {
        let name = FileName::of(thing.name, "fitting");
        thing.add_to(&mut files, "", &name)?;
        assemblies.push(expected::assembly(format!("{name}.3mf"), &[thing.alone()], set.things));
    }
    for (index, plate) in set.plates.iter().enumerate() {
        let title = format!("plate {}", index + 1);
        let name = FileName::of(&title, "plate");
        let words = format!("{title}: {}", plate.words());
        files.add("", &name, "3mf", words, plate.threemf(&title)?);
        assemblies.push(expected::assembly(format!("{name}.3mf"), &plate.items, set.things));
    }
    files.add_fixed("how-to-print.txt", "what was made, how to print it, what to mind", text(set));
    files.add_fixed(COMMAND, "the command that makes the same again", format!("{command}\n"));
    let named = |ending: &str| -> Vec<String> {
        set.things
            .iter()
            .map(|thing| format!("{}.{ending}", FileName::of(thing.name, "")))
            .collect()
    };
    let solids = expected::solids("fittings", set.things, &named("step"));
    let meshes = set.things.iter().zip(named("stl")).map(|(thing, stl)| expected::mesh(thing, stl));
    let meshes: Vec<_> = meshes.collect();
    let mut check = |path, purpose: &'static str, list: String| {
        files.add_fixed(path, purpose, list);
    };
    check("checks/solids.json", "what to find in the STEP files", as_text(&solids));
    check("checks/meshes.json", "what to find in the STL files", as_text(&meshes));
    check("checks/assemblies.json", "what to find in the 3MF files", as_text(&assemblies));
    check("checks/fittings.json", "what a printer must find", as_text(&to_print(set)));
    let manifest = Manifest::of(&files, COMMAND);
    Ok((files, manifest))
}

/// What a printer must find, and in which files.
fn to_print(set: &Set<'_>) -> serde_json::Value {
    let stl = |thing: &Thing<'_>| format!("{}.stl", FileName::of(thing.name, ""));
    let plates = (1..=set.plates.len()).map(|number| format!("plate-{number}.3mf"));
    let mut found = prints(&set.printer, set.things.iter().map(stl).collect(), plates.collect());
    // Made for one of both thicknesses of a sheet, it meets the other as well.
    let over = |mate: &Mate| match set.sheet_mm.filter(|_| mate.with == "sheet") {
        Some(band) => mate.over(band),
        None => *mate,
    };
    let mates = set.things.iter().flat_map(|thing| mates(thing, &stl(thing), over));
    found["mates"] = mates.collect();
    found
}

/// What was made, how to print it, what to mind.
fn text(set: &Set<'_>) -> String {
    let mut text = "Fittings to print\n\n".to_owned();
    text += &wrapped(&words::printer(&set.printer, set.system));
    for (made, thing) in set.made.iter().zip(set.things) {
        text += &format!("\n{}, {} to print\n", made.name, made.count);
        let is_jig = if made.kind.is_jig { " (a tool for the workshop)" } else { "" };
        text += &hanging("- ", &(words::sentence(made.kind.what_for) + is_jig));
        let counts = |measure: &&Measure| made.kind.counts(measure, &made.given);
        for measure in made.kind.measures.iter().filter(counts) {
            let number = words::value(measure, words::number(measure, &made.given), set.system);
            text += &hanging("- ", &format!("{}: {number}, {}.", measure.name, measure.words));
        }
        let size = words::size(thing.fitting, set.system);
        text += &hanging("- ", &format!("Printed {}: {size}.", made.fitting.print.orientation));
        text += &hanging("- ", &format!("Each takes {}.", words::filament_used(thing)));
        if !made.kind.advice.is_empty() {
            text += &hanging("- ", &words::sentence(made.kind.advice));
        }
    }
    text += "\nPlates\n";
    for (index, plate) in set.plates.iter().enumerate() {
        text += &hanging("- ", &format!("plate-{}.3mf: {}.", index + 1, plate.words()));
    }
    text += "\n";
    text + &words::how_to_print(&set.printer)
}
