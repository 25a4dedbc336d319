//! `sumpwright levels`: prints levels and flows with the pump running.

use std::io;

use anyhow::bail;
use design::Design;
use findings::Finding;
use serde_json::{Value, json};
use study::Reading;
use study::Report;
use study::in_flow::{self, InFlow};
use study::told::choices;
use study::told::figures::Figures;
use study::told::one_line;
use water::{DoorReport, Wish};

use crate::args::{LevelsArgs, WantedLevel};
use crate::draw::Style;
use crate::terminal::{self, Progress};
use crate::water_files;
use crate::{Outcome, draw, reading};

pub(crate) fn run(args: &LevelsArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let progress = Progress::new();
    progress.next("Letting the water run");
    let Some(design) = &reading.design else {
        drop(progress);
        return no_levels(args.json, &reading, None);
    };
    let in_flow = match InFlow::of(design) {
        Ok(in_flow) => in_flow,
        Err(reason) => {
            drop(progress);
            let [levels, _] = in_flow::not_in_flow(&reason);
            return no_levels(args.json, &reading, Some(&levels));
        }
    };
    let wishes: Vec<(DoorReport, Wish)> = args
        .want
        .iter()
        .map(|wanted| wish(&in_flow, wanted))
        .collect::<anyhow::Result<Vec<_>>>()?
        .into_iter()
        .flatten()
        .collect();
    let written = match &args.into {
        Some(folder) => water_files::write(folder, &water_files::levels(design, &in_flow, &[]))?,
        None => Vec::new(),
    };
    drop(progress);
    let report = reading.report(&[]);
    if args.json {
        terminal::print(&format!("{:#}\n", as_json(&report, &in_flow, &wishes, &written)))?;
    } else {
        terminal::print(&text(design, &in_flow, &wishes))?;
        for path in &written {
            terminal::say(&format!("wrote `{path}`"));
        }
        tell_failing(&report);
    }
    Ok(Outcome::of(&reading, &report))
}

/// Levels are also told of a design of which a finding fails, but never without saying so.
pub(crate) fn tell_failing(report: &Report<'_>) {
    if report.fails() {
        terminal::say(&format!(
            "{}: a finding about the design fails; `sumpwright check` says which",
            one_line(&report.source.name)
        ));
    }
}

/// There are no levels: says why, or what is wrong with the file that has no design.
pub(crate) fn no_levels(
    is_json: bool,
    reading: &Reading,
    why: Option<&Finding>,
) -> anyhow::Result<Outcome> {
    let report = reading.report(why.map_or(&[], std::slice::from_ref));
    if is_json {
        terminal::print(&format!("{:#}\n", report.to_json()))?;
    } else if let Some(finding) = why {
        terminal::say(&one_line(&finding.message));
        terminal::say(&format!("help: {}", finding.hint.as_deref().unwrap_or_default()));
        tell_failing(&reading.report(&[]));
    } else {
        let style = Style { is_coloured: terminal::has_colour(&io::stderr()), with_holding: false };
        terminal::say(draw::report(&report, style).trim_end());
    }
    // What was asked for cannot be given, whatever else holds.
    Ok(match Outcome::of(reading, &report) {
        Outcome::Fine => Outcome::Fails,
        outcome => outcome,
    })
}

/// What it takes to give a chamber a level, for each door that sets it.
fn wish(in_flow: &InFlow<'_>, wanted: &WantedLevel) -> anyhow::Result<Vec<(DoorReport, Wish)>> {
    let doors: Vec<&DoorReport> =
        in_flow.report.doors.iter().filter(|door| door.chamber == wanted.chamber).collect();
    if doors.is_empty() {
        let mut chambers: Vec<String> =
            in_flow.report.doors.iter().map(|door| format!("`{}`", door.chamber)).collect();
        chambers.dedup();
        let name = &wanted.chamber;
        if chambers.is_empty() {
            bail!("no door sets the level of `{name}`: the sump has no door");
        }
        bail!("no door sets the level of `{name}`; doors set {}", chambers.join(", "));
    }
    let wish = |door: &DoorReport| {
        let wish = water::set_door(&in_flow.running, &door.leaf, door.basin, wanted.level.to_m())?;
        Some((door.clone(), wish))
    };
    Ok(doors.into_iter().filter_map(wish).collect())
}

fn text(design: &Design, in_flow: &InFlow<'_>, wishes: &[(DoorReport, Wish)]) -> String {
    let mut text = format!("{}\n\n", one_line(&design.title));
    if !wishes.is_empty() {
        let pairs = wishes.iter().map(|(door, wish)| (door, wish));
        let (report, works) = (&in_flow.report, &design.waterworks);
        let figures = Figures(design.report);
        text += &choices::wanted("Levels asked for", pairs, report, works, figures).text();
        text += "\n";
    }
    text + &water_files::levels_text(design, in_flow, &[])
}

fn as_json(
    report: &Report<'_>,
    in_flow: &InFlow<'_>,
    wishes: &[(DoorReport, Wish)],
    written: &[String],
) -> Value {
    let wanted = wishes
        .iter()
        .map(|(door, wish)| json!({ "chamber": door.chamber, "leaf": door.leaf, "wish": wish }));
    let mut value = report.to_json();
    value["levels"] = json!(in_flow.report);
    value["wanted"] = wanted.collect();
    value["files"] = json!(written);
    value
}
