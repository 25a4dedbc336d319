//! `sumpwright fit`: clearances, ways out, and what a hand reaches.

use anyhow::bail;
use design::{Design, RemovableId};
use fit::Fit;
use serde_json::json;
use study::in_flow::name_hint;
use study::parts;
use study::told::one_line;

use crate::args::FitArgs;
use crate::fit_files::{self, Words};
use crate::fit_json;
use crate::levels::{no_levels, tell_failing};
use crate::terminal::{self, Progress};
use crate::{Outcome, reading, strips};

pub(crate) fn run(args: &FitArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let Some(design) = &reading.design else { return no_levels(args.json, &reading, None) };
    if args.list {
        terminal::print(&list(design))?;
        return Ok(Outcome::of(&reading, &reading.report(&[])));
    }
    let asked = asked(design, &args.names)?;
    let progress = Progress::new();
    progress.next(format_args!("Taking {} parts out", design.removables.len()));
    let fit = if args.thorough { Fit::thorough(design) } else { Fit::of(design) };
    let mut refusals = Vec::new();
    let written = match &args.into {
        Some(folder) => {
            let mut files = fit_files::of(&fit, design, &asked);
            progress.next("Building the solids");
            match parts::build(design) {
                Ok(parts) => files.extend(strips::of(&fit, design, &parts, &asked, |k, count| {
                    progress.next(format_args!("Drawing film strip {k} of {count}"));
                })?),
                Err(findings) => refusals = findings,
            }
            progress.next("Writing");
            fit_files::write(folder, &files)?
        }
        None => Vec::new(),
    };
    drop(progress);
    refusals.extend(fit::grade(&fit, design));
    let report = reading.report_of_fit(&refusals, Some(&fit));
    if args.json {
        let mut value = report.to_json();
        value["fit"] = fit_json::whole(&fit, design, &asked);
        value["files"] = json!(written);
        terminal::print(&format!("{value:#}\n"))?;
    } else {
        let words = Words::of(&fit, design, &asked);
        let text = if args.names.is_empty() { words.text() } else { words.ways_text() };
        terminal::print(&format!("{}\n\n{text}", one_line(&design.title)))?;
        for path in &written {
            terminal::say(&format!("wrote `{path}`"));
        }
        if let Some(words) = report.no_way() {
            terminal::say(&one_line(&format!("{}: {words}", report.source.name)));
        }
        tell_failing(&report);
    }
    Ok(Outcome::of(&reading, &report))
}

/// The removables of these names; of no name, all.
fn asked(design: &Design, names: &[String]) -> anyhow::Result<Vec<RemovableId>> {
    if names.is_empty() {
        return Ok(fit_files::all(design));
    }
    let known: Vec<String> =
        design.removables.iter().map(|removable| removable.name.clone()).collect();
    let find = |name: &String| {
        let same = |known: &String| known.eq_ignore_ascii_case(name.trim());
        match known.iter().position(same) {
            Some(k) => Ok(k),
            None => bail!(
                "nothing that can be taken out is called `{name}`; {}",
                name_hint(name, &known)
            ),
        }
    };
    names.iter().map(find).collect()
}

/// Name and kind of all that can be taken out, a line each.
fn list(design: &Design) -> String {
    let line = |removable: &design::Removable| {
        let instead = removable
            .instead_of
            .and_then(|other| design.removables.get(other))
            .map_or(String::new(), |other| format!(" (in the place of {})", other.name));
        one_line(&format!("{}: {}{instead}", removable.name, removable.kind.words())) + "\n"
    };
    design.removables.iter().map(line).collect()
}
