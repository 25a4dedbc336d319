//! Printed fittings, lying as they are printed: their own frame has the flat face down.

use anyhow::Context;
use design::Design;
use export::{stl, threemf};
use glam::{DAffine3, DVec3};
use study::Part;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;

/// Room between fittings laid side by side, mm.
const GAP_MM: f64 = 5.0;

/// The mesh of a printed part, its lowest face at height 0.
pub(super) fn of_part(part: &Part<'_>) -> Option<Output> {
    let piece = part.piece;
    piece.role.is_printed().then(|| {
        let stl = stl::write_in_pose(&part.mesh, &piece.name, &on_the_bed(part, 0.0));
        (
            "print",
            FileName::of_part(part.piece),
            "stl",
            format!("{}: print {}, as it lies; mm", piece.name, piece.quantity),
            stl,
        )
    })
}

/// All printed parts in one file, each once, side by side.
pub(super) fn add(files: &mut Files, design: &Design, parts: &[Part<'_>]) -> anyhow::Result<()> {
    let items = items(parts);
    if !items.is_empty() {
        let bytes =
            threemf::write(&design.title, &items).context("cannot write the fittings as 3MF")?;
        files.add_fixed(
            "print/fittings.3mf",
            "all fittings side by side, each once, with names and colours; mm",
            bytes,
        );
    }
    Ok(())
}

/// What `print/fittings.3mf` holds.
pub(super) fn items<'a>(parts: &'a [Part<'a>]) -> Vec<threemf::Item<'a>> {
    let mut x = 0.0;
    let item = |part: &'a Part<'a>| {
        let pose = on_the_bed(part, x);
        let [least, greatest] = part.solid.bounds();
        x += greatest.x - least.x + GAP_MM;
        let piece = part.piece;
        threemf::Item {
            name: &piece.name,
            part_number: &piece.number,
            material: &piece.material,
            colour: piece.look.colour,
            mesh: &part.mesh,
            pose,
        }
    };
    parts.iter().filter(|part| part.piece.role.is_printed()).map(item).collect()
}

/// Moves a part so that its least corner is at (x, 0, 0).
fn on_the_bed(part: &Part<'_>, x: f64) -> DAffine3 {
    let [least, _] = part.solid.bounds();
    DAffine3::from_translation(DVec3::new(x, 0.0, 0.0) - least)
}
