//! What shells and manuals ask for: `sumpwright completions` and `sumpwright man`.

use std::fs;

use anyhow::Context;
use clap::CommandFactory;

use crate::args::{Args, CompletionsArgs, ManArgs};
use crate::{Outcome, terminal};

pub(crate) fn completions(args: &CompletionsArgs) -> anyhow::Result<Outcome> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Args::command(), "sumpwright", &mut text);
    terminal::print(&String::from_utf8(text)?)?;
    Ok(Outcome::Fine)
}

/// One page for the program and one for each command.
pub(crate) fn man(args: &ManArgs) -> anyhow::Result<Outcome> {
    let folder = args.into.display();
    fs::create_dir_all(&args.into).with_context(|| format!("cannot make the folder `{folder}`"))?;
    clap_mangen::generate_to(Args::command(), &args.into)
        .with_context(|| format!("cannot write into `{folder}`"))?;
    Ok(Outcome::Fine)
}
