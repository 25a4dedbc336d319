//! Where water stands, in flow and in every rehearsal.

use design::Design;
use show::{Basin, Event, Flows, Rehearsal};
use water::{BEGIN_S, Outcome, Part, System};

use crate::in_flow::{InFlow, Known};
use crate::told::{events, heights, rehearsals};

/// What holds water, in flow where that is known, else at rest.
pub(super) fn basins(design: &Design, known: Option<&Known<'_>>) -> Vec<Basin> {
    let report = known.and_then(|known| known.in_flow.as_ref()).map(|flow| &flow.report);
    let basin = |(k, place): (usize, &design::Basin)| {
        let in_flow = report.and_then(|report| report.basins.get(k));
        let level_mm = in_flow.map_or(place.rest_mm, |basin| basin.level_m.mid * 1e3);
        Basin {
            name: place.name.clone(),
            parameter: place.parameter.clone(),
            is_chamber: place.is_chamber,
            min_mm: place.min,
            max_mm: place.max,
            level_mm: level_shown_mm(place, level_mm),
        }
    };
    design.waterworks.basins.iter().enumerate().map(basin).collect()
}

/// A level as it is shown, no higher than the rim, to a hundredth of a millimetre.
pub(crate) fn level_shown_mm(place: &design::Basin, level_mm: f64) -> f64 {
    rounded(level_mm.min(place.rim_mm).max(0.0), 100.0)
}

/// Every failure that was played.
pub(super) fn rehearsals(known: &Known<'_>) -> Vec<Rehearsal> {
    let Some(in_flow) = &known.in_flow else { return Vec::new() };
    known.outcomes.iter().map(|outcome| rehearsal(outcome, in_flow)).collect()
}

/// One failure. Instants to a hundredth of a second, heights to a hundredth of a millimetre, volumes to a millilitre,
/// flows to a tenth of a litre an hour: finer than anything is known.
fn rehearsal(outcome: &Outcome, in_flow: &InFlow<'_>) -> Rehearsal {
    let system = &in_flow.running.system;
    let (tanks, samples) = (&system.network.tanks, &outcome.samples);
    let flows = flows(outcome, system);
    // Flows leap where something is switched: such an instant is there twice, before and after it.
    let leaps =
        |k: usize| flows.iter().any(|(_, flow)| (flow[k][1] - flow[k][0]).abs() > LEAP_M3_S);
    let twice = |k: usize| std::iter::once((k, 1)).chain(leaps(k).then_some((k, 0)));
    let mut instants: Vec<(usize, usize)> = (0..samples.len()).flat_map(twice).collect();
    instants.sort_unstable();
    let each = |value: &dyn Fn(usize) -> f64, parts: f64| -> Vec<f64> {
        instants.iter().map(|(k, _)| rounded(value(*k), parts)).collect()
    };
    let level_mm = |tank: usize| {
        let zero_m = heights::zero_m(system, tank);
        each(&|k| (samples[k].levels_m[tank] - zero_m) * 1e3, 100.0)
    };
    let gained_l = |tank: usize| {
        let litres = |k: usize| 1e3 * tanks[tank].volume(samples[k].levels_m[tank]).0;
        let begun = if samples.is_empty() { 0.0 } else { litres(0) };
        each(&|k| litres(k) - begun, 1e3)
    };
    let carried = |(name, flow): &(String, Vec<[f64; 2]>)| Flows {
        name: name.clone(),
        l_h: instants.iter().map(|(k, side)| rounded(flow[*k][*side] * 3.6e6, 10.0)).collect(),
    };
    let told = events::timed(outcome, system);
    Rehearsal {
        name: outcome.name.clone(),
        words: outcome.words.clone(),
        verdict: rehearsals::verdict(outcome, system),
        times_s: each(&|k| samples[k].t_s - BEGIN_S, 100.0),
        levels_mm: (0..system.tanks.basins).map(level_mm).collect(),
        display_mm: level_mm(system.tanks.display),
        spilled_l: [system.tanks.sump_floor, system.tanks.display_floor].map(gained_l),
        flows: flows.iter().map(carried).collect(),
        events: told
            .into_iter()
            .map(|(t_s, words)| Event { t_s: rounded(t_s - BEGIN_S, 100.0), words })
            .collect(),
    }
}

/// A change of flow that is seen, m³/s: a litre an hour.
const LEAP_M3_S: f64 = 1e-3 / 3600.0;

/// What every pump and every drain carries at every sample, before and after what is switched there, m³/s. Of a pump whose
/// line runs back it is negative.
fn flows(outcome: &Outcome, system: &System<'_>) -> Vec<(String, Vec<[f64; 2]>)> {
    let of = |is_wanted: &dyn Fn(&Part) -> bool| {
        let elements: Vec<usize> = system.elements(is_wanted).collect();
        outcome.flows_m3_s(&system.network, &elements)
    };
    let pumps = system.works.lines.iter().enumerate().map(|(k, line)| {
        let up = of(&|part| *part == Part::Line { line: k });
        let back = of(&|part| *part == Part::BackSiphon { line: k });
        let net = up.iter().zip(&back).map(|(up, back)| [up[0] - back[0], up[1] - back[1]]);
        (line.pump.clone(), net.collect())
    });
    let drains = system.works.drains.iter().enumerate().map(|(k, drain)| {
        let is_it = |part: &Part| {
            matches!(part, Part::Siphon { drain } | Part::OpenDrain { drain } if *drain == k)
        };
        (drain.name.clone(), of(&is_it))
    });
    pumps.chain(drains).collect()
}

/// To so many parts of one.
fn rounded(value: f64, parts: f64) -> f64 {
    // Adding nothing makes zero of what is minus zero.
    (value * parts).round() / parts + 0.0
}
