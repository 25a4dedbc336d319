//! `sumpwright make`: writes everything into one folder.

use std::io;
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use study::Report;
use study::parts;

use crate::args::MakeArgs;
use crate::draw::Style;
use crate::file_name::FileName;
use crate::files::{Files, Manifest};
use crate::folder::Folder;
use crate::terminal::{self, Progress};
use crate::{Outcome, draw, outputs, reading};

pub(crate) fn run(args: &MakeArgs) -> anyhow::Result<Outcome> {
    let reading = reading::read(&args.file)?;
    let target = args.into.clone().unwrap_or_else(|| default_folder(&args.file));
    let progress = Progress::new();
    progress.next("Letting the water run");
    let wet = reading.wet();
    progress.next("Taking everything out");
    let fitted = reading.fitted();
    progress.next("Laying parts on sheets");
    let shopped = reading.shopped(wet.as_ref());
    progress.next("Loading the panels");
    let strong = reading.strong(wet.as_ref());
    let found = [
        reading.of_water(wet.as_ref()),
        reading.of_fit(fitted.as_ref()),
        reading.of_shop(shopped.as_ref()),
        reading.of_strength(strong.as_ref()),
    ]
    .concat();
    // Nothing is made from a design of which a finding fails: somebody might cut it.
    let fit = fitted.as_ref().map(|fitted| &fitted.fit);
    let report = reading.report_of_fit(&found, fit);
    let is_fine = !report.fails();
    let made_of =
        (&wet, fitted.as_ref().zip(strong.as_ref()), reading.file.as_ref().zip(shopped.as_ref()));
    let (Some(wet), Some((fitted, strong)), Some(shop), true) =
        (made_of.0, made_of.1, made_of.2, is_fine)
    else {
        drop(progress);
        tell(args, &report, &target, None)?;
        return Ok(Outcome::of(&reading, &report));
    };
    let folder = Folder::reserve(&target, outputs::PARAMETERS)?;
    progress.next("Building the solids");
    let parts = match parts::build(&wet.design) {
        Ok(parts) => parts,
        Err(refusals) => {
            drop(progress);
            let report = reading.report_of_fit(&[found, refusals].concat(), Some(&fitted.fit));
            tell(args, &report, &target, None)?;
            return Ok(Outcome::of(&reading, &report));
        }
    };
    progress.next("Preparing files and pictures");
    let (files, manifest) = outputs::files(
        &reading,
        wet,
        (&fitted.fit, strong),
        shop,
        &parts,
        &report,
        !args.no_pictures,
    )?;
    progress.next("Writing");
    folder.put(&files, &manifest)?;
    drop(progress);
    tell(args, &report, &target, Some((&files, &manifest)))?;
    Ok(Outcome::Fine)
}

/// `out/` and the file's name.
fn default_folder(file: &Path) -> PathBuf {
    let name = file.file_stem().unwrap_or_default().to_string_lossy();
    Path::new("out").join(FileName::of(&name, "sump").to_string())
}

/// Says what was found and what was written, if anything was.
fn tell(
    args: &MakeArgs,
    report: &Report<'_>,
    target: &Path,
    made: Option<(&Files, &Manifest)>,
) -> anyhow::Result<()> {
    if args.json {
        let mut value = report.to_json();
        value["folder"] = made.map_or(Value::Null, |_| json!(target.display().to_string()));
        value["files"] = made.map_or(json!([]), |(_, manifest)| json!(manifest.files));
        return terminal::print(&format!("{value:#}\n"));
    }
    let style = Style { is_coloured: terminal::has_colour(&io::stderr()), with_holding: false };
    terminal::say(draw::report(report, style).trim_end());
    match made {
        Some((files, _)) => {
            let (n, size) = (files.iter().count() + 1, outputs::show_bytes(files.total_bytes()));
            terminal::say(&format!(
                "wrote {n} files, {size}; begin with `{}`",
                target.join("index.html").display()
            ));
            terminal::print(&format!("{}\n", target.display()))
        }
        None => {
            terminal::say("nothing was written: a finding fails");
            Ok(())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_default_folder_lies_in_out() {
        let check = |file: &str, folder: &str| {
            assert_eq!(default_folder(Path::new(file)), Path::new(folder));
        };
        check("params/seahorse.toml", "out/seahorse");
        check("/somewhere/My Sump.toml", "out/my-sump");
        check("...toml", "out/sump");
        check(".toml", "out/toml");
        check("..", "out/sump");
    }
}
