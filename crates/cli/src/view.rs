//! `sumpwright view`: opens the live window, a program of its own that lies beside this one.

use std::env::consts::EXE_SUFFIX;
use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, bail};

use crate::args::ViewArgs;
use crate::{Outcome, reading};

/// Name of the window's program.
const WINDOW: &str = "sumpwright-view";

/// Waits until the window is closed, and comes out as it did.
pub(crate) fn run(args: &ViewArgs) -> anyhow::Result<Outcome> {
    // What cannot be read is told here, before a window opens.
    reading::read(&args.file)?;
    let window = window()?;
    let mut command = Command::new(&window);
    command.args(args.dark.then_some("--dark"));
    // A file may be called like an option.
    let is_like_option = args.file.to_string_lossy().starts_with('-');
    let file = if is_like_option { PathBuf::from(".").join(&args.file) } else { args.file.clone() };
    let status = command
        .arg(file)
        .status()
        .with_context(|| format!("cannot start the window `{}`", window.display()))?;
    let code = status.code().and_then(|code| u8::try_from(code).ok());
    // Without a code it was ended from outside.
    Ok(Outcome::Code(code.unwrap_or(2)))
}

/// The program beside this one.
fn window() -> anyhow::Result<PathBuf> {
    let own = std::env::current_exe().context("cannot find where `sumpwright` lies")?;
    let own = own.canonicalize().unwrap_or(own);
    let window = own.with_file_name(format!("{WINDOW}{EXE_SUFFIX}"));
    if !window.is_file() {
        let folder = own.parent().unwrap_or(&own).display();
        bail!(
            "the live window is a program of its own, and `{WINDOW}` is not in `{folder}`: build it with \
             `cargo build --release -p view` and put it there"
        );
    }
    Ok(window)
}
