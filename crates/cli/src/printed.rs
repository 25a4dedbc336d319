//! `sumpwright fittings`: what is printed for a sump, or small printed parts by their measures alone.

pub(crate) mod asked;
pub(crate) mod expected;
mod files;
mod for_sump;
mod in_water;
mod list;
mod parted;
mod picture;
mod standing;
pub(crate) mod thing;
pub(crate) mod words;

use std::path::Path;

use anyhow::{Context, bail};
use fittings::{Filament, Fitting, Kind, Printer};
use rayon::prelude::*;
use serde_json::{Value, json};
use solid::{Mesh, Solid};
use study::parts::CHORD_ERROR_MM;
use study::told::table::hanging;
use units::System;

use crate::Outcome;
use crate::args::{FittingsArgs, Units};
use crate::folder::Folder;
use crate::terminal;
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
    let system = match args.units {
        Some(Units::Us) => System::UsCustomary,
        Some(Units::Metric) | None => System::Metric,
    };
    let filament = args.filament();
    let asked = asked::asked(args)?;
    let printer = asked::printer(args)?;
    if asked.is_empty() && args.into.is_some() {
        bail!("there is nothing to write; name kinds, as `sumpwright fittings` lists them");
    }
    let (asked, mut said) = parted::parted(asked, &printer, system);
    let made = made(&asked, &printer, args.count())?;
    said.extend(in_water::warning(&made, filament));
    let material = format!("{}, printed", filament.name());
    let things: Vec<Thing<'_>> = made.iter().map(|made| made.thing(&material, COLOUR)).collect();
    // Everything is there before anything is written.
    let plates = thing::plates(&things, &printer)?;
    let picture = match &args.picture {
        Some(path) => Some((path, picture::draw(&made, &printer, system)?)),
        None => None,
    };
    let mut written = Vec::new();
    if let Some(path) = &args.into {
        let folder = Folder::reserve(path, files::COMMAND)?;
        let command = command(&asked, args, &printer);
        if let Some(earlier) = standing::replaced(path, files::COMMAND, &command)? {
            said.push(format!("`{}` held what `{earlier}` made: it was replaced", path.display()));
        }
        let sheet_mm = args.sheet.map(|band| band.map(units::Length::to_mm));
        let set =
            files::Set { made: &made, things: &things, plates: &plates, printer, system, sheet_mm };
        let (files, manifest) = files::of(&set, filament, &command)?;
        folder.put(&files, &manifest)?;
        written.extend(files.iter().map(|(name, _)| path.join(name).display().to_string()));
    }
    if let Some((path, png)) = picture {
        whole_file::write(path, &png, There::IsReplaced)?;
        written.push(path.display().to_string());
    }
    if args.json {
        let mut value = list::as_json();
        if !args.list {
            value = json!({ "made": made.iter().zip(&things).map(as_json).collect::<Vec<_>>() });
        }
        value["files"] = json!(written);
        value["said"] = json!(said);
        terminal::print(&format!("{value:#}\n"))?;
        return Ok(Outcome::Fine);
    }
    if args.list || (asked.is_empty() && args.picture.is_none()) {
        let kinds: Vec<&Kind> = asked.iter().map(|asked| asked.kind).collect();
        terminal::print(&list::text(&kinds, system))?;
        if !asked.is_empty() && args.into.is_none() && args.picture.is_none() {
            return Ok(Outcome::Fine);
        }
    }
    if !made.is_empty() {
        terminal::print(&told(&made, &things, &printer, system))?;
    }
    for words in &said {
        terminal::say(hanging("note: ", words).trim_end());
    }
    for path in &written {
        terminal::say(&format!("wrote `{path}`"));
    }
    if !made.is_empty() && args.into.is_none() {
        terminal::say("nothing was written: say where with `--into FOLDER`");
    }
    Ok(Outcome::Fine)
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
    for Asked { kind, given } in asked {
        command += &format!(" {}", kind.name);
        for measure in kind.measures {
            command += &format!(" {}={}", measure.name, words::number(measure, given));
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

/// What was made, in words.
fn told(made: &[Made], things: &[Thing<'_>], printer: &Printer, system: System) -> String {
    let mut text = String::new();
    for (made, thing) in made.iter().zip(things) {
        text += &hanging(&format!("{} × {}: ", made.count, made.name), made.kind.what_for);
        text += &hanging("    ", &words::measures(made.kind, &made.given, system));
        let lies = format!(
            "{}, {}; {}",
            words::size(thing.fitting, system),
            made.fitting.print.orientation,
            words::filament_used(thing)
        );
        text += &hanging("    ", &lies);
        if !made.kind.advice.is_empty() {
            text += &hanging("    ", &words::sentence(made.kind.advice));
        }
        if let Some(result) = words::result_of(made.kind) {
            text += &hanging("    ", &result);
        }
    }
    text + &hanging("", &words::printer(printer, system))
}

fn as_json((made, thing): (&Made, &Thing<'_>)) -> Value {
    let measures: serde_json::Map<String, Value> = made
        .kind
        .measures
        .iter()
        .map(|m| (m.name.to_owned(), json!(words::number(m, &made.given))))
        .collect();
    let [x, y] = thing.fitting.print.bed_footprint_mm;
    json!({
        "kind": made.kind.name,
        "name": made.name,
        "count": made.count,
        "measures": measures,
        "orientation": made.fitting.print.orientation,
        "size_mm": [x, y, thing.fitting.print.height_mm],
        "volume_mm3": made.solid.volume_mm3(),
    })
}

/// The filament where none is given: what water suits best.
pub(crate) const USUAL_FILAMENT: Filament = Filament::Petg;
