//! `sumpwright tour`: what each chamber is for, what to look at, and what was found about it.

use show::Show;
use study::told::one_line;
use study::{Studied, parts};

use crate::args::TourArgs;
use crate::levels::{no_levels, tell_failing};
use crate::terminal::{self, Progress};
use crate::{Outcome, reading, tour_files};
use serde_json::json;

pub(crate) fn run(args: &TourArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let progress = Progress::new();
    progress.next("Letting the water run");
    let wet = reading.wet();
    // A design of which a finding fails is walked through with its water at rest.
    let design = wet.as_ref().map(|wet| &wet.design).or(reading.design.as_ref());
    let Some(design) = design else {
        drop(progress);
        return no_levels(args.json, &reading, None);
    };
    progress.next("Taking everything out");
    let fitted = reading.fitted();
    progress.next("Loading the panels");
    let strong = reading.strong(wet.as_ref());
    let mut found = [
        reading.of_water(wet.as_ref()),
        reading.of_fit(fitted.as_ref()),
        reading.of_strength(strong.as_ref()),
    ]
    .concat();
    progress.next("Building the solids");
    let built = parts::build(design);
    if let Err(refusals) = &built {
        found.extend(refusals.iter().cloned());
    }
    let fit = fitted.as_ref().map(|fitted| &fitted.fit);
    let report = reading.report_of_fit(&found, fit);
    let Ok(parts) = built else {
        drop(progress);
        tell_failing(&report);
        return Ok(Outcome::of(&reading, &report));
    };
    let scene = study::scene(design, &parts)?;
    let known = wet.as_ref().map(|wet| &wet.known);
    let show = study::shown::show(&Studied {
        reading: &reading,
        design,
        parts: &parts,
        scene: &scene,
        report: &report,
        known,
        fit,
    });
    let written = match &args.into {
        Some(folder) => {
            progress.next(format_args!("Drawing {} stops", show.stops.len()));
            tour_files::write(folder, &tour_files::of(&show, &scene, design)?)?
        }
        None => Vec::new(),
    };
    drop(progress);
    tell(args, &show, &written)?;
    if !args.json {
        tell_failing(&report);
    }
    Ok(Outcome::of(&reading, &report))
}

fn tell(args: &TourArgs, show: &Show, written: &[String]) -> anyhow::Result<()> {
    if args.json {
        let stop = |stop: &show::Stop| {
            let found = stop.findings.iter().filter_map(|k| show.findings.get(*k));
            json!({
                "title": stop.title,
                "text": stop.text,
                "findings": found.collect::<Vec<_>>(),
                "about_mm": stop.about,
                "from": stop.from,
            })
        };
        let stops: Vec<_> = show.stops.iter().map(stop).collect();
        let value = json!({ "title": show.title, "stops": stops, "files": written });
        return terminal::print(&format!("{value:#}\n"));
    }
    terminal::print(&format!("{}\n{}", one_line(&show.title), tour_files::text(show)))?;
    for path in written {
        terminal::say(&format!("wrote `{path}`"));
    }
    Ok(())
}
