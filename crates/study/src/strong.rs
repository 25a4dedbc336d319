//! Whether it holds: from what is known of the water to the strength of a sump.

mod heads;

use design::{BasinId, Design};
use findings::Finding;
use params::File;
use strength::{Levels, Strength, Verdict, Waters};
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
/// Levels are the higher ends of their bands, and so are heads: a higher level at the higher end, a lower one at the lower end.
pub fn waters(design: &Design, known: Option<&Known<'_>>) -> Waters {
    let Some((in_flow, known)) = known.and_then(|known| Some((known.in_flow.as_ref()?, known)))
    else {
        return Waters { density_kg_m3: density_kg_m3(design), ..Waters::default() };
    };
    let basins = highest(&running_mm(in_flow), &known.outcomes);
    Waters {
        density_kg_m3: in_flow.report.water.density_kg_m3,
        heads: heads::heads(&in_flow.running.levels_m, &basins, &known.outcomes),
        basins,
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

#[cfg(test)]
mod tests;
