//! `sumpwright fittings`: what is printed for a sump, or small printed parts by their measures alone.

mod asked;
pub(crate) mod expected;
mod files;
mod for_sump;
mod in_water;
mod list;
mod on_sheet;
pub(crate) mod options;
mod parted;
mod picture;
mod standing;
pub(crate) mod thing;
mod told;
pub(crate) mod words;

use std::path::Path;

use anyhow::{Context, bail};
use fittings::{Filament, Fitting, Kind, Printer};
use rayon::prelude::*;
use solid::{Mesh, Solid};
use study::parts::CHORD_ERROR_MM;
use units::System;

use crate::Outcome;
use crate::args::{FittingsArgs, Units};
use crate::folder::Folder;
use crate::whole_file::{self, There};
use asked::Asked;
use thing::Thing;

/// Colour of the filament in the files: that of the parameter file's default.
const COLOUR: [u8; 3] = [0x2f, 0x48, 0x58];

pub(crate) fn run(args: &FittingsArgs) -> anyhow::Result<Outcome> {
    if let Some(path) = &args.picture {
        picture::check_name(path)?;
    }
    match args.what.split_first() {
        Some((word, names)) if asked::is_file(word) => for_sump::run(Path::new(word), names, args),
        _ => by_measures(args),
    }
}

/// Without a parameter file.
fn by_measures(args: &FittingsArgs) -> anyhow::Result<Outcome> {
    let wanted = Wanted::of(args)?;
    let Wanted { asked, printer, system, .. } = &wanted;
    let made = made(asked, printer, args.count())?;
    let material = format!("{}, printed", args.filament().name());
    let things: Vec<Thing<'_>> = made.iter().map(|made| made.thing(&material, COLOUR)).collect();
    // Everything is there before anything is written.
    let plates = thing::plates(&things, printer)?;
    let picture = match &args.picture {
        Some(path) => Some((path, picture::draw(&made, printer, *system)?)),
        None => None,
    };
    let mut said = wanted.said.clone();
    said.extend(in_water::warning(&made, args.filament()));
    let mut written = Vec::new();
    if let Some(path) = &args.into {
        let set = files::Set {
            made: &made,
            things: &things,
            plates: &plates,
            printer: *printer,
            system: *system,
            sheet_mm: args.sheet.map(|band| band.map(units::Length::to_mm)),
        };
        written.extend(put(path, &set, &command(asked, args, printer), &mut said)?);
    }
    if let Some((path, png)) = picture {
        whole_file::write(path, &png, There::IsReplaced)?;
        written.push(path.display().to_string());
    }
    told::tell(args, &wanted, &told::Run { made: &made, things: &things, said, written })
}

/// What is wanted without a parameter file.
#[derive(Debug)]
struct Wanted {
    asked: Vec<Asked>,
    printer: Printer,
    system: System,
    /// What is to be known of the sheet before anything else.
    of_sheet: Vec<String>,
    said: Vec<String>,
}

impl Wanted {
    /// # Errors
    /// What cannot be read, or goes together with nothing.
    fn of(args: &FittingsArgs) -> anyhow::Result<Self> {
        let system = match args.units {
            Some(Units::Us) => System::UsCustomary,
            Some(Units::Metric) | None => System::Metric,
        };
        let mut asked = asked::asked(args)?;
        let of_sheet = on_sheet::laid(&mut asked, args.sheet, system)?;
        let printer = options::printer(args)?;
        if asked.is_empty() && args.into.is_some() {
            bail!("there is nothing to write; name kinds, as `sumpwright fittings` lists them");
        }
        let (asked, said) = parted::parted(asked, &printer, system);
        Ok(Self { asked, printer, system, of_sheet, said })
    }
}

/// Everything into the folder; gives the paths.
fn put(
    path: &Path,
    set: &files::Set<'_>,
    command: &str,
    said: &mut Vec<String>,
) -> anyhow::Result<Vec<String>> {
    let folder = Folder::reserve(path, files::COMMAND)?;
    if let Some(earlier) = standing::replaced(path, files::COMMAND, command)? {
        said.push(format!("`{}` held what `{earlier}` made: it was replaced", path.display()));
    }
    let (files, manifest) = files::of(set, command)?;
    folder.put(&files, &manifest)?;
    Ok(files.iter().map(|(name, _)| path.join(name).display().to_string()).collect())
}

/// A fitting in all the forms that files are written from.
#[derive(Debug)]
pub(crate) struct Made {
    pub(crate) kind: &'static Kind,
    pub(crate) given: Vec<(&'static str, f64)>,
    /// Name of its files: that of its kind, with a number where there are several of one kind.
    pub(crate) name: String,
    /// Its number in the list, from 01.
    pub(crate) number: String,
    pub(crate) count: usize,
    pub(crate) fitting: Fitting,
    pub(crate) solid: Solid,
    pub(crate) mesh: Mesh,
}

impl Made {
    /// Lying on the bed, of a filament of this colour.
    pub(crate) fn thing<'a>(&'a self, material: &'a str, colour: [u8; 3]) -> Thing<'a> {
        Thing {
            name: &self.name,
            number: &self.number,
            material,
            colour,
            count: self.count,
            fitting: &self.fitting,
            solid: &self.solid,
            mesh: &self.mesh,
        }
    }
}

/// All that was asked for.
///
/// # Errors
/// The first that cannot be made, by name.
fn made(asked: &[Asked], printer: &Printer, count: usize) -> anyhow::Result<Vec<Made>> {
    let all: Vec<anyhow::Result<Made>> = asked
        .par_iter()
        .enumerate()
        .map(|(index, Asked { kind, given })| {
            let is_same = |other: &&Asked| other.kind.name == kind.name;
            let name = match asked.iter().filter(is_same).count() {
                1 => kind.name.to_owned(),
                _ => {
                    let before = asked[..index].iter().filter(is_same).count();
                    format!("{}-{}", kind.name, before + 1)
                }
            };
            let number = format!("{:02}", index + 1);
            let (fitting, solid, mesh) = built(kind, given, printer)?;
            Ok(Made { kind, given: given.clone(), name, number, count, fitting, solid, mesh })
        })
        .collect();
    all.into_iter().collect()
}

/// One with these measures, the others as usual.
///
/// # Errors
/// What it cannot be made for, and a solid or mesh that does not agree with it.
pub(crate) fn built(
    kind: &Kind,
    given: &[(&'static str, f64)],
    printer: &Printer,
) -> anyhow::Result<(Fitting, Solid, Mesh)> {
    let cannot = || format!("cannot make a `{}`", kind.name);
    let fitting = kind.made(given.iter().copied(), printer).with_context(cannot)?;
    let solid = Solid::of_shape(&fitting.shape).with_context(cannot)?;
    let mesh = solid.mesh(CHORD_ERROR_MM).with_context(cannot)?;
    Ok((fitting, solid, mesh))
}

/// The command that makes the same again, every option written out.
fn command(asked: &[Asked], args: &FittingsArgs, printer: &Printer) -> String {
    let mut command = "sumpwright fittings".to_owned();
    for one in asked {
        command += &format!(" {}", one.kind.name);
        for measure in one.kind.measures.iter().filter(|measure| one.counts(measure)) {
            command += &format!(" {}={}", measure.name, words::number(measure, &one.given));
        }
    }
    // Every measure is written out; this says how uneven the sheet is for what is checked by it.
    if let Some([least, most]) = args.sheet {
        command += &format!(" --sheet {}..{}", least.to_mm(), most.to_mm());
    }
    let [x, y, z] = printer.bed_mm;
    command
        + &format!(
            " --count {} --filament {} --nozzle {} --layer {} --clearance {} --hole-loss {} --foot {} --bed {x}x{y}x{z} --into FOLDER",
            args.count(),
            args.filament().name(),
            printer.nozzle_mm,
            printer.layer_mm,
            printer.clearance_mm,
            printer.hole_loss_mm,
            printer.foot_mm,
        )
}

/// The filament where none is given: what water suits best.
pub(crate) const USUAL_FILAMENT: Filament = Filament::Petg;
