//! `sumpwright-view FILE`: the live window.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use view::loading::Stages;
use view::window::{self, Options};

const USAGE: &str = "usage: sumpwright-view [--dark] [--measure FRAMES] FILE";

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let mut options = Options::default();
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--dark" => options.is_dark = true,
            "--help" | "-h" => return told(USAGE),
            "--measure" => match arguments.next().and_then(|frames| frames.parse().ok()) {
                Some(frames) => options.measure = Some(frames),
                None => return failed(USAGE),
            },
            _ if options.file == PathBuf::new() && !argument.starts_with('-') => {
                options.file = PathBuf::from(argument);
            }
            _ => return failed(USAGE),
        }
    }
    if options.file == Path::new("") {
        return failed(USAGE);
    }
    if !options.file.is_file() {
        return failed(&format!("there is no file `{}`", options.file.display()));
    }
    match window::run(&options, Arc::new(Stages)) {
        Ok(measured) => measured.map_or(ExitCode::SUCCESS, |words| told(&words)),
        Err(words) => failed(&words),
    }
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
