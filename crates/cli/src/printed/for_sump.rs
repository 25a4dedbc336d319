//! `sumpwright fittings FILE`: all that is printed for a sump, and nothing else of it.

use std::io;
use std::path::Path;

use anyhow::bail;
use findings::{Finding, Grade};
use serde_json::{Value, json};
use study::told::one_line;
use study::{Reading, Report, parts};

use super::files::COMMAND;
use super::{picture, standing};
use crate::args::FittingsArgs;
use crate::draw::{self, Style};
use crate::file_name::FileName;
use crate::files::{Files, Manifest};
use crate::folder::Folder;
use crate::outputs::print::Prints;
use crate::terminal;
use crate::whole_file::{self, There};
use crate::{Outcome, outputs, reading};

pub(super) fn run(file: &Path, names: &[String], args: &FittingsArgs) -> anyhow::Result<Outcome> {
    refuse_what_the_file_says(file, names, args)?;
    let reading = reading::read(file)?;
    let built = reading.design.as_ref().map(parts::build_printed);
    let refusals = match &built {
        Some(Err(refusals)) => &refusals[..],
        _ => &[],
    };
    let report = about_printing(&reading, refusals);
    let (Some(parameters), Some(design), Some(Ok(parts))) =
        (&reading.file, &reading.design, &built)
    else {
        return tell(args, &reading, &report, None);
    };
    let mut prints = Prints::of(parameters, design, parts, "");
    if prints.is_empty() {
        let words = "nothing is printed for this sump; `[[fitting]]` in its file adds what is, `sumpwright fittings --list` tells the kinds";
        return tell(
            args,
            &reading,
            &report,
            Some((json!(null), Vec::new(), vec![words.to_owned()])),
        );
    }
    if !names.is_empty() {
        prints.keep_only(names)?;
    }
    let mut written = Vec::new();
    let mut said = Vec::new();
    if report.fails() {
        if args.into.is_some() || args.picture.is_some() {
            said.push("nothing was written: a finding fails".to_owned());
        }
    } else {
        // Everything is there before anything is written.
        let picture = match &args.picture {
            Some(path) => Some((path, picture::of_sump(&prints, design.report)?)),
            None => None,
        };
        if let Some(folder) = &args.into {
            let words;
            (written, words) = put(&prints, folder, &command(file, names))?;
            said.push(words);
        } else if picture.is_none() {
            said.push("nothing was written: say where with `--into FOLDER`".to_owned());
        }
        if let Some((path, png)) = picture {
            whole_file::write(path, &png, There::IsReplaced)?;
            written.push(path.display().to_string());
            said.push(format!("wrote `{}`", path.display()));
        }
    }
    if !args.json {
        let title = one_line(&design.title);
        terminal::print(&format!("{title}\n\n{}", prints.table()?))?;
    }
    tell(args, &reading, &report, Some((prints.to_json()?, written, said)))
}

/// Everything into the folder. Gives the paths, and what was written in words.
fn put(prints: &Prints<'_>, path: &Path, command: &str) -> anyhow::Result<(Vec<String>, String)> {
    let mut files = Files::default();
    prints.add_alone(&mut files)?;
    prints.add_checks(&mut files);
    files.add_fixed(COMMAND, "the command that makes the same again", format!("{command}\n"));
    let manifest = Manifest::of(&files, COMMAND);
    let folder = Folder::reserve(path, COMMAND)?;
    standing::replaced(path, COMMAND, command)?;
    folder.put(&files, &manifest)?;
    let words = format!(
        "wrote {} files, {}; begin with `{}`",
        files.iter().count() + 1,
        outputs::show_bytes(files.total_bytes()),
        path.join("print-list.txt").display()
    );
    Ok((files.iter().map(|(name, _)| path.join(name).display().to_string()).collect(), words))
}

/// The command that makes the same again beside the file. A path would tell of this machine.
fn command(file: &Path, names: &[String]) -> String {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    let quote = if name.contains(' ') { "\"" } else { "" };
    let mut command = format!("sumpwright fittings {quote}{name}{quote}");
    let mut names: Vec<String> =
        names.iter().map(|name| FileName::of(name, "fitting").to_string()).collect();
    names.sort();
    names.dedup();
    for name in names {
        command += &format!(" {name}");
    }
    command + " --into FOLDER"
}

/// Measures, sheets and the printer of a sump stand in its file.
fn refuse_what_the_file_says(
    file: &Path,
    names: &[String],
    args: &FittingsArgs,
) -> anyhow::Result<()> {
    let name = file.display();
    if let Some(word) = names.iter().find(|name| name.contains('=')) {
        bail!(
            "`{word}`: measures of what is printed for a sump stand in `{name}`, below `[[fitting]]`"
        );
    }
    let printing = "[printing]";
    let given = [
        ("--sheet", args.sheet.is_some(), "[sheet]"),
        ("--count", args.count.is_some(), "[[fitting]]` as `quantity"),
        ("--filament", args.filament.is_some(), printing),
        ("--nozzle", args.nozzle.is_some(), printing),
        ("--layer", args.layer.is_some(), printing),
        ("--clearance", args.clearance.is_some(), printing),
        ("--hole-loss", args.hole_loss.is_some(), printing),
        ("--foot", args.foot.is_some(), printing),
        ("--bed", args.bed.is_some(), printing),
        ("--units", args.units.is_some(), "units"),
    ];
    if let Some((option, _, place)) = given.iter().find(|(_, is_given, _)| *is_given) {
        bail!(
            "`{option}` goes with kinds; for a sump its file says so: write it into `{name}`, at `{place}`"
        );
    }
    Ok(())
}

/// What was found of printing, and all that fails: nothing is made while it does.
fn about_printing<'a>(reading: &'a Reading, refusals: &[Finding]) -> Report<'a> {
    let is_told = |finding: &&Finding| {
        let of = |start: &str| finding.parameter.starts_with(start);
        finding.grade == Grade::Fails
            || of("printing")
            || of("fitting[")
            || CODES.contains(&finding.code)
    };
    let told = reading.findings.iter().filter(is_told).chain(refusals).cloned().collect();
    Report::new(&reading.source, &reading.spans, told)
}

/// Findings about printing that stand at what the part is for.
const CODES: [&str; 3] = ["print-larger-than-bed", "ring-larger-than-bed", "thin-for-nozzle"];

/// Tells findings and what was written: all as data, or to standard error.
fn tell(
    args: &FittingsArgs,
    reading: &Reading,
    report: &Report<'_>,
    made: Option<(Value, Vec<String>, Vec<String>)>,
) -> anyhow::Result<Outcome> {
    let (printed, written, said) = made.unwrap_or_default();
    if args.json {
        let mut value = report.to_json();
        value["printed"] = printed;
        value["files"] = json!(written);
        terminal::print(&format!("{value:#}\n"))?;
        return Ok(Outcome::of(reading, report));
    }
    let style = Style { is_coloured: terminal::has_colour(&io::stderr()), with_holding: false };
    terminal::say(draw::report(report, style).trim_end());
    let file = &report.source.name;
    terminal::say(&format!(
        "looked at for printing alone: `sumpwright check {file}` looks at the rest"
    ));
    for words in &said {
        terminal::say(words);
    }
    Ok(Outcome::of(reading, report))
}
