//! The sump as it runs: the level in every chamber and the flow through every element.

use std::collections::BTreeMap;

use design::Waterworks;
use params::DrainDuty;

use crate::band::Leans;
use crate::fittings_loss;
use crate::gravity::G;
use crate::network::Network;
use crate::solve::{Settled, SteadyError, SteadyOptions, SteadySolver, start_levels};
use crate::system::{Missing, Part, Setting, System, drain_line};

/// How often the valves of the main drains are set anew until the flow agrees: each time brings it nearer
/// by two digits.
const VALVE_ROUNDS: usize = 5;

/// A system with its levels at rest in flow.
#[derive(Clone, Debug)]
pub struct Running<'a> {
    /// The network and what is what in it.
    pub system: System<'a>,
    /// Level of every tank, m.
    pub levels_m: Vec<f64>,
    /// Flow through every element, m³/s.
    pub flows_m3_s: Vec<f64>,
    /// How the levels were found.
    pub settled: Settled,
}

/// Why there are no levels in flow.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NotRunning {
    /// The file does not tell enough.
    #[error(transparent)]
    Missing(#[from] Missing),
    /// The levels cannot be computed.
    #[error("the levels in flow could not be computed: {0}")]
    Steady(#[from] SteadyError),
}

impl<'a> Running<'a> {
    /// The waterworks with these leaves and settings, at the kept level of the return chamber. Valves of
    /// main drains that the file leaves to the keeper are set so that the secondary drain carries the
    /// middle of the wanted trickle.
    ///
    /// # Errors
    /// When the file does not tell enough, or no method balances the flows.
    pub fn new(works: &'a Waterworks, setting: Setting) -> Result<Self, NotRunning> {
        let mut running = Self::untuned(works, setting)?;
        for _ in 0..VALVE_ROUNDS {
            let Some(valves) = running.valves() else { break };
            let change = valves.iter().map(|(name, open)| {
                (open - running.system.setting.valves.get(name).copied().unwrap_or(1.0)).abs()
            });
            let change = change.fold(0.0, f64::max);
            let mut setting = running.system.setting.clone();
            setting.valves = valves;
            running = Self::untuned(works, setting)?;
            if change < 1e-6 {
                break;
            }
        }
        Ok(running)
    }

    fn untuned(works: &'a Waterworks, setting: Setting) -> Result<Self, NotRunning> {
        let system = System::new(works, setting)?;
        let mut solver = SteadySolver::new(&system.network)?;
        let mut levels_m = system.first_levels();
        let held = system.held();
        let settled =
            solver.solve(&system.network, &held, &mut levels_m, &SteadyOptions::default())?;
        let flows_m3_s = flows(&system.network, &levels_m);
        Ok(Self { system, levels_m, flows_m3_s, settled })
    }

    /// Levels with the coefficients leaning as told and with `scale` times the flow of the siphons that a
    /// keeper would set, found from the levels here.
    ///
    /// # Errors
    /// When no method balances the flows.
    pub fn leaning(&self, leans: &Leans) -> Result<Self, SteadyError> {
        let mut other = self.clone();
        other.system.network.lean(leans);
        let mut solver = SteadySolver::new(&other.system.network)?;
        // A keeper sets the valve by what the secondary carries, not by a coefficient.
        for _ in 0..VALVE_ROUNDS {
            other.settle(&mut solver)?;
            if !other.retune() {
                break;
            }
        }
        other.settle(&mut solver)?;
        Ok(other)
    }

    /// The same with another level kept in the return chamber, m; `None` when no method balances the flows.
    pub fn kept_at(&self, level_m: f64) -> Option<Self> {
        let mut other = self.clone();
        let returning = other.system.tanks.returning;
        other.levels_m[returning] = level_m;
        let mut solver = SteadySolver::new(&other.system.network).ok()?;
        other.settle(&mut solver).ok()?;
        Some(other)
    }

    /// Finds the levels anew after the network was changed.
    ///
    /// # Errors
    /// When no method balances the flows.
    pub fn settle(&mut self, solver: &mut SteadySolver) -> Result<(), SteadyError> {
        let held = self.system.held();
        let options = SteadyOptions::default();
        self.settled = solver.solve(&self.system.network, &held, &mut self.levels_m, &options)?;
        self.flows_m3_s = flows(&self.system.network, &self.levels_m);
        Ok(())
    }

    /// Flow of the elements of a part, m³/s.
    pub fn flow(&self, is_wanted: impl Fn(&Part) -> bool) -> f64 {
        self.system.elements(is_wanted).map(|i| self.flows_m3_s[i]).sum()
    }

    /// Flow up to the display, m³/s.
    pub fn return_flow(&self) -> f64 {
        let works = self.system.works;
        self.flow(|part| matches!(part, Part::Line { line } if works.lines[*line].to.is_none()))
    }

    /// Main drains whose valve a keeper sets by the trickle, if there is a secondary to carry it.
    fn tuned(&self) -> Vec<usize> {
        let drains = &self.system.works.drains;
        let has = |duty| drains.iter().any(|d| d.duty == duty && d.intake_mm.is_some());
        if !has(DrainDuty::Secondary) {
            return Vec::new();
        }
        let is_tuned = |d: &design::Drain| {
            d.duty == DrainDuty::Main && d.valve.is_none() && d.intake_mm.is_some()
        };
        (0..drains.len()).filter(|&k| is_tuned(&drains[k])).collect()
    }

    /// What each tuned main drain should carry, and at which level of the overflow box; `None` when no
    /// valve is to be set or nothing flows.
    fn wanted(&self) -> Option<(Vec<(usize, f64)>, f64)> {
        let tuned = self.tuned();
        let flow = self.return_flow();
        if tuned.is_empty() || flow <= 0.0 {
            return None;
        }
        let works = self.system.works;
        let [least, most] = works.limits.trickle;
        let trickle = 0.5 * (least + most) * flow;
        let level = self.level_of_trickle(trickle);
        let bores: f64 = tuned.iter().map(|&k| works.drains[k].bore_mm.powi(2)).sum();
        let share = |k: usize| (flow - trickle) * works.drains[k].bore_mm.powi(2) / bores;
        Some((tuned.iter().map(|&k| (k, share(k))).collect(), level))
    }

    /// Level of the overflow box at which the secondary drains carry this, m.
    fn level_of_trickle(&self, trickle_m3_s: f64) -> f64 {
        let works = self.system.works;
        let secondary = |part: &Part| {
            matches!(part, Part::OpenDrain { drain }
                if works.drains[*drain].duty == DrainDuty::Secondary)
        };
        let elements: Vec<usize> = self.system.elements(secondary).collect();
        let carries = |level_m: f64| -> f64 {
            let of = |&i: &usize| {
                let element = &self.system.network.elements[i];
                element.flow(level_m, self.levels_m[element.down]).q
            };
            elements.iter().map(of).sum()
        };
        // No trickle at all: the water stands at the lip.
        let lips = works.drains.iter().filter(|d| d.duty == DrainDuty::Secondary);
        let lip_m = lips.filter_map(|d| d.intake_mm).fold(f64::INFINITY, f64::min) * 1e-3;
        let (mut low, mut high) = (lip_m, lip_m + 2.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if carries(middle) < trickle_m3_s { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }

    /// Share of the bore that each tuned valve should leave open.
    fn valves(&self) -> Option<BTreeMap<String, f64>> {
        let (wanted, level_m) = self.wanted()?;
        let open = |&(k, q): &(usize, f64)| {
            let drain = &self.system.works.drains[k];
            let line = drain_line(drain, 1.0, self.system.viscosity_m2_s());
            let head_m = level_m - self.outlet_level_m(k);
            let velocity_head_m = line.velocity(q).powi(2) / (2.0 * G);
            let loss = (head_m - line.head(q)) / velocity_head_m;
            let open = if loss > 0.0 { fittings_loss::valve_opening(loss) } else { 1.0 };
            (drain.name.clone(), open)
        };
        Some(wanted.iter().map(open).collect())
    }

    /// Level that a drain's lower end works against, m.
    fn outlet_level_m(&self, drain: usize) -> f64 {
        let element = self.system.elements(|p| *p == Part::Siphon { drain }).next();
        let down = element
            .map_or(f64::NEG_INFINITY, |i| self.levels_m[self.system.network.elements[i].down]);
        down.max(self.system.works.drains[drain].out_mm * 1e-3)
    }

    /// Scales the siphons to what they should carry. Whether anything changed.
    fn retune(&mut self) -> bool {
        let Some((wanted, level_m)) = self.wanted() else { return false };
        let mut has_changed = false;
        for (k, q) in wanted {
            let Some(i) = self.system.elements(|p| *p == Part::Siphon { drain: k }).next() else {
                continue;
            };
            let down = self.levels_m[self.system.network.elements[i].down];
            let element = &mut self.system.network.elements[i];
            let most = element.flow(level_m, down).q / element.scale;
            // No valve gives a pipe more than it passes when open; the table holds it as set.
            let is_open =
                self.system.setting.valves.get(&self.system.works.drains[k].name) == Some(&1.0);
            let scale = if is_open { (q / most).min(1.0) } else { q / most };
            if (scale - element.scale).abs() > 1e-6 {
                element.scale = scale;
                has_changed = true;
            }
        }
        has_changed
    }
}

fn flows(network: &Network, levels_m: &[f64]) -> Vec<f64> {
    let flow = |e: &crate::network::Element| {
        if e.is_open() { e.flow(levels_m[e.up], levels_m[e.down]).q } else { 0.0 }
    };
    network.elements.iter().map(flow).collect()
}

impl System<'_> {
    /// Tanks whose level is given when levels in flow are sought.
    pub fn held(&self) -> Vec<bool> {
        let t = &self.tanks;
        let mut held = vec![false; self.network.tanks.len()];
        let given = [t.returning, t.sump_floor, t.display_floor, t.air];
        for i in given.into_iter().chain(t.reservoir) {
            held[i] = true;
        }
        held
    }

    /// Levels to begin with: the kept one in the return chamber, the others from there against the flow.
    pub fn first_levels(&self) -> Vec<f64> {
        let mut levels: Vec<f64> = self.network.tanks.iter().map(|t| t.floor_m()).collect();
        for (level, basin) in levels.iter_mut().zip(&self.works.basins) {
            *level = level.max(basin.rest_mm * 1e-3);
        }
        if let Some(reservoir) = self.tanks.reservoir {
            levels[reservoir] = crate::system::full_reservoir_m();
        }
        levels[self.tanks.returning] = self.kept_m();
        let pairs = self.network.elements.iter().zip(&self.parts);
        let pumps = pairs.filter(|(_, part)| matches!(part, Part::Line { .. }));
        let most = pumps.map(|(e, _)| e.flow(levels[e.up], levels[e.down]).q);
        let flow = most.fold(0.0, f64::max).max(1e-6);
        let against: Vec<usize> = self.order.iter().rev().copied().collect();
        start_levels(&self.network, &self.held(), &against, flow, &mut levels);
        levels
    }

    /// Kinematic viscosity of the water, m²/s.
    pub fn viscosity_m2_s(&self) -> f64 {
        self.water.kinematic_viscosity()
    }
}
