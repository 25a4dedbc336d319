//! The dimensions of the drawing as a table.

use fit::{Clearance, HeldTo};
use units::{Length, System};

use super::gaps::words;
use super::{SIZE, Sheet};
use crate::plot::table::{Rows, table_width};

/// One row per dimension, with its number.
pub(super) fn rows(sheet: &Sheet<'_>) -> Rows {
    let units = sheet.design.report;
    let head = ["", "between", "and", "gap", "wanted", "when"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for (i, clearance) in sheet.gaps.iter().enumerate() {
        let [a, b] = &clearance.names;
        rows.push(vec![
            format!("({})", i + 1),
            a.clone(),
            b.clone(),
            words(clearance, units),
            wanted(clearance, units),
            clearance.when.clone().unwrap_or_default(),
        ]);
    }
    if rows.iter().skip(1).all(|row| row[5].is_empty()) {
        rows.iter_mut().for_each(|row| row.truncate(5));
    }
    if sheet.gaps.is_empty() { Vec::new() } else { rows }
}

/// What is wanted of a gap; a dash where the file has said it by a play, and nothing more is.
fn wanted(clearance: &Clearance, units: System) -> String {
    match clearance.held_to {
        HeldTo::OwnPlay | HeldTo::NoRoomShared => "–".to_owned(),
        _ => Length::mm(clearance.limit_mm).show(units),
    }
}

/// A long table in two, where both have room side by side.
pub(super) fn halves(rows: Rows, width: f64) -> Vec<Rows> {
    /// Rows that are no long table yet.
    const FEW: usize = 9;
    if rows.is_empty() {
        return Vec::new();
    }
    if rows.len() <= FEW || 2.0 * table_width(&rows, SIZE) > width {
        return vec![rows];
    }
    let (head, rest) = rows.split_at(1);
    let halves = rest.chunks(rest.len().div_ceil(2));
    halves.map(|half| head.iter().chain(half).cloned().collect()).collect()
}
