//! `sumpwright check`: prints all findings, writes nothing.

use std::io;

use study::told::one_line;
use study::{Strong, parts};

use crate::args::CheckArgs;
use crate::terminal::{self, Progress};
use crate::{Outcome, draw, reading};

pub(crate) fn run(args: &CheckArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let mut more = Vec::new();
    let progress = Progress::new();
    progress.next("Letting the water run");
    let wet = reading.wet();
    if let Some(design) = wet.as_ref().map(|wet| &wet.design).or(reading.design.as_ref()) {
        progress.next("Building the solids");
        more = parts::build(design).err().unwrap_or_default();
    }
    progress.next("Taking everything out");
    let fitted = reading.fitted();
    more.extend(reading.of_fit(fitted.as_ref()));
    progress.next("Laying parts on sheets");
    more.extend(reading.of_shop(reading.shopped(wet.as_ref()).as_ref()));
    progress.next("Loading the panels");
    let strong = reading.strong(wet.as_ref());
    more.extend(reading.of_strength(strong.as_ref()));
    drop(progress);
    more.extend(reading.of_water(wet.as_ref()));
    let report = reading.report_of_fit(&more, fitted.as_ref().map(|fitted| &fitted.fit));
    if args.json {
        terminal::print(&format!("{:#}\n", report.to_json()))?;
    } else {
        terminal::print(&does_it_hold(strong.as_ref()))?;
        let is_coloured = terminal::has_colour(&io::stdout());
        terminal::print(&draw::report(
            &report,
            draw::Style { is_coloured, with_holding: args.all },
        ))?;
        terminal::print(&holding(report.counts().holds, args.all))?;
    }
    Ok(Outcome::of(&reading, &report))
}

/// The answer in one line, before all else; nothing where no design could be loaded.
fn does_it_hold(strong: Option<&Strong>) -> String {
    strong.map_or(String::new(), |strong| {
        format!("Does it hold? {}\n\n", one_line(&strong.verdict.answer))
    })
}

/// A line that tells how to see what holds; nothing where it is shown or nothing holds.
fn holding(count: usize, is_shown: bool) -> String {
    match count {
        _ if is_shown => String::new(),
        0 => String::new(),
        1 => "1 holds: see it with --all\n".to_owned(),
        n => format!("{n} hold: see them with --all\n"),
    }
}
