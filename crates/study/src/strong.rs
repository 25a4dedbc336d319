//! Whether it holds: from what is known of the water to the strength of a sump.

use design::{BasinId, Design};
use findings::Finding;
use params::File;
use strength::{Head, Levels, Strength, Verdict, Waters};
use water::Outcome;
use water::seawater::Water;

use crate::in_flow::{InFlow, Known};

/// A design under the water that it carries.
#[derive(Clone, Debug)]
pub struct Strong {
    /// Panels, seams, weight, fits under their tolerances.
    pub strength: Strength,
    /// What was found.
    pub findings: Vec<Finding>,
    /// The same in short.
    pub verdict: Verdict,
    /// Names of leaves that must not hold water on one side alone.
    pub not_alone: Vec<String>,
}

/// A level has to be so much higher than in flow before a rehearsal is named for it, mm: numbers of two solvers agree no
/// better.
const SAME_MM: f64 = 0.05;

/// Density of what is heavier than any water that formulas know here, kg/m³: 42 g/kg at 0 °C (UNESCO EOS-80), rounded up.
const HEAVIEST_KG_M3: f64 = 1035.0;

impl Strong {
    /// Works it out. `known` is the water of the same file, as far as it is known.
    pub fn of(file: &File, design: &Design, known: Option<&Known<'_>>) -> Self {
        let strength = Strength::of(file, design, &waters(design, known));
        let findings = strength::grade(&strength, file, design);
        let verdict = strength::verdict(&strength, file, design);
        let not_alone = strength::not_alone(&strength, design);
        let not_alone = not_alone.into_iter().map(|panel| panel.name.clone()).collect();
        Self { strength, findings, verdict, not_alone }
    }
}

/// How high water comes, by levels in flow and by every rehearsal.
///
/// Levels are the higher ends of their bands. Heads between two chambers are of the best estimate: both chambers share most
/// of what is doubtful, and a chamber that is drained altogether bears on the same leaf in any case.
pub fn waters(design: &Design, known: Option<&Known<'_>>) -> Waters {
    let Some((in_flow, known)) = known.and_then(|known| Some((known.in_flow.as_ref()?, known)))
    else {
        return Waters { density_kg_m3: density_kg_m3(design), ..Waters::default() };
    };
    let running_mm = running_mm(in_flow);
    Waters {
        density_kg_m3: in_flow.report.water.density_kg_m3,
        heads: heads(&in_flow.running.levels_m, &known.outcomes, running_mm.len()),
        basins: highest(&running_mm, &known.outcomes),
    }
}

/// By temperature and salinity alone.
fn density_kg_m3(design: &Design) -> f64 {
    let water = &design.waterworks.water;
    let known = Water::new(water.temperature.to_celsius(), water.salinity.to_g_per_kg());
    known.map_or(HEAVIEST_KG_M3, |water| water.density)
}

/// Both ends of the level of every basin in flow, mm. Basins are the first tanks of the network.
fn running_mm(in_flow: &InFlow<'_>) -> Vec<[f64; 2]> {
    let InFlow { running, report } = in_flow;
    let told = |basin: BasinId| report.basins.iter().find(|told| told.tank == basin);
    let level = |basin: BasinId| {
        let ends = told(basin).map(|told| [told.level_m.low, told.level_m.high]);
        let known = ends.filter(|ends| ends.iter().all(|end| end.is_finite()));
        known.unwrap_or([running.levels_m[basin]; 2]).map(|m| 1e3 * m)
    };
    (0..running.system.tanks.basins).map(level).collect()
}

/// The highest level of every basin, and in which rehearsal.
fn highest(running_mm: &[[f64; 2]], outcomes: &[Outcome]) -> Vec<Levels> {
    let of_basin = |(basin, &[running_low_mm, running_mm]): (BasinId, &[f64; 2])| {
        let reached = |outcome: &Outcome| {
            let reach = outcome.reaches.iter().find(|reach| reach.tank == basin)?;
            let high = reach.highest_m.high;
            Some(1e3 * if high.is_finite() { high } else { reach.highest_m.mid })
        };
        let reached = outcomes.iter().filter_map(|o| Some((reached(o)?, &o.name)));
        let most = reached.max_by(|a, b| a.0.total_cmp(&b.0));
        match most.filter(|(mm, _)| running_mm + SAME_MM < *mm) {
            Some((highest_mm, name)) => {
                Levels { running_mm, running_low_mm, highest_mm, highest_in: name.clone() }
            }
            None => Levels {
                running_mm,
                running_low_mm,
                highest_mm: running_mm,
                highest_in: String::new(),
            },
        }
    };
    running_mm.iter().enumerate().map(of_basin).collect()
}

/// For every two basins, the moment at which water thrusts hardest from the one towards the other: the thrust on what
/// stands between them goes with the difference of the squares of their levels.
fn heads(in_flow_m: &[f64], outcomes: &[Outcome], n_basins: usize) -> Vec<Head> {
    let thrust = |levels_m: &[f64], [a, b]: [BasinId; 2]| {
        let [a, b] = [a, b].map(|basin| levels_m[basin].max(0.0));
        a * a - b * b
    };
    let least = SAME_MM * 1e-3;
    let of_pair = |basins: [BasinId; 2]| {
        let mut most = (in_flow_m, "");
        for outcome in outcomes {
            for sample in &outcome.samples {
                let more = thrust(&sample.levels_m, basins) - thrust(most.0, basins);
                // A change of a level by dh changes its square by 2 h dh.
                if more > 2.0 * least * sample.levels_m[basins[0]].abs() {
                    most = (&sample.levels_m, &outcome.name);
                }
            }
        }
        let head = Head {
            basins,
            levels_mm: basins.map(|basin| 1e3 * most.0[basin].max(0.0)),
            name: most.1.to_owned(),
        };
        (thrust(most.0, basins) > 0.0).then_some(head)
    };
    let pairs = (0..n_basins).flat_map(|a| (0..n_basins).map(move |b| [a, b]));
    pairs.filter(|[a, b]| a != b).filter_map(of_pair).collect()
}

#[cfg(test)]
mod tests;
