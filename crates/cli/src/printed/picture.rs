//! One picture sheet: every kind, or those that were asked for.

use std::path::Path;

use anyhow::bail;
use fittings::{Fitting, KINDS, Kind, Printer};
use rayon::prelude::*;
use scene::{Exhibit, Heading};
use solid::{Mesh, Solid};
use units::System;

use super::{Made, built, words};
use crate::outputs::print::Prints;

/// Width of the sheet, px.
const WIDTH: usize = 1800;
/// Parts of a sump, and tools for the workshop: told apart in grey too.
const PART: [u8; 3] = [122, 174, 190];
const JIG: [u8; 3] = [232, 188, 118];

const HEADING: Heading<'_> = Heading {
    title: "Fittings to print",
    note: "as they lie on the bed; parts of a sump blue, tools for the workshop sand; not to one scale",
};

/// What is shown of one.
struct Shown<'a> {
    kind: &'a Kind,
    given: &'a [(&'static str, f64)],
    fitting: &'a Fitting,
    mesh: &'a Mesh,
}

/// Whether a file of this name may hold the picture.
///
/// # Errors
/// When its ending tells of another form than PNG.
pub(super) fn check_name(path: &Path) -> anyhow::Result<()> {
    if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("png")) {
        return Ok(());
    }
    let name = path.with_extension("png");
    bail!(
        "the picture sheet is a PNG, and `{}` does not end in `.png`; write `--picture {}`",
        path.display(),
        name.display()
    )
}

/// A PNG of those made, or of all kinds as usual where none is.
pub(super) fn draw(made: &[Made], printer: &Printer, system: System) -> anyhow::Result<Vec<u8>> {
    if !made.is_empty() {
        let shown = made.iter().map(|made| Shown {
            kind: made.kind,
            given: &made.given,
            fitting: &made.fitting,
            mesh: &made.mesh,
        });
        return sheet(&shown.collect::<Vec<_>>(), system);
    }
    let built: Vec<(Fitting, Solid, Mesh)> =
        KINDS.par_iter().map(|kind| built(kind, &[], printer)).collect::<anyhow::Result<_>>()?;
    let all = KINDS.iter().zip(&built);
    let mut shown: Vec<Shown<'_>> =
        all.map(|(kind, (fitting, _, mesh))| Shown { kind, given: &[], fitting, mesh }).collect();
    shown.sort_by_key(|shown| shown.kind.is_jig);
    sheet(&shown, system)
}

/// A PNG of all that is printed for a sump.
pub(super) fn of_sump(prints: &Prints<'_>, system: System) -> anyhow::Result<Vec<u8>> {
    let shown = prints.shown();
    let told: Vec<[String; 2]> = shown
        .iter()
        .map(|(thing, what_for, _)| {
            let size = words::size(thing.fitting, system).replace(' ', "\u{a0}");
            [
                format!("{}\u{a0}to\u{a0}print, takes\u{a0}{size}", thing.count),
                words::sentence(what_for),
            ]
        })
        .collect();
    let all = shown.iter().zip(&told).map(|((thing, _, is_tool), [measures, what_for])| Exhibit {
        name: thing.name,
        measures,
        what_for,
        shape: &thing.fitting.shape,
        mesh: thing.mesh,
        colour: if *is_tool { JIG } else { PART },
    });
    let exhibits: Vec<Exhibit<'_>> = all.collect();
    Ok(scene::gallery(HEADING, &exhibits, WIDTH)?)
}

fn sheet(shown: &[Shown<'_>], system: System) -> anyhow::Result<Vec<u8>> {
    let measures: Vec<String> = shown
        .iter()
        .map(|s| {
            let size = words::size(s.fitting, system);
            let told = format!("{}, takes {size}", words::measures(s.kind, s.given, system));
            // Lines break between measures, not within one.
            told.split(", ").map(|one| one.replace(' ', "\u{a0}")).collect::<Vec<_>>().join(", ")
        })
        .collect();
    let told: Vec<String> = shown.iter().map(|s| words::sentence(s.kind.what_for)).collect();
    let exhibits: Vec<Exhibit<'_>> = shown
        .iter()
        .enumerate()
        .map(|(k, s)| Exhibit {
            name: s.kind.name,
            measures: &measures[k],
            what_for: &told[k],
            shape: &s.fitting.shape,
            mesh: s.mesh,
            colour: if s.kind.is_jig { JIG } else { PART },
        })
        .collect();
    Ok(scene::gallery(HEADING, &exhibits, WIDTH)?)
}
