//! `sumpwright schema`: prints the JSON Schema of the parameter file.

use crate::{Outcome, terminal};

/// Name of the schema's file, which the starter file points at.
pub(crate) const FILE: &str = "sumpwright.schema.json";

pub(crate) fn run() -> anyhow::Result<Outcome> {
    terminal::print(&text())?;
    Ok(Outcome::Fine)
}

/// The schema as it stands in a file.
pub(crate) fn text() -> String {
    format!("{:#}\n", params::schema())
}
