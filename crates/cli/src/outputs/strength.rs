//! The folder `strength/`, and `checks/strength.json` by which another program can load the panels again.

use design::Design;
use study::{Known, Strong};

use super::Output;
use crate::files::Files;
use crate::strength_files::{self, StrengthFile};

/// Name of the folder.
const FOLDER: &str = "strength";

/// A drawing of every panel that bends, and the tables.
pub(super) fn of(design: &Design, strong: &Strong) -> Vec<Output> {
    let output = |file: StrengthFile| (FOLDER, file.name, file.extension, file.purpose, file.bytes);
    strength_files::of(design, strong).into_iter().map(output).collect()
}

/// Adds `checks/strength.json`.
pub(super) fn add_check(files: &mut Files, design: &Design, known: &Known<'_>, strong: &Strong) {
    files.add_fixed(
        "checks/strength.json",
        "panels with their loads, supports and results, seams, weight and tolerances, to be computed again",
        format!("{:#}\n", check(design, known, strong)),
    );
}

fn check(design: &Design, known: &Known<'_>, strong: &Strong) -> serde_json::Value {
    strength_files::as_json(design, Some(known), strong)
}
