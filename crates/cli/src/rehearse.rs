//! `sumpwright rehearse`: plays failures in time and tells what they do.

use anyhow::bail;
use design::Waterworks;
use findings::Finding;
use serde_json::json;
use study::in_flow::{self, InFlow, name_hint};
use study::told::figures::Figures;
use study::told::one_line;
use study::told::rehearsals;
use water::{Failure, Outcome as Played};

use crate::args::RehearseArgs;
use crate::levels::{no_levels, tell_failing};
use crate::terminal::{self, Progress};
use crate::water_files;
use crate::{Outcome, reading};

pub(crate) fn run(args: &RehearseArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let Some(design) = &reading.design else { return no_levels(args.json, &reading, None) };
    let works = &design.waterworks;
    if args.list {
        terminal::print(&list(works))?;
        return Ok(Outcome::of(&reading, &reading.report(&[])));
    }
    let failures = asked(works, &args.names)?;
    let progress = Progress::new();
    progress.next("Letting the water run");
    let in_flow = match InFlow::of(design) {
        Ok(in_flow) => in_flow,
        Err(reason) => {
            drop(progress);
            let why = in_flow::not_rehearsed_without(&reason);
            return no_levels(args.json, &reading, Some(&why));
        }
    };
    progress.next(format_args!("Playing {} failures", failures.len()));
    let (mut outcomes, mut not_played) = (Vec::new(), Vec::new());
    for outcome in in_flow.rehearse(&failures) {
        match outcome {
            Ok(outcome) => outcomes.push(outcome),
            Err(finding) => not_played.push(*finding),
        }
    }
    let found = findings(&in_flow, &outcomes, design.report, not_played);
    let system = &in_flow.running.system;
    let written = match &args.into {
        Some(folder) => {
            let files = water_files::of_rehearsals(&outcomes, &in_flow, design.report);
            water_files::write(folder, &files)?
        }
        None => Vec::new(),
    };
    drop(progress);
    let report = reading.report(&found);
    if args.json {
        let mut value = report.to_json();
        let played = outcomes.iter().map(|outcome| water_files::as_json(outcome, system));
        value["rehearsals"] = played.collect();
        value["files"] = json!(written);
        terminal::print(&format!("{value:#}\n"))?;
    } else {
        let figures = Figures(design.report);
        let mut text = String::new();
        if !args.names.is_empty() {
            text += &water_files::courses_text(&outcomes, system, figures);
            text += "\n";
        }
        text += &rehearsals::table(&outcomes, &in_flow, figures).text();
        terminal::print(&text)?;
        for finding in found.iter().filter(|f| f.code == in_flow::FAILURES) {
            terminal::say(&finding.message);
        }
        for path in &written {
            terminal::say(&format!("wrote `{path}`"));
        }
        tell_failing(&reading.report(&[]));
    }
    Ok(Outcome::of(&reading, &report))
}

/// What the rehearsals say, without what is said of the levels.
fn findings(
    in_flow: &InFlow<'_>,
    outcomes: &[Played],
    units: units::System,
    not_played: Vec<Finding>,
) -> Vec<Finding> {
    let InFlow { running, report } = in_flow;
    let of_levels = water::findings(running, report, &[], units);
    let all = water::findings(running, report, outcomes, units);
    all.into_iter().filter(|f| !of_levels.contains(f)).chain(not_played).collect()
}

/// The failures of these names; of no name, all that the file has rehearsed.
fn asked(works: &Waterworks, names: &[String]) -> anyhow::Result<Vec<Failure>> {
    let (kept, unknown) = water::rehearsals(works);
    if names.is_empty() {
        if let Some(unknown) = unknown.first() {
            bail!(
                "{unknown}, at `{}`; {}",
                unknown.parameter,
                name_hint(&unknown.name, &unknown.known)
            );
        }
        return Ok(kept);
    }
    let mut all = water::standing(works);
    all.extend(kept.into_iter().filter(|failure| matches!(failure, Failure::Together(_))));
    let known: Vec<String> = all.iter().map(|failure| failure.name(works)).collect();
    let find = |name: &String| {
        let same = |known: &&String| known.eq_ignore_ascii_case(name.trim());
        match known.iter().position(|known| same(&known)) {
            Some(k) => Ok(all[k].clone()),
            None => bail!("no rehearsal is called `{name}`; {}", name_hint(name, &known)),
        }
    };
    names.iter().map(find).collect()
}

/// Name and course of every failure, a line each.
fn list(works: &Waterworks) -> String {
    let (kept, _) = water::rehearsals(works);
    let mut all = water::standing(works);
    all.extend(kept.iter().filter(|failure| matches!(failure, Failure::Together(_))).cloned());
    let line = |failure: &Failure| {
        let left_out = if kept.contains(failure) { "" } else { " (left out by the file)" };
        let (name, words) = (failure.name(works), failure.words(works));
        one_line(&format!("{name}: {words}{left_out}")) + "\n"
    };
    all.iter().map(line).collect()
}
