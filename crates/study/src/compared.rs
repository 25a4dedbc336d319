//! Two designs side by side: what is another in the second, and what stays.

mod findings;
mod parts;
mod settings;
mod sheets;
mod water;

use crate::changed::Changed;
use crate::reading::{Fitted, Reading, Wet};
use crate::report::Report;
use crate::shopped::Shopped;
use crate::strong::Strong;
use crate::told::table::Table;

/// A file with all that is known of it.
#[derive(Debug)]
pub struct Side<'a> {
    /// The file.
    pub reading: &'a Reading,
    /// Its water, where it has a sound design.
    pub wet: Option<Wet<'a>>,
    /// Fit and ways out, likewise.
    pub fitted: Option<Fitted>,
    /// Sheets, costs and gluing, likewise.
    pub shopped: Option<Shopped>,
    /// Strength, weight and tolerances, likewise.
    pub strong: Option<Strong>,
}

impl<'a> Side<'a> {
    /// Works out all that is compared.
    pub fn of(reading: &'a Reading) -> Self {
        let wet = reading.wet();
        let shopped = reading.shopped(wet.as_ref());
        let strong = reading.strong(wet.as_ref());
        Self { reading, wet, fitted: reading.fitted(), shopped, strong }
    }

    /// All findings.
    pub fn report(&self) -> Report<'a> {
        let of_water = self.reading.of_water(self.wet.as_ref());
        let of_fit = self.reading.of_fit(self.fitted.as_ref());
        let of_shop = self.reading.of_shop(self.shopped.as_ref());
        let of_strength = self.reading.of_strength(self.strong.as_ref());
        self.reading.report(&[of_water, of_fit, of_shop, of_strength].concat())
    }
}

/// Everything that differs, in tables with a column for each side. A table without a row says in a note that nothing
/// differs.
pub fn tables(sides: [&Side<'_>; 2], changes: &[Changed]) -> Vec<Table> {
    let settings = match changes {
        [] => settings::of_files(sides.map(|side| side.reading)),
        changes => settings::of_changes(changes),
    };
    let [before, after] = sides;
    let mut tables = vec![settings];
    if let (Some(one), Some(other)) = (&before.wet, &after.wet) {
        tables.push(parts::table([&one.design, &other.design]));
        tables.extend(water::tables([one, other]));
    }
    tables.extend(sheets::table(sides));
    // What is wrong with a file that cannot be understood is told at its lines.
    if sides.iter().all(|side| side.reading.file.is_some()) {
        tables.push(findings::table(sides));
    }
    tables
}

/// A row, if the two differ.
fn row(what: impl Into<String>, [before, after]: [String; 2]) -> Option<Vec<String>> {
    (before != after).then(|| vec![what.into(), before, after])
}

/// Says how many rows there would be without any difference.
fn note_same(table: &mut Table, n_same: usize, [one, many]: [&str; 2]) {
    let note = match (table.rows.len(), n_same) {
        (0, 0) => return,
        (0, _) => "Nothing else than before.".to_owned(),
        (_, 0) => return,
        (_, 1) => format!("1 {one} stays as it was."),
        (_, n) => format!("{n} {many} stay as they were."),
    };
    table.notes.push(note);
}

/// Stands where one side has nothing.
const NONE: &str = "–";

#[cfg(test)]
mod tests;
