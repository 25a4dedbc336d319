//! `sumpwright strength`: whether it holds, what it weighs, and what tolerances make of its fits.

use findings::Finding;
use serde_json::{Value, json};
use study::told::one_line;
use study::{Reading, Report, Strong, Wet};

use crate::args::StrengthArgs;
use crate::draw::{self, Style};
use crate::strength_files;
use crate::terminal::{self, Progress};
use crate::{Outcome, reading, whole_file};

pub(crate) fn run(args: &StrengthArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let progress = Progress::new();
    progress.next("Letting the water run");
    let wet = reading.wet();
    progress.next("Loading the panels");
    let strong = reading.strong(wet.as_ref());
    let report = reading.report(&reading.of_strength(strong.as_ref()));
    let (Some(wet), Some(strong)) = (&wet, &strong) else {
        drop(progress);
        return tell_failure(args, &reading, &report);
    };
    let written = match &args.drawings {
        Some(folder) => {
            progress.next("Drawing");
            let files = strength_files::of(&wet.design, strong);
            let named = files.iter().map(|file| (&file.name, file.extension, &file.bytes[..]));
            whole_file::write_all(folder, named)?
        }
        None => Vec::new(),
    };
    drop(progress);
    if args.json {
        terminal::print(&format!("{:#}\n", as_json(&report, wet, strong, &written)))?;
    } else {
        let title = one_line(&wet.design.title);
        let words = strength_files::text(&wet.design, strong);
        terminal::print(&format!("{title}\n\n{words}"))?;
        for path in &written {
            terminal::say(&format!("wrote `{path}`"));
        }
        // What does not hold belongs to what was asked for.
        terminal::say(found(&reading, strong).trim_end());
    }
    Ok(Outcome::of(&reading, &report))
}

/// The findings about strength. What is not assessed of panels and seams stands in a table of its own above, once, and
/// is only counted here.
fn found(reading: &Reading, strong: &Strong) -> String {
    let report = |findings| Report::new(&reading.source, &reading.spans, findings);
    let (in_table, others): (Vec<Finding>, Vec<Finding>) =
        strong.findings.iter().cloned().partition(|f| IN_TABLE.contains(&f.code));
    let name = &reading.source.name;
    let summary = one_line(&format!("{name}: {}", report(strong.findings.clone()).summary()));
    let told = match in_table.len() {
        0 => String::new(),
        n => format!(" ({n} of them stand under “Not assessed, and what you do about it” above)"),
    };
    draw::findings(&report(others), name, style()) + &summary + &told
}

/// Checks that are not made, each with its place and what to do in the table of what is not assessed.
const IN_TABLE: [&str; 4] =
    ["corner-stress", "panel-not-thin", "panel-not-assessed", "seams-not-assessed"];

fn style() -> Style {
    Style { is_coloured: terminal::has_colour(&std::io::stderr()), with_holding: false }
}

fn as_json(report: &Report<'_>, wet: &Wet<'_>, strong: &Strong, written: &[String]) -> Value {
    let mut value = report.to_json();
    value["strength"] = strength_files::as_json(&wet.design, Some(&wet.known), strong);
    value["files"] = json!(written);
    value
}

/// There is nothing to load: says why.
fn tell_failure(
    args: &StrengthArgs,
    reading: &Reading,
    report: &Report<'_>,
) -> anyhow::Result<Outcome> {
    if args.json {
        terminal::print(&format!("{:#}\n", report.to_json()))?;
    } else {
        terminal::say(draw::report(report, style()).trim_end());
    }
    Ok(Outcome::of(reading, report))
}
