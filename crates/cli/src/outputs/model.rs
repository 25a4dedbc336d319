//! The solid model: the whole and every part, exact and as meshes.

use anyhow::Context;
use design::Design;
use export::step::{Assembly, Instance, Product};
use export::{step, stl, threemf};
use study::Part;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;

/// Path of the exact whole.
pub(super) const ASSEMBLY: &str = "model/assembly.step";

/// STEP files carry a time. A true one would make equal designs differ, so it is always this.
const TIME_STAMP: &str = "2000-01-01T00:00:00";

/// Exact solid and mesh of one part, in its own frame.
pub(super) fn of_part(part: &Part<'_>) -> anyhow::Result<Vec<Output>> {
    let name = &part.piece.name;
    let step = step::write(&Assembly {
        title: name,
        time_stamp: TIME_STAMP,
        products: vec![product(part)],
        instances: Vec::new(),
    })
    .with_context(|| format!("cannot write part `{name}` as STEP"))?;
    let stl = stl::write(&part.mesh, name);
    Ok(vec![
        (
            "model/parts",
            FileName::of_part(part.piece),
            "step",
            format!("{name}: exact solid"),
            step.into_bytes(),
        ),
        ("model/stl", FileName::of_part(part.piece), "stl", format!("{name}: mesh, in mm"), stl),
    ])
}

/// The whole sump, every part in its place.
pub(super) fn add(files: &mut Files, design: &Design, parts: &[Part<'_>]) -> anyhow::Result<()> {
    let placed = without_spares(assembly(design, parts));
    let step = step::write(&placed).context("cannot write the whole as STEP")?;
    files.add_fixed(
        ASSEMBLY,
        "the whole as exact solids in place, with names and colours; mm",
        step,
    );
    let threemf = threemf::write(&design.title, &items(design, parts))
        .context("cannot write the whole as 3MF")?;
    files.add_fixed(
        "model/assembly.3mf",
        "the whole as meshes in place, with names and colours; mm",
        threemf,
    );
    Ok(())
}

/// Every part, and every place of one.
pub(super) fn assembly<'a>(design: &'a Design, parts: &'a [Part<'a>]) -> Assembly<'a> {
    let instance = |placed: &'a design::Placed| Instance {
        product: placed.piece,
        name: &placed.name,
        pose: placed.pose,
    };
    Assembly {
        title: &design.title,
        time_stamp: TIME_STAMP,
        products: parts.iter().map(product).collect(),
        instances: design.placed.iter().map(instance).collect(),
    }
}

/// A part without a place, such as the other leaf for a slot, would lie beside the sump as a second
/// thing in the file.
fn without_spares(mut assembly: Assembly<'_>) -> Assembly<'_> {
    let mut kept = Vec::new();
    for instance in &mut assembly.instances {
        let known = kept.iter().position(|product| *product == instance.product);
        instance.product = known.unwrap_or_else(|| {
            kept.push(instance.product);
            kept.len() - 1
        });
    }
    assembly.products = kept.into_iter().map(|product| assembly.products[product]).collect();
    assembly
}

/// What `model/assembly.3mf` holds.
pub(super) fn items<'a>(design: &'a Design, parts: &'a [Part<'a>]) -> Vec<threemf::Item<'a>> {
    let item = |placed: &'a design::Placed| {
        let part = &parts[placed.piece];
        threemf::Item {
            name: &placed.name,
            part_number: &part.piece.number,
            material: &part.piece.material,
            colour: part.piece.look.colour,
            mesh: &part.mesh,
            pose: placed.pose,
        }
    };
    design.placed.iter().map(item).collect()
}

fn product<'a>(part: &'a Part<'_>) -> Product<'a> {
    Product { name: &part.piece.name, colour: part.piece.look.colour, solid: &part.solid }
}
