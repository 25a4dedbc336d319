//! `sumpwright-view FILE`: the live window.

use std::io::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use view::loading::Stages;
use view::window::{self, Measuring, Options};

const USAGE: &str =
    "usage: sumpwright-view [--dark] [--measure FRAMES | --measure-saves TIMES] [--tell FILE] FILE";

fn main() -> ExitCode {
    let mut arguments = std::env::args_os().skip(1);
    let mut options = Options::default();
    while let Some(argument) = arguments.next() {
        match argument.to_str() {
            Some("--dark") => options.is_dark = true,
            Some("--help" | "-h") => return told(USAGE),
            Some(what @ ("--measure" | "--measure-saves")) => {
                let count = arguments.next().and_then(|count| count.to_str()?.parse().ok());
                let Some(count) = count else { return failed(USAGE) };
                options.measure = Some(match what {
                    "--measure" => Measuring::Frames(count),
                    _ => Measuring::Saves(count, PathBuf::new()),
                });
            }
            Some("--tell") => match arguments.next() {
                Some(path) => options.tell = Some(PathBuf::from(path)),
                None => return failed(USAGE),
            },
            Some(option) if option.starts_with('-') => return failed(USAGE),
            _ if options.file == PathBuf::new() => options.file = PathBuf::from(argument),
            _ => return failed(USAGE),
        }
    }
    if options.file == Path::new("") {
        return failed(USAGE);
    }
    if !options.file.is_file() {
        return failed(&format!("there is no file `{}`", options.file.display()));
    }
    let copy = match &mut options.measure {
        Some(Measuring::Saves(_, copy)) => match copied(&options.file) {
            Ok(made) => {
                options.file.clone_from(&made);
                copy.clone_from(&made);
                Some(made)
            }
            Err(error) => return failed(&format!("cannot copy the file: {error}")),
        },
        _ => None,
    };
    std::panic::set_hook(Box::new(|panic| {
        let words = panic.payload_as_str().unwrap_or("without a word");
        let _ = failed(&format!("the window failed: {}", words.replace('\n', " ")));
    }));
    // The window's libraries panic where the machine lacks a library of theirs.
    let run = || window::run(&options, Arc::new(Stages::default()));
    let ended = catch_unwind(AssertUnwindSafe(run));
    if let Some(folder) = copy.as_deref().and_then(Path::parent) {
        // Left over it does no harm.
        let _ = std::fs::remove_dir_all(folder);
    }
    match ended {
        Ok(Ok(measured)) => measured.map_or(ExitCode::SUCCESS, |words| told(&words)),
        Ok(Err(words)) => failed(&words),
        // It was said already.
        Err(_) => ExitCode::from(2),
    }
}

/// A copy of a file to be written to, in a folder of its own.
fn copied(file: &Path) -> std::io::Result<PathBuf> {
    let folder = std::env::temp_dir().join(format!("sumpwright-view-{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    let copy = folder.join(file.file_name().unwrap_or_default());
    std::fs::copy(file, &copy)?;
    Ok(copy)
}

/// To who asked.
fn told(words: &str) -> ExitCode {
    // Nothing can be said to one who does not listen.
    let _ = writeln!(std::io::stdout(), "{words}");
    ExitCode::SUCCESS
}

/// In one sentence; the same code as of the command line when it could not do its work.
fn failed(words: &str) -> ExitCode {
    let _ = writeln!(std::io::stderr(), "error: {words}");
    ExitCode::from(2)
}
