//! `sumpwright picture`: writes pictures, also of a design that cannot be made yet.

use std::{fs, io};

use anyhow::Context;
use fit::Fit;
use serde_json::json;
use study::Report;
use study::parts;

use crate::args::{PictureArgs, View};
use crate::draw::Style;
use crate::file_name::FileName;
use crate::terminal::{self, Progress};
use crate::whole_file::{self, There};
use crate::{Outcome, draw, outputs, reading};

pub(crate) fn run(args: &PictureArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let wet = reading.wet();
    // A design that cannot be made yet is shown with its water at rest.
    let design = wet.as_ref().map(|wet| &wet.design).or(reading.design.as_ref());
    let built = design.map(|design| (design, parts::build(design)));
    let mut written = Vec::new();
    let mut refusals = Vec::new();
    match built {
        Some((design, Ok(parts))) => {
            let progress = Progress::new();
            let mut scene = study::scene(design, &parts)?;
            let views = views(&args.view);
            if views.contains(&scene::View::Lifted) {
                progress.next("Taking everything out");
                scene = scene.on_ways(design, &Fit::of(design).report);
            }
            let folder = args.into.display();
            fs::create_dir_all(&args.into)
                .with_context(|| format!("cannot make the folder `{folder}`"))?;
            let stem =
                FileName::of(&args.file.file_stem().unwrap_or_default().to_string_lossy(), "sump");
            for view in views {
                progress.next(format_args!("Drawing the view `{}`", view.name()));
                let path = args.into.join(format!("{stem}-{}.png", view.name()));
                whole_file::write(
                    &path,
                    &outputs::draw(&scene, view, args.size)?,
                    There::IsReplaced,
                )?;
                written.push(path.display().to_string());
            }
        }
        Some((_, Err(findings))) => refusals = findings,
        None => {}
    }
    refusals.extend(reading.of_water(wet.as_ref()));
    let report = reading.report(&refusals);
    tell(args, &report, &written)?;
    Ok(Outcome::of(&reading, &report))
}

fn views(asked: &[View]) -> Vec<scene::View> {
    let view = |view: &View| match view {
        View::Whole => scene::View::Whole,
        View::Above => scene::View::Above,
        View::Section => scene::View::Section,
        View::Lifted => scene::View::Lifted,
    };
    if asked.is_empty() { scene::View::ALL.to_vec() } else { asked.iter().map(view).collect() }
}

fn tell(args: &PictureArgs, report: &Report<'_>, written: &[String]) -> anyhow::Result<()> {
    if args.json {
        let mut value = report.to_json();
        value["files"] = json!(written);
        return terminal::print(&format!("{value:#}\n"));
    }
    let style = Style { is_coloured: terminal::has_colour(&io::stderr()), with_holding: false };
    terminal::say(draw::report(report, style).trim_end());
    let lines: String = written.iter().map(|path| format!("{path}\n")).collect();
    terminal::print(&lines)
}
