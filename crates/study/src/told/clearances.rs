//! Which parts come how near to each other.

use design::Design;
use fit::{Clearance, Report};
use units::Length;

use super::figures::NONE;
use super::places;
use super::table::Table;

/// Pairs that keep their distance and are told nonetheless.
const MOST_KEPT: usize = 12;

/// Pairs that are nearer than wanted, then the closest of the others.
pub fn table(report: &Report, design: &Design) -> Table {
    let mut table =
        Table::new("Clearances", ["between", "and", "gap", "wanted", "where", "when", "outcome"]);
    let (near, kept): (Vec<_>, Vec<_>) = report.clearances.iter().partition(|c| is_near(c));
    let told = near.iter().chain(kept.iter().take(MOST_KEPT));
    table.rows = told.map(|clearance| row(clearance, design)).collect();
    table.notes.push(format!(
        "Pairs that touch by design (glued, resting, sliding) are left out. {}",
        places::NOTE
    ));
    if let Some(more) = kept.len().checked_sub(MOST_KEPT).filter(|more| *more > 0) {
        table.notes.push(format!("{more} more pairs keep their distance: `--json` has them all."));
    }
    table
}

/// Whether two things are nearer than is wanted.
pub fn is_near(clearance: &Clearance) -> bool {
    clearance.gap_mm < clearance.limit_mm
}

fn row(clearance: &Clearance, design: &Design) -> Vec<String> {
    let Clearance { names: [a, b], gap_mm, at: [p, q], limit_mm, when, .. } = clearance;
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let gap = if *gap_mm < 0.0 {
        format!("none: {} into each other", show(-gap_mm))
    } else {
        show(*gap_mm)
    };
    let outcome = match *gap_mm {
        gap if gap < 0.0 => "in the way",
        gap if gap < *limit_mm => "near",
        _ => "holds",
    };
    vec![
        a.clone(),
        b.clone(),
        gap,
        // These have their own play by the file, and only must not touch.
        if *limit_mm > 0.0 { show(*limit_mm) } else { NONE.to_owned() },
        places::place(design, p.midpoint(*q)),
        when.clone().unwrap_or_else(|| NONE.to_owned()),
        outcome.to_owned(),
    ]
}
