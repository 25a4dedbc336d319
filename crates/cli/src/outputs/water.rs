//! The folder `water/`, and `checks/water.json` by which another program can repeat all of it.

use std::collections::BTreeSet;

use design::Design;
use serde_json::{Value, json};
use study::in_flow::{InFlow, Known};
use water::{Outcome, Sample};

use crate::files::Files;
use crate::water_files;

/// Instants at which the levels of a failure are told, about.
const INSTANTS: usize = 20;

/// Adds all that is known of the water.
pub(super) fn add(files: &mut Files, design: &Design, known: &Known<'_>) {
    let Some(in_flow) = &known.in_flow else { return };
    let levels = water_files::levels(design, in_flow, &known.outcomes);
    let rehearsals = water_files::of_rehearsals(&known.outcomes, in_flow, design.report);
    for file in levels.into_iter().chain(rehearsals) {
        files.add("water", &file.name, file.extension, file.purpose, file.bytes);
    }
    let check = format!("{:#}\n", check(in_flow, &known.outcomes));
    files.add_fixed(
        "checks/water.json",
        "the network of the water, its levels and every failure, to be computed again",
        check,
    );
}

/// Everything that an independent solver needs to repeat levels and failures, and what came out here.
fn check(in_flow: &InFlow<'_>, outcomes: &[Outcome]) -> Value {
    let InFlow { running, report } = in_flow;
    let system = &running.system;
    let tanks = &system.tanks;
    json!({
        "about": "SI units; heights above the inside of the sump's bottom; indices count from 0",
        "network": system.network,
        "parts": system.parts,
        "pipes": system.pipes(),
        "tanks": {
            "basins": tanks.basins,
            "shelves": tanks.shelves,
            "covers": tanks.covers,
            "display": tanks.display,
            "overflow_box": tanks.weir_box,
            "reservoir": tanks.reservoir,
            "sump_floor": tanks.sump_floor,
            "display_floor": tanks.display_floor,
            "air": tanks.air,
            "return": tanks.returning,
        },
        "steady": {
            "held": system.held(),
            "levels_m": running.levels_m,
            "flows_m3_s": running.flows_m3_s,
        },
        "report": report,
        "rehearsals": outcomes.iter().map(|outcome| rehearsal(in_flow, outcome)).collect::<Vec<_>>(),
    })
}

fn rehearsal(in_flow: &InFlow<'_>, outcome: &Outcome) -> Value {
    let running = &in_flow.running;
    let mut value = water_files::as_json(outcome, &running.system);
    value["script"] = json!(water::script(running, &outcome.failure));
    value["end_levels_m"] = outcome.reaches.iter().map(|reach| reach.end_m).collect();
    value["samples"] = instants(outcome)
        .map(|sample| json!({ "t_s": sample.t_s, "levels_m": sample.levels_m }))
        .collect();
    value
}

/// Samples at about equal steps of time, and as many in equal shares of the samples, which lie close where
/// levels move; nothing is interpolated.
fn instants(outcome: &Outcome) -> impl Iterator<Item = &Sample> {
    let samples = &outcome.samples;
    let last = samples.len().saturating_sub(1);
    let mut chosen = BTreeSet::from([last]);
    for k in 0..INSTANTS / 2 {
        #[expect(clippy::cast_precision_loss, reason = "a few instants")]
        let t_s = outcome.end_s * k as f64 / (INSTANTS / 2) as f64;
        chosen.insert(samples.partition_point(|sample| sample.t_s < t_s).min(last));
        chosen.insert(last * k / (INSTANTS / 2));
    }
    chosen.into_iter().filter_map(|i| samples.get(i))
}
