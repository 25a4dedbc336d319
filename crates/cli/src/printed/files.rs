//! The folder of fittings that were made by their measures alone.

use anyhow::Context;
use export::expectations::{AssemblyFile, AssemblyItem, MeshFile, mesh_tolerance_mm3};
use export::step::{Assembly, Expectations};
use export::threemf;
use fittings::{Filament, Form, Mate, Printer};
use serde::Serialize;
use serde_json::json;
use study::parts::CHORD_ERROR_MM;
use study::told::table::{hanging, wrapped};
use units::System;

use super::Made;
use super::thing::{Plate, TIME_STAMP, Thing, prints};
use super::words;
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
pub(super) fn of(
    set: &Set<'_>,
    filament: Filament,
    command: &str,
) -> anyhow::Result<(Files, Manifest)> {
    let mut files = Files::default();
    let mut assemblies = Vec::new();
    for thing in set.things {
        let name = FileName::of(thing.name, "fitting");
        files.add("", &name, "step", format!("{}: exact solid", thing.name), thing.step()?);
        files.add("", &name, "stl", format!("{}: mesh, in mm", thing.name), thing.stl());
        let items = [thing.alone()];
        let words = format!("{}: mesh with name, unit and colour", thing.name);
        files.add("", &name, "3mf", words, threemf_of(thing.name, &items)?);
        assemblies.push(expected(set, format!("{name}.3mf"), &items));
    }
    for (index, plate) in set.plates.iter().enumerate() {
        let title = format!("plate {}", index + 1);
        let name = FileName::of(&title, "plate");
        let words = format!("{title}: {}", plate.words());
        files.add("", &name, "3mf", words, threemf_of(&title, &plate.items)?);
        assemblies.push(expected(set, format!("{name}.3mf"), &plate.items));
    }
    files.add_fixed(
        "how-to-print.txt",
        "what was made, how to print it, what to mind",
        text(set, filament),
    );
    files.add_fixed(COMMAND, "the command that makes the same again", format!("{command}\n"));
    let mut check = |path, purpose: &'static str, list: String| {
        files.add_fixed(path, purpose, list);
    };
    check("checks/solids.json", "what to find in the STEP files", as_text(&solids(set)));
    check("checks/meshes.json", "what to find in the STL files", as_text(&meshes(set)));
    check("checks/assemblies.json", "what to find in the 3MF files", as_text(&assemblies));
    check("checks/fittings.json", "what a printer must find", as_text(&to_print(set)));
    let manifest = Manifest::of(&files, COMMAND);
    Ok((files, manifest))
}

fn threemf_of(title: &str, items: &[threemf::Item<'_>]) -> anyhow::Result<Vec<u8>> {
    threemf::write(title, items).with_context(|| format!("cannot write `{title}` as 3MF"))
}

fn as_text(list: &impl Serialize) -> String {
    serde_json::to_string_pretty(list).expect("plain data can be written") + "\n"
}

fn tolerance_mm3(thing: &Thing<'_>) -> f64 {
    mesh_tolerance_mm3(thing.solid, thing.mesh, CHORD_ERROR_MM)
}

fn expected(set: &Set<'_>, threemf: String, items: &[threemf::Item<'_>]) -> AssemblyFile {
    let of = |item: &threemf::Item<'_>| {
        let thing = set.things.iter().find(|thing| thing.number == item.part_number);
        let thing = thing.expect("items are made of things");
        AssemblyItem::new(item, thing.solid.volume_mm3(), tolerance_mm3(thing))
    };
    AssemblyFile { threemf, items: items.iter().map(of).collect() }
}

fn solids(set: &Set<'_>) -> Expectations {
    let files: Vec<String> =
        set.things.iter().map(|thing| format!("{}.step", FileName::of(thing.name, ""))).collect();
    let numbers = set.things.iter().map(|thing| thing.number);
    let numbers_and_files: Vec<(&str, &str)> =
        numbers.zip(files.iter().map(String::as_str)).collect();
    let assembly = Assembly {
        title: "fittings",
        time_stamp: TIME_STAMP,
        products: set.things.iter().map(Thing::product).collect(),
        instances: Vec::new(),
    };
    Expectations::new(&assembly, None, &numbers_and_files, Vec::new())
}

fn meshes(set: &Set<'_>) -> Vec<MeshFile> {
    let file = |thing: &Thing<'_>| MeshFile {
        name: thing.name.to_owned(),
        stl: format!("{}.stl", FileName::of(thing.name, "")),
        volume_mm3: thing.solid.volume_mm3(),
        tolerance_mm3: tolerance_mm3(thing),
        is_for_printing: true,
    };
    set.things.iter().map(file).collect()
}

/// What a printer must find, and in which files.
fn to_print(set: &Set<'_>) -> serde_json::Value {
    let stl = |thing: &Thing<'_>| format!("{}.stl", FileName::of(thing.name, ""));
    let plates = (1..=set.plates.len()).map(|number| format!("plate-{number}.3mf"));
    let mut found = prints(&set.printer, set.things.iter().map(stl).collect(), plates.collect());
    let made = set.made.iter().zip(set.things);
    let mates = made.flat_map(|(made, thing)| mates(made, &stl(thing), set));
    found["mates"] = mates.collect();
    found
}

/// What a fitting promises of the sizes that meet other things, its places as in its STL.
fn mates(made: &Made, stl: &str, set: &Set<'_>) -> Vec<serde_json::Value> {
    let given = made.given.iter().copied();
    let mates = made.kind.mates(given, &set.printer, &made.fitting);
    let mates = mates.expect("it was made with these measures");
    let corner = made.solid.bounds()[0];
    let json = |mate: &Mate| {
        // Made for one of both thicknesses of a sheet, it meets the other as well.
        let is_end = |band: &[f64; 2]| band.iter().any(|mm| (mm - mate.size_mm).abs() < 1e-9);
        let band = set.sheet_mm.filter(|band| mate.with == "sheet" && is_end(band));
        let mut json = json!({
            "stl": stl,
            "kind": made.kind.name,
            "with": mate.with,
            "form": mate.form.name(),
            "size_mm": band.unwrap_or([mate.size_mm; 2]),
            "made_for_mm": mate.size_mm,
            "at_mm": (mate.at - corner).to_array(),
            "heights_mm": mate.heights_mm.map(|z| z - corner.z),
            "play_mm": mate.play_mm,
            "loss_mm": mate.loss_mm,
        });
        match mate.form {
            Form::Slot { along, mouth_mm } => {
                json["along"] = json!(along.to_array());
                json["mouth_mm"] = json!(mouth_mm);
            }
            Form::Peg { across } => json["across"] = json!(across.to_array()),
            _ => {}
        }
        json
    };
    mates.iter().map(json).collect()
}

/// What was made, how to print it, what to mind.
fn text(set: &Set<'_>, filament: Filament) -> String {
    let mut text = "Fittings to print\n\n".to_owned();
    text += &wrapped(&words::printer(&set.printer, set.system));
    for (made, thing) in set.made.iter().zip(set.things) {
        text += &format!("\n{}, {} to print\n", made.name, made.count);
        let is_jig = if made.kind.is_jig { " (a tool for the workshop)" } else { "" };
        text += &hanging("- ", &(words::sentence(made.kind.what_for) + is_jig));
        for measure in made.kind.measures {
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
    text + &words::how_to_print(filament)
}
