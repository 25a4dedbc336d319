//! `sumpwright check`: prints all findings, writes nothing.

use std::io;

use crate::args::CheckArgs;
use crate::reading::Reading;
use crate::terminal::{self, Progress};
use crate::{Outcome, draw, parts};

pub(crate) fn run(args: &CheckArgs) -> anyhow::Result<Outcome> {
    let reading = Reading::of(&args.file)?;
    let mut more = Vec::new();
    let progress = Progress::new();
    progress.next("Letting the water run");
    let wet = reading.wet();
    if let Some(design) = wet.as_ref().map(|wet| &wet.design).or(reading.design.as_ref()) {
        progress.next("Building the solids");
        more = parts::build(design).err().unwrap_or_default();
    }
    drop(progress);
    more.extend(reading.of_water(wet.as_ref()));
    let report = reading.report(&more);
    if args.json {
        terminal::print(&format!("{:#}\n", report.to_json()))?;
    } else {
        let is_coloured = terminal::has_colour(&io::stdout());
        terminal::print(&draw::report(&report, draw::Style { is_coloured, with_holding: false }))?;
    }
    Ok(reading.outcome(&report))
}
