//! What other programs must find in files of printed things, by our own arithmetic.

use export::expectations::{AssemblyFile, AssemblyItem, MeshFile, mesh_tolerance_mm3};
use export::step::{Assembly, Expectations};
use export::threemf;
use fittings::{Form, Mate};
use serde::Serialize;
use serde_json::{Value, json};
use study::parts::CHORD_ERROR_MM;

use super::thing::{TIME_STAMP, Thing};

/// A list as the text of a file.
pub(crate) fn as_text(list: &impl Serialize) -> String {
    serde_json::to_string_pretty(list).expect("plain data can be written") + "\n"
}

/// In STEP files that hold one thing each.
pub(crate) fn solids(title: &str, things: &[Thing<'_>], files: &[String]) -> Expectations {
    let numbers = things.iter().map(|thing| thing.number);
    let numbers_and_files: Vec<(&str, &str)> =
        numbers.zip(files.iter().map(String::as_str)).collect();
    let assembly = Assembly {
        title,
        time_stamp: TIME_STAMP,
        products: things.iter().map(Thing::product).collect(),
        instances: Vec::new(),
    };
    Expectations::new(&assembly, None, &numbers_and_files, Vec::new())
}

/// In the STL of a thing.
pub(crate) fn mesh(thing: &Thing<'_>, stl: String) -> MeshFile {
    MeshFile {
        name: thing.name.to_owned(),
        stl,
        volume_mm3: thing.solid.volume_mm3(),
        tolerance_mm3: tolerance_mm3(thing),
        is_for_printing: true,
    }
}

/// In a 3MF that holds these items, each of one of these things.
pub(crate) fn assembly(
    threemf: String,
    items: &[threemf::Item<'_>],
    things: &[Thing<'_>],
) -> AssemblyFile {
    let of = |item: &threemf::Item<'_>| {
        let thing = things.iter().find(|thing| thing.number == item.part_number);
        let thing = thing.expect("items are made of things");
        AssemblyItem::new(item, thing.solid.volume_mm3(), tolerance_mm3(thing))
    };
    AssemblyFile { threemf, items: items.iter().map(of).collect() }
}

/// What a thing promises of the sizes that meet other things, each first told as `told` has it; places are as in its STL.
pub(crate) fn mates(thing: &Thing<'_>, stl: &str, told: impl Fn(&Mate) -> Mate) -> Vec<Value> {
    thing.fitting.print.mates.iter().map(|mate| mate_found(&told(mate), thing, stl)).collect()
}

fn mate_found(mate: &Mate, thing: &Thing<'_>, stl: &str) -> Value {
    let corner = thing.solid.bounds()[0];
    let mut found = json!({
        "stl": stl,
        "with": mate.with,
        "form": mate.form.name(),
        "size_mm": mate.band_mm,
        "made_for_mm": mate.size_mm,
        "at_mm": (mate.at - corner).to_array(),
        "heights_mm": mate.heights_mm.map(|z| z - corner.z),
        "play_mm": mate.play_mm,
        "loss_mm": mate.loss_mm,
    });
    match mate.form {
        Form::Slot { along, mouth_mm } => {
            found["along"] = json!(along.to_array());
            found["mouth_mm"] = json!(mouth_mm);
        }
        Form::Peg { across } => found["across"] = json!(across.to_array()),
        _ => {}
    }
    found
}

fn tolerance_mm3(thing: &Thing<'_>) -> f64 {
    mesh_tolerance_mm3(thing.solid, thing.mesh, CHORD_ERROR_MM)
}
