//! What differs in the files themselves.

use std::collections::BTreeSet;

use crate::changed::Changed;
use crate::reading::Reading;
use crate::told::table::Table;

use super::{NONE, row};

const HEAD: [&str; 3] = ["setting", "before", "after"];

/// Settings that were changed.
pub(super) fn of_changes(changes: &[Changed]) -> Table {
    let mut table = Table::new("Changed", HEAD);
    let row = |change: &Changed| {
        let before = change.before.clone().unwrap_or_else(|| LEFT_OUT.to_owned());
        vec![change.parameter.clone(), before, change.after.clone()]
    };
    table.rows = changes.iter().map(row).collect();
    table
}

const LEFT_OUT: &str = "left out";

/// All settings that two files have differently: those that hold no others.
pub(super) fn of_files(readings: [&Reading; 2]) -> Table {
    let mut table = Table::new("Settings", HEAD);
    let paths: BTreeSet<&str> = readings.iter().flat_map(|reading| leaves(reading)).collect();
    let value = |reading: &Reading, path: &str| {
        if !reading.spans.contains(path) {
            return NONE.to_owned();
        }
        let bytes = reading.spans.get(path);
        let text = bytes.and_then(|bytes| reading.source.text.get(bytes)).unwrap_or(NONE);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let rows = paths.into_iter();
    table.rows = rows.filter_map(|path| row(path, readings.map(|r| value(r, path)))).collect();
    if table.rows.is_empty() {
        table.notes.push("Both files set the same.".to_owned());
    }
    table
}

/// Paths under which there are no others.
fn leaves(reading: &Reading) -> Vec<&str> {
    let mut leaves: Vec<&str> = Vec::new();
    // In the order of paths a table comes before what it holds.
    for path in reading.spans.paths() {
        let holds =
            |last: &&str| path.strip_prefix(*last).is_some_and(|rest| rest.starts_with(['.', '[']));
        while leaves.last().is_some_and(&holds) {
            leaves.pop();
        }
        leaves.push(path);
    }
    leaves
}
