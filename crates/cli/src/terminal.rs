//! Where words leave the program: data to standard output, talk to standard error.

use std::io::{self, IsTerminal, Write};
use std::{env, fmt};

use anyhow::Context;

/// Prints data. A reader that has gone away (`| head`) is no failure.
pub(crate) fn print(text: &str) -> anyhow::Result<()> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        result => result.context("cannot print"),
    }
}

/// Prints one line of talk. There is nobody left to tell if even that fails.
pub(crate) fn say(text: &str) {
    writeln!(io::stderr(), "{text}").ok();
}

/// Whether what goes to this stream may be coloured.
pub(crate) fn has_colour(stream: &impl IsTerminal) -> bool {
    let no_colour = env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let is_dumb = env::var_os("TERM").is_some_and(|value| value == "dumb");
    stream.is_terminal() && !no_colour && !is_dumb
}

/// A line on the terminal that says what is being done; silent when no terminal is attached.
#[derive(Debug)]
pub(crate) struct Progress {
    is_shown: bool,
}

impl Progress {
    /// Shows nothing yet.
    pub(crate) fn new() -> Self {
        Self { is_shown: io::stderr().is_terminal() }
    }

    /// Says what comes next.
    pub(crate) fn next(&self, what: impl fmt::Display) {
        if self.is_shown {
            write!(io::stderr(), "\r\x1b[K{what} …").ok();
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.is_shown {
            write!(io::stderr(), "\r\x1b[K").ok();
        }
    }
}
