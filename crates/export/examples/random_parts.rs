//! Writes random parts in every format, with what an outside reader must find in them:
//! `random_parts FOLDER COUNT`. The judges in `tests/outside/` read the folder as they read one
//! that `sumpwright make` wrote.
//!
//! The parts are harder than those of a sump: cuts that cross and touch, arcs of every length,
//! pockets on both faces, names that need escaping.

use std::error::Error;
use std::fs;
use std::path::Path;

use export::expectations::{AssemblyFile, AssemblyItem, MeshFile, PanelFiles, mesh_tolerance_mm3};
use export::{Panel, dxf, stl, svg, threemf};
use glam::{DAffine3, dvec3};
use plate::{Plate, Shape, Tolerance, arrange, flat_pattern, sample};
use solid::{Mesh, Solid};

const CHORD_ERROR_MM: f64 = 0.01;

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, count] = arguments.as_slice() else {
        return Err("usage: random_parts FOLDER COUNT".into());
    };
    write_folder(Path::new(folder), count.parse()?)
}

/// What the lists in `checks/` are made of.
#[derive(Default)]
struct Written {
    panels: Vec<PanelFiles>,
    meshes: Vec<MeshFile>,
    bodies: Vec<Body>,
}

/// One body of the assembly.
struct Body {
    name: String,
    number: String,
    mesh: Mesh,
    volume_mm3: f64,
    tolerance_mm3: f64,
}

fn write_folder(folder: &Path, count: usize) -> Result<(), Box<dyn Error>> {
    for part in ["panels", "print", "model", "checks"] {
        fs::create_dir_all(folder.join(part))?;
    }
    let mut written = Written::default();
    let mut seed = 0;
    while written.panels.len() < count {
        seed += 1;
        // Some of the samples are there to be refused; others are parts.
        add_plate(folder, &sample::plate(seed), seed, &mut written)?;
        add_body(
            folder,
            &Shape::Turned(sample::turned(seed)),
            format!("turned & <{seed}>"),
            seed,
            &mut written,
        )?;
    }
    write_assembly(folder, &written.bodies)?;
    write_list(folder, "panels", &written.panels)?;
    write_list(folder, "meshes", &written.meshes)
}

fn add_plate(
    folder: &Path,
    plate: &Plate,
    seed: u64,
    written: &mut Written,
) -> Result<(), Box<dyn Error>> {
    let tolerance = Tolerance::default();
    let Ok(arrangement) = arrange(plate, &tolerance) else { return Ok(()) };
    if !arrangement.defects(&tolerance).is_empty() {
        return Ok(());
    }
    let (number, name) = (format!("{seed:03}"), format!("plate \"{seed}\" for ø & <±>"));
    let pattern = flat_pattern(plate, &arrangement);
    let notes = ["Made to be read by other programs; not for cutting.".to_owned()];
    let panel = Panel {
        number: &number,
        name: &name,
        project: "plates by chance",
        material: "any sheet",
        thickness_mm: plate.thickness,
        order: "not to be ordered",
        facing: "",
        engraving_mm: None,
        quantity: 1,
        notes: &notes,
        pattern: &pattern,
    };
    let paths = ["dxf", "svg"].map(|ending| format!("panels/{number}.{ending}"));
    fs::write(folder.join(&paths[0]), dxf::write(&panel))?;
    fs::write(folder.join(&paths[1]), svg::write(&panel))?;
    let paths = [paths[0].as_str(), paths[1].as_str()];
    let expected = PanelFiles::new(&panel, arrangement.area(), arrangement.volume(), paths);
    written.panels.push(expected);
    add_body(folder, &Shape::Sheet(plate.clone()), name, seed, written)
}

fn add_body(
    folder: &Path,
    shape: &Shape,
    name: String,
    seed: u64,
    written: &mut Written,
) -> Result<(), Box<dyn Error>> {
    let solid = Solid::of_shape(shape)?;
    let mesh = solid.mesh(CHORD_ERROR_MM)?;
    let (volume_mm3, tolerance_mm3) =
        (solid.volume_mm3(), mesh_tolerance_mm3(&solid, &mesh, CHORD_ERROR_MM));
    let number = format!("{:03}-{seed}", written.bodies.len());
    let stl = format!("print/{number}.stl");
    // Standing on the lowest point.
    let on_the_bed = DAffine3::from_translation(dvec3(0.0, 0.0, -solid.bounds()[0].z));
    fs::write(folder.join(&stl), stl::write_in_pose(&mesh, &name, &on_the_bed))?;
    let mesh_file =
        MeshFile { name: name.clone(), stl, volume_mm3, tolerance_mm3, is_for_printing: true };
    written.meshes.push(mesh_file);
    written.bodies.push(Body { name, number, mesh, volume_mm3, tolerance_mm3 });
    Ok(())
}

/// All bodies in a row, each turned a little further and of its own colour.
fn write_assembly(folder: &Path, bodies: &[Body]) -> Result<(), Box<dyn Error>> {
    let items: Vec<threemf::Item> = bodies
        .iter()
        .zip(0_u8..=255)
        .map(|(body, i)| {
            let turned =
                DAffine3::from_rotation_z(0.1 * f64::from(i)) * DAffine3::from_rotation_x(0.3);
            let pose =
                DAffine3::from_translation(dvec3(500.0 * f64::from(i), 333.333_333, 0.1)) * turned;
            threemf::Item {
                name: &body.name,
                part_number: &body.number,
                material: "any material",
                colour: [i, 255 - i, 128],
                mesh: &body.mesh,
                pose,
            }
        })
        .collect();
    fs::write(folder.join("model/assembly.3mf"), threemf::write("random & <parts>", &items)?)?;
    let expected = items
        .iter()
        .zip(bodies)
        .map(|(item, body)| AssemblyItem::new(item, body.volume_mm3, body.tolerance_mm3));
    let file = AssemblyFile { threemf: "model/assembly.3mf".to_owned(), items: expected.collect() };
    write_list(folder, "assemblies", &[file])
}

fn write_list(
    folder: &Path,
    list: &str,
    lines: &[impl serde::Serialize],
) -> Result<(), Box<dyn Error>> {
    let path = folder.join("checks").join(list).with_extension("json");
    fs::write(path, serde_json::to_string_pretty(lines)? + "\n")?;
    Ok(())
}
