//! `sumpwright cut`: sheets, costs and the package for the shop.

use std::fs;
use std::path::Path;

use findings::Grade;
use serde_json::json;
use study::told::one_line;
use study::{Reading, Report, parts};

use crate::args::CutArgs;
use crate::draw::{self, Style};
use crate::outputs::shop::{self, ShopOf};
use crate::terminal::{self, Progress};
use crate::{Outcome, reading, whole_file};

pub(crate) fn run(args: &CutArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let progress = Progress::new();
    progress.next("Letting the water run");
    let wet = reading.wet();
    progress.next("Laying parts on sheets");
    let shopped = reading.shopped(wet.as_ref());
    let strong = reading.strong(wet.as_ref());
    // Ways out take long to search and are left to `check` and `make`.
    let found = [
        reading.of_shop(shopped.as_ref()),
        reading.of_water(wet.as_ref()),
        reading.of_strength(strong.as_ref()),
    ]
    .concat();
    let report = reading.report(&found);
    let (Some(wet), Some(shopped), Some(file)) = (&wet, &shopped, &reading.file) else {
        drop(progress);
        return tell_failure(args, &reading, &report);
    };
    // What a shop is sent can be cut: nothing is written while a finding fails.
    let written = match &args.into {
        Some(folder) if !report.fails() => {
            progress.next("Building the solids");
            let parts = match parts::build(&wet.design) {
                Ok(parts) => parts,
                Err(refusals) => {
                    drop(progress);
                    let report = reading.report(&[found, refusals].concat());
                    return tell_failure(args, &reading, &report);
                }
            };
            progress.next("Writing drawings and guides");
            let scene = study::scene(&wet.design, &parts)?;
            let not_alone = strong.as_ref().map_or(&[][..], |strong| &strong.not_alone);
            let (parts, scene) = (&parts[..], Some(&scene));
            let files = shop::of(&ShopOf { file, wet, shopped, parts, scene, not_alone })?;
            let files =
                files.iter().map(|(_, name, extension, _, bytes)| (name, *extension, &bytes[..]));
            whole_file::write_all(folder, files)?
        }
        _ => Vec::new(),
    };
    drop(progress);
    if args.json {
        let mut value = report.to_json();
        value["shop"] = shop::sheets_json(file, &wet.design, shopped);
        value["files"] = json!(written);
        terminal::print(&format!("{value:#}\n"))?;
    } else {
        let tables = shop::tables(file, &wet.design, shopped);
        let text: Vec<String> =
            tables.iter().map(study::told::table::Table::text_in_width).collect();
        let not_alone = strong.as_ref().map_or(&[][..], |strong| &strong.not_alone);
        let both_sides = documents::both_sides(not_alone)
            .map(|words| format!("\n{}\n", one_line(&words)))
            .unwrap_or_default();
        let title = one_line(&wet.design.title);
        terminal::print(&format!("{title}\n\n{}{both_sides}", text.join("\n")))?;
        for path in &written {
            terminal::say(&format!("wrote `{path}`"));
        }
        for path in args.into.iter().flat_map(|folder| older(folder, &written)) {
            terminal::say(&format!(
                "`{path}` was there before and is not of this package: take it away before you send the folder"
            ));
        }
        // What the shop must know, and what stops it, belongs to what was asked for.
        let stops =
            found.iter().filter(|f| f.grade == Grade::Fails && !shopped.findings.contains(f));
        let told = shopped.findings.iter().chain(stops).cloned().collect();
        let found = Report::new(&reading.source, &reading.spans, told);
        let is_coloured = terminal::has_colour(&std::io::stderr());
        let style = Style { is_coloured, with_holding: false };
        terminal::say(draw::report(&found, style).trim_end());
        if args.into.is_some() && report.fails() {
            terminal::say("nothing was written: a finding fails");
        }
    }
    Ok(Outcome::of(&reading, &report))
}

/// Drawings and papers in a folder that were not written now: those of an earlier run with other sheets, perhaps.
fn older(folder: &Path, written: &[String]) -> Vec<String> {
    let is_ours = |path: &Path| {
        path.extension().is_some_and(|e| ["dxf", "svg", "pdf", "zip"].iter().any(|ours| e == *ours))
    };
    let entries = fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
    let paths = entries.map(|entry| entry.path()).filter(|path| is_ours(path));
    let names = paths.map(|path| path.display().to_string());
    let mut older: Vec<String> = names.filter(|name| !written.contains(name)).collect();
    older.sort();
    if written.is_empty() { Vec::new() } else { older }
}

/// There is nothing to cut: says why.
fn tell_failure(args: &CutArgs, reading: &Reading, report: &Report<'_>) -> anyhow::Result<Outcome> {
    if args.json {
        terminal::print(&format!("{:#}\n", report.to_json()))?;
    } else {
        let is_coloured = terminal::has_colour(&std::io::stderr());
        let style = Style { is_coloured, with_holding: false };
        terminal::say(draw::report(report, style).trim_end());
    }
    Ok(Outcome::of(reading, report))
}
