//! What doors can do: the levels that a door can give its chamber, the setting for a wanted level, and
//! the flows over which it can be held.

use design::{BasinId, WayShape};
use serde::Serialize;

use super::DoorReport;
use crate::law::Law;
use crate::rehearsal::Figure;
use crate::running::Running;
use crate::solve::SteadySolver;
use crate::system::Part;

/// A level that is wanted in a chamber, and what it takes. SI.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Wish {
    /// The level, m.
    pub level_m: f64,
    /// Whose wish it is, in words.
    pub whose: String,
    /// Setting of the door that gives it, m; `None` when none between its limits does.
    pub setting_m: Option<f64>,
    /// Settings that give the least and the greatest depth that is wanted, m, as far as the door goes; `None`
    /// when no setting gives any of it, or no range is wanted.
    pub range_settings_m: Option<[f64; 2]>,
    /// Least and greatest return flow at which some setting gives it, m³/s; `None` when none does.
    pub flows_m3_s: Option<[f64; 2]>,
}

/// Flows are tried from this share of the pumps' own to this.
const FLOWS: [f64; 2] = [0.02, 3.0];
/// A door with less effect than this over its whole travel has none, m.
const NO_EFFECT_M: f64 = 1e-4;
/// Halvings of a bracket: to a millionth of a door's travel.
const HALVINGS: usize = 24;

pub(super) fn all(running: &Running<'_>) -> Vec<DoorReport> {
    let works = running.system.works;
    let mut reports: Vec<DoorReport> = Vec::new();
    for part in &running.system.parts {
        let Part::Way { way, .. } = part else { continue };
        let spec = &works.ways[*way];
        let WayShape::Door { lowest_mm, set_mm, highest_mm, .. } = spec.shape else { continue };
        if reports.iter().any(|r| r.leaf == spec.leaf && r.basin == spec.up) {
            continue;
        }
        let set_mm = running.system.setting.doors.get(&spec.leaf).copied().unwrap_or(set_mm);
        let settings_m = [lowest_mm, set_mm, highest_mm].map(|mm| mm * 1e-3);
        let mut trial = Trial::new(running, &spec.leaf, spec.up);
        let levels_m = settings_m.map(|z| Figure::exact(trial.level(z, 1.0)));
        let wish = skimmer_wish(works, spec.up).map(|(range_m, whose)| {
            let middle = 0.5 * (range_m[0] + range_m[1]);
            let range_settings_m = trial.range(settings_m, range_m);
            Wish { range_settings_m, ..trial.wish(settings_m, middle, whose) }
        });
        reports.push(DoorReport {
            leaf: spec.leaf.clone(),
            parameter: format!("leaf.{}.door", spec.leaf),
            chamber: works.basins[spec.up].name.clone(),
            basin: spec.up,
            settings_m,
            levels_m,
            wish,
            has_effect: (levels_m[2].mid - levels_m[0].mid).abs() > NO_EFFECT_M,
        });
    }
    reports
}

/// The levels that a skimmer in the chamber wants, m, and its name.
fn skimmer_wish(works: &design::Waterworks, basin: BasinId) -> Option<([f64; 2], String)> {
    let skimmer = works.skimmers.iter().find(|s| s.basin == basin && s.depth_mm.is_some())?;
    let [least, most] = skimmer.depth_mm?;
    let levels = [least, most].map(|depth| (skimmer.stand_mm + depth) * 1e-3);
    Some((levels, skimmer.name.clone()))
}

/// What it takes to give a chamber a level (m) by the door of a leaf; `None` when the leaf that is in has
/// no door that sets that chamber.
pub fn set_door(running: &Running<'_>, leaf: &str, basin: BasinId, level_m: f64) -> Option<Wish> {
    let works = running.system.works;
    let spec = works.ways.iter().find(|w| w.leaf == leaf && w.up == basin)?;
    let door = works.ways.iter().find(|w| {
        w.leaf == spec.leaf && w.up == basin && matches!(w.shape, WayShape::Door { .. })
    })?;
    let WayShape::Door { lowest_mm, set_mm, highest_mm, .. } = door.shape else { return None };
    let settings_m = [lowest_mm, set_mm, highest_mm].map(|mm| mm * 1e-3);
    Some(Trial::new(running, leaf, basin).wish(settings_m, level_m, "you".to_owned()))
}

/// Tries settings of one door and flows.
struct Trial<'a> {
    running: Running<'a>,
    /// The door's ways, and their openings' upper edges and widths.
    doors: Vec<usize>,
    pumps: Vec<(usize, f64)>,
    basin: BasinId,
}

impl<'a> Trial<'a> {
    fn new(running: &Running<'a>, leaf: &str, basin: BasinId) -> Self {
        let system = &running.system;
        let doors = system
            .elements(|p| {
                matches!(p, Part::Way { way, kind: design::WayKind::Door, .. }
                    if system.works.ways[*way].leaf == leaf)
            })
            .collect();
        let pumps = system
            .elements(
                |p| matches!(p, Part::Line { line } if system.works.lines[*line].to.is_none()),
            )
            .map(|i| (i, system.network.elements[i].scale))
            .collect();
        Self { running: running.clone(), doors, pumps, basin }
    }

    /// Level of the chamber with the door set at this height, m, and this share of the pumps' flow.
    fn level(&mut self, setting_m: f64, flow_share: f64) -> f64 {
        for &i in &self.doors {
            let Part::Way { way, .. } = self.running.system.parts[i] else { continue };
            let spec = &self.running.system.works.ways[way];
            if let WayShape::Door { bottom_mm, top_mm, width_mm, .. } = spec.shape {
                let [bottom, top, width] =
                    [bottom_mm, top_mm, width_mm * spec.share].map(|mm| mm * 1e-3);
                let low = setting_m.max(bottom).min(top);
                self.running.system.network.elements[i].law = Law::rectangle(low, top, width);
            }
        }
        for &(i, scale) in &self.pumps {
            self.running.system.network.elements[i].scale = scale * flow_share;
        }
        let solved = SteadySolver::new(&self.running.system.network)
            .and_then(|mut solver| self.running.settle(&mut solver));
        if solved.is_ok() { self.running.levels_m[self.basin] } else { f64::NAN }
    }

    fn flow(&mut self, share: f64) -> f64 {
        for &(i, scale) in &self.pumps {
            self.running.system.network.elements[i].scale = scale * share;
        }
        let solved = SteadySolver::new(&self.running.system.network)
            .and_then(|mut solver| self.running.settle(&mut solver));
        if solved.is_ok() { self.running.return_flow() } else { f64::NAN }
    }

    fn wish(&mut self, [lowest, _, highest]: [f64; 3], level_m: f64, whose: String) -> Wish {
        // A higher door never lowers the level before it.
        let (least, most) = (self.level(lowest, 1.0), self.level(highest, 1.0));
        let setting_m = (least <= level_m && level_m <= most)
            .then(|| bisect(lowest, highest, |z| self.level(z, 1.0) >= level_m));
        // More flow never lowers a level: with the highest door it takes the least flow.
        let flows_m3_s = self.flows([lowest, highest], level_m);
        Wish { level_m, whose, setting_m, range_settings_m: None, flows_m3_s }
    }

    /// Settings between which the chamber stands within this range.
    fn range(
        &mut self,
        [lowest, _, highest]: [f64; 3],
        [least, most]: [f64; 2],
    ) -> Option<[f64; 2]> {
        if self.level(highest, 1.0) < least || self.level(lowest, 1.0) > most {
            return None;
        }
        let from = bisect(lowest, highest, |z| self.level(z, 1.0) >= least);
        let to = bisect(lowest, highest, |z| self.level(z, 1.0) > most);
        Some([from, to])
    }

    fn flows(&mut self, [lowest, highest]: [f64; 2], level_m: f64) -> Option<[f64; 2]> {
        let [least, most] = FLOWS;
        if self.level(highest, most) < level_m || self.level(lowest, least) > level_m {
            return None;
        }
        let from = bisect(least, most, |share| self.level(highest, share) >= level_m);
        let to = bisect(least, most, |share| self.level(lowest, share) >= level_m);
        self.level(highest, from);
        let from = self.flow(from);
        self.level(lowest, to);
        Some([from, self.flow(to)])
    }
}

/// Where a claim that is true from some point on becomes true.
fn bisect(mut low: f64, mut high: f64, mut is_reached: impl FnMut(f64) -> bool) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if is_reached(middle) { high = middle } else { low = middle }
    }
    0.5 * (low + high)
}
