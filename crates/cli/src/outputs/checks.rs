//! What other programs must find in the files, by our own arithmetic: for the judges in
//! `tests/outside/`, and for whoever wants to check a folder without them.

use design::Design;
use export::expectations::{AssemblyFile, AssemblyItem, MeshFile, PanelFiles, mesh_tolerance_mm3};
use export::{step, threemf};
use study::parts::{CHORD_ERROR_MM, Part};

use super::print::Prints;
use super::{model, panels};
use crate::file_name::FileName;
use crate::files::Files;
use crate::printed::expected::as_text;

/// Adds `checks/*.json`.
pub(super) fn add(files: &mut Files, design: &Design, parts: &[Part<'_>], prints: &Prints<'_>) {
    let mut solids = solids(design, parts);
    // Coupons are no parts of the assembly: they come after all that are.
    solids.parts.extend(prints.solids().parts);
    files.add_fixed("checks/solids.json", "what to find in the STEP files", as_text(&solids));
    let meshes = [meshes(parts), prints.meshes()].concat();
    files.add_fixed("checks/meshes.json", "what to find in the STL files", as_text(&meshes));
    files.add_fixed(
        "checks/assemblies.json",
        "what to find in the 3MF files",
        as_text(&[assemblies(design, parts), prints.assemblies()].concat()),
    );
    if !prints.is_empty() {
        let words = "what a printer must find in the fittings";
        files.add_fixed("checks/fittings.json", words, as_text(&prints.prints()));
    }
    files.add_fixed(
        "checks/panels.json",
        "what to find in the DXF and SVG files",
        as_text(&flat_files(parts)),
    );
}

/// What `model/assembly.step` and `model/parts/*.step` hold.
fn solids(design: &Design, parts: &[Part<'_>]) -> step::Expectations {
    let files: Vec<String> = parts
        .iter()
        .map(|part| format!("model/parts/{}.step", FileName::of_part(part.piece)))
        .collect();
    let numbers = parts.iter().map(|part| part.piece.number.as_str());
    let numbers_and_files: Vec<_> = numbers.zip(files.iter().map(String::as_str)).collect();
    let assembly = model::assembly(design, parts);
    step::Expectations::new(&assembly, Some(model::ASSEMBLY), &numbers_and_files, glued(design))
}

fn glued(design: &Design) -> Vec<[usize; 2]> {
    design
        .joints
        .iter()
        .filter(|joint| joint.kind.is_glued())
        .map(|joint| [joint.a, joint.b])
        .collect()
}

fn meshes(parts: &[Part<'_>]) -> Vec<MeshFile> {
    let file = |part: &Part<'_>, folder: &str, is_for_printing| MeshFile {
        name: part.piece.name.clone(),
        stl: format!("{folder}/{}.stl", FileName::of_part(part.piece)),
        volume_mm3: part.solid.volume_mm3(),
        tolerance_mm3: tolerance_mm3(part),
        is_for_printing,
    };
    let all = parts.iter().map(|part| file(part, "model/stl", false));
    let printed = parts.iter().filter(|part| part.piece.role.is_printed());
    all.chain(printed.map(|part| file(part, "print", true))).collect()
}

fn assemblies(design: &Design, parts: &[Part<'_>]) -> Vec<AssemblyFile> {
    let part_of = |item: &threemf::Item<'_>| {
        parts
            .iter()
            .find(|part| part.piece.number == item.part_number)
            .expect("items are made of parts")
    };
    let file = |path: &str, items: Vec<threemf::Item<'_>>| {
        let expected = |item: &threemf::Item<'_>| {
            let part = part_of(item);
            AssemblyItem::new(item, part.solid.volume_mm3(), tolerance_mm3(part))
        };
        AssemblyFile { threemf: path.to_owned(), items: items.iter().map(expected).collect() }
    };
    let whole = file("model/assembly.3mf", model::items(design, parts));
    [whole].into_iter().filter(|file| !file.items.is_empty()).collect()
}

fn tolerance_mm3(part: &Part<'_>) -> f64 {
    mesh_tolerance_mm3(&part.solid, &part.mesh, CHORD_ERROR_MM)
}

fn flat_files(parts: &[Part<'_>]) -> Vec<PanelFiles> {
    let files = |part: &Part<'_>| {
        let flat = part.flat.as_ref()?;
        let [dxf, svg] = ["dxf", "svg"]
            .map(|extension| format!("panels/{}.{extension}", FileName::of_part(part.piece)));
        Some(PanelFiles::new(
            &panels::panel(part, flat, &study::PanelWords::default()),
            flat.area_mm2,
            flat.volume_mm3,
            [&dxf, &svg],
        ))
    };
    parts.iter().filter_map(files).collect()
}
