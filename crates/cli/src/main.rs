//! The command line: reads arguments, files, the clock and the environment; calls the libraries;
//! prints and writes.
//!
//! Knows commands, folders and terminals. Knows no geometry and no rule of building: what is true of a
//! design is for the libraries to say.

mod args;
mod check;
mod compare;
mod csv;
mod curves;
mod cut;
mod draw;
mod file_name;
mod files;
mod fit_files;
mod fit_json;
mod fits;
mod folder;
mod html;
mod levels;
mod make;
mod new;
mod outputs;
mod picture;
mod printed;
mod reading;
mod rehearse;
mod schema;
mod shell;
mod strength;
mod strength_files;
mod strips;
mod terminal;
mod tour;
mod tour_files;
mod view;
mod water_files;
mod whole_file;

use std::process::ExitCode;

use clap::Parser;
use study::{Reading, Report};

use crate::args::{Args, Command};

/// How a command came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Outcome {
    /// Nothing fails: code 0.
    Fine,
    /// A finding fails: code 1.
    Fails,
    /// The parameter file cannot be understood: code 2, like a wrong call.
    WrongFile,
    /// Another program did the work and ended with this code.
    Code(u8),
}

impl Outcome {
    /// How a command comes out that read this and found that.
    fn of(reading: &Reading, report: &Report<'_>) -> Self {
        match (&reading.file, report.fails()) {
            (None, _) => Self::WrongFile,
            (Some(_), true) => Self::Fails,
            (Some(_), false) => Self::Fine,
        }
    }
}

fn main() -> ExitCode {
    match run(&Args::parse().command) {
        Ok(Outcome::Fine) => ExitCode::SUCCESS,
        Ok(Outcome::Fails) => ExitCode::from(1),
        Ok(Outcome::WrongFile) => ExitCode::from(2),
        Ok(Outcome::Code(code)) => ExitCode::from(code),
        Err(error) => {
            terminal::say(&format!("error: {error:#}"));
            ExitCode::from(2)
        }
    }
}

/// `Err` is a failure of the call or of the system, never a finding.
fn run(command: &Command) -> anyhow::Result<Outcome> {
    match command {
        Command::New(args) => new::run(args),
        Command::Check(args) => check::run(args),
        Command::Make(args) => make::run(args),
        Command::Picture(args) => picture::run(args),
        Command::Levels(args) => levels::run(args),
        Command::Rehearse(args) => rehearse::run(args),
        Command::Fit(args) => fits::run(args),
        Command::Strength(args) => strength::run(args),
        Command::Cut(args) => cut::run(args),
        Command::Fittings(args) => printed::run(args),
        Command::Tour(args) => tour::run(args),
        Command::View(args) => view::run(args),
        Command::Compare(args) => compare::run(args),
        Command::Schema => schema::run(),
        Command::Completions(args) => shell::completions(args),
        Command::Man(args) => shell::man(args),
    }
}
