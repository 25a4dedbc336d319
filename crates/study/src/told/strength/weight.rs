//! Tables of weight.

use design::Design;
use strength::{STRETCH_MM, State, Weight};

use super::shown::Shown;
use crate::told::table::Table;

/// The states that are known, in words.
fn states(weight: &Weight) -> Vec<(&'static str, &State)> {
    let running = weight.running.as_ref().map(|state| ("running", state));
    let carried = ("carried in: dry, loose parts out", &weight.carried);
    let dry = ("dry, with all in it", &weight.dry);
    [Some(carried), Some(dry), running, Some(("full to the rim", &weight.full))]
        .into_iter()
        .flatten()
        .collect()
}

/// What it weighs, and where its weight is.
pub(super) fn table(weight: &Weight, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Weight",
        ["state", "in all", "parts", "water", "centre of gravity: along, back, up"],
    );
    let row = |(words, state): (&str, &State)| {
        let centre = state.centre_mm.to_array().map(|mm| shown.length(mm));
        vec![
            words.to_owned(),
            shown.kg(state.total_kg()),
            shown.kg(state.parts_kg),
            shown.kg(state.water_kg),
            centre.join(", "),
        ]
    };
    table.rows = states(weight).into_iter().map(row).collect();
    table.notes = vec![
        "The centre is counted from the outer lower front corner of the inlet end. Water in flow stands at the higher end \
         of its band."
            .to_owned(),
    ];
    if weight.running.is_none() {
        table.notes.push("Running is not told: levels in flow are not known.".to_owned());
    }
    if !weight.unknown.is_empty() {
        table
            .notes
            .push(format!("On top comes what has no known mass: {}.", weight.unknown.join(", ")));
    }
    table
}

/// What stands on the cabinet.
pub(super) fn standing(weight: &Weight, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "What it puts on cabinet and floor",
        [
            "state",
            "front left",
            "front right",
            "back left",
            "back right",
            "per running length",
            "on its footprint",
        ],
    );
    let row = |(words, state): (&str, &State)| {
        let corners = state.corners_kg.map(|kg| shown.kg(kg));
        let mut row = vec![words.to_owned()];
        row.extend(corners);
        row.extend([shown.per_metre(state.per_metre_kg), shown.pressure(state.pressure_kn_m2)]);
        row
    };
    table.rows = states(weight).into_iter().map(row).collect();
    table.notes = vec![format!(
        "Corners as if it stood on four feet at them, seen from the front with the inlet end on the left. Per running \
         length: the greatest mean over any {}. The display above and the cabinet stand on the same floor and are not \
         counted.",
        shown.length(STRETCH_MM)
    )];
    table
}
