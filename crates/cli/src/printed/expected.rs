//! What other programs must find in files of printed things, by our own arithmetic.

use export::expectations::{AssemblyFile, AssemblyItem, MeshFile, mesh_tolerance_mm3};
use export::step::{Assembly, Expectations};
use export::threemf;
use serde::Serialize;
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

fn tolerance_mm3(thing: &Thing<'_>) -> f64 {
    mesh_tolerance_mm3(thing.solid, thing.mesh, CHORD_ERROR_MM)
}
